"""What is wrong: causes in order from signs and weather."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError
from swardbook.handbook.troubles import signs, troubles
from swardbook.husbandry.happenings import Cut, Feed, Happening, Reading, Sow
from swardbook.planning.situation import Situation, situation
from swardbook.planning.states import State
from swardbook.planning.trouble_weather import CONDITIONS, fits
from swardbook.planning.troubles import Diagnosis, Signs, count_grubs, diagnose, read_signs
from swardbook.weather.series import DailyWeather
from tests.support.grounds import ZONE, ground, on, weather

OCTOBER = date(2011, 10, 12)
COOL = {"tmin": 6.0, "tmax": 12.0, "rain": 2.0}
_SKIES: dict[tuple[float | None, date], DailyWeather] = {}


def sky(humidity: float | None = 93.0, today: date = OCTOBER) -> DailyWeather:
    if (humidity, today) not in _SKIES:
        first = today - timedelta(days=120)
        _SKIES[humidity, today] = weather(first, today, humidity=humidity, **COOL)
    return _SKIES[humidity, today]


def here(
    *done: tuple[int, Happening], sown: int | None = 400, humidity: float | None = 93.0,
    today: date = OCTOBER,
) -> Situation:  # fmt: skip
    entries = [on(today - timedelta(days=back), what) for back, what in done]
    if sown is not None:
        entries.append(on(today - timedelta(days=sown), Sow("BB-0417", 30.0)))
    return situation(ground(*entries), ZONE, sky(humidity, today), today)


def found(*seen: str, not_seen: tuple[str, ...] = (), sit: Situation | None = None) -> Diagnosis:
    return diagnose(sit or here(), read_signs(seen, not_seen))


def test_pink_threads_are_red_thread_wherever_they_are_seen() -> None:
    first = found("pink threads").causes[0]
    assert (first.trouble.key, first.likelihood) == ("red_thread", "likely")
    assert first.speaks_for == ("pink threads",)


@pytest.mark.parametrize("key", list(troubles()))
def test_the_usual_signs_of_a_trouble_bring_it_to_the_first_two(key: str) -> None:
    named = [each.trouble.key for each in found(*troubles()[key].usual).causes[:2]]
    assert key in named or key == "slow_seed"


def test_orange_patches_in_cool_wet_days_are_microdochium_and_without_humidity_only_possible() -> (
    None
):
    first = found("orange patches").causes[0]
    assert (first.trouble.key, first.likelihood) == ("microdochium", "likely")
    dry = found("orange patches", sit=here(humidity=None)).causes[0]
    assert (dry.trouble.key, dry.likelihood) == ("microdochium", "possible")
    wet = next(each for each in dry.weather if each.name == "wet")
    assert wet.state is State.UNKNOWN
    assert "humidity" in wet.because


def test_with_no_sign_and_no_humidity_what_wants_wet_leaves_is_not_known() -> None:
    told = found(sit=here(humidity=None))
    wanting = [each for each in told.causes if "wet" in each.trouble.weather]
    assert wanting
    assert {each.likelihood for each in wanting} == {"don't know"}
    assert told.sentence.startswith("No sign was said")


def test_late_nitrogen_and_a_young_sward_make_microdochium_likelier() -> None:
    def share(sit: Situation) -> float:
        told = found("straw patches", sit=sit)
        return next(each.share for each in told.causes if each.trouble.key == "microdochium")

    fed = here((20, Feed("Autumn", 40.0, 10.0)), sown=100)
    first = diagnose(fed, read_signs(["straw patches"])).causes[0]
    assert [each.state for each in first.favours] == [State.MET, State.MET]
    assert share(fed) > share(here(sown=100)) > share(here(sown=400))


def test_a_sign_looked_for_in_vain_speaks_against() -> None:
    def chafers(told: Diagnosis) -> float:
        return next(each.share for each in told.causes if each.trouble.key == "chafers")

    assert chafers(found("lifts", not_seen=("curved grubs",))) < chafers(found("lifts"))


def test_seedlings_that_topple_in_the_first_weeks_are_damping_off() -> None:
    first = found("seedlings toppled", sit=here(sown=20)).causes[0]
    assert (first.trouble.key, first.likelihood) == ("damping_off", "likely")
    assert "nitrogen" in first.trouble.not_do


def test_bare_places_soon_after_sowing_may_only_be_slow_seed() -> None:
    names = [each.trouble.key for each in found("seedlings missing", sit=here(sown=10)).causes]
    assert "slow_seed" in names
    old = found("seedlings missing", sit=here(sown=50))
    assert "slow_seed" not in [each.trouble.key for each in old.causes[:1]]


def test_signs_that_fit_nothing_together_leave_something_else_open() -> None:
    told = found("rings", "footprints stay", "cotton", "spongy")
    assert told.causes[0].likelihood != "likely"
    assert told.other_share > 0.1


def test_the_next_sign_was_not_looked_for_before() -> None:
    told = found("yellowing", not_seen=("legless grubs",))
    assert told.next_sign
    assert told.next_sign not in {"yellowing", "legless grubs"}


def test_each_condition_says_met_not_met_or_dont_know_with_a_reason() -> None:
    empty = situation(ground(), ZONE, None, OCTOBER)
    for name in CONDITIONS:
        assert fits(empty, name).because
        assert fits(here(), name).because
    for name in ("wet", "cool", "mild", "limey", "downpour", "too early", "moist ground"):
        assert fits(empty, name).state is State.UNKNOWN


def test_conditions_read_the_diary() -> None:
    sit = here((3, Feed("Spring", 20.0, 10.0)), (2, Cut(8.0)), (5, Reading("pH", 7.4)))
    for name in ("after feed", "after cut", "limey"):
        assert fits(sit, name).state is State.MET
    assert fits(here(), "after feed").state is State.NOT_MET
    assert fits(here(sown=20), "first weeks").state is State.MET


def test_warm_damp_days_are_dollar_spot_weather_and_cold_or_unknown_ones_are_not() -> None:
    july = date(2011, 7, 20)

    def told(low: float, high: float, humidity: float | None) -> tuple[State, State]:
        air = weather(july - timedelta(days=20), july, tmin=low, tmax=high, rain=0.0,
                      humidity=humidity)  # fmt: skip
        sit = situation(ground(), ZONE, air, july)
        return fits(sit, "dollar spot weather").state, fits(sit, "brown patch weather").state

    assert told(20, 26, 95) == (State.MET, State.MET)
    assert told(14, 22, 85) == (State.MET, State.NOT_MET)
    assert told(10, 16, 60) == (State.NOT_MET, State.NOT_MET)
    assert told(0, 8, 100)[0] is State.NOT_MET, "colder than it was made for"
    assert told(14, 22, None) == (State.UNKNOWN, State.UNKNOWN)
    assert told(14, 22, float("nan")) == (State.UNKNOWN, State.UNKNOWN)


def test_grubs_are_set_against_their_number_with_the_chance_of_a_small_count() -> None:
    """Seven in a square of six inches are 28 a square foot: within the range, so not called."""
    one = count_grubs("leatherjackets", 7, 1, 152.4)
    assert one.per_m2 == pytest.approx(301.4, abs=0.1)
    assert one.verdict == "too close to call"
    assert count_grubs("leatherjackets", 0, 4, 150).verdict == "below it"
    assert count_grubs("leatherjackets", 60, 4, 150).verdict == "above it"
    assert count_grubs("chafers", 30, 2, 300).verdict == "above it"


def test_a_count_that_cannot_be_is_told() -> None:
    with pytest.raises(BadInputError, match="leatherjackets or chafers"):
        count_grubs("worms", 3, 4, 150)
    with pytest.raises(BadInputError, match="0 or more"):
        count_grubs("chafers", -1, 4, 300)
    with pytest.raises(ValueError, match="15 cm is 150 mm"):
        count_grubs("chafers", 1, 4, 15)
    with pytest.raises(BadInputError, match="not both"):
        read_signs(["casts"], ["casts"])


@settings(deadline=None, max_examples=25)
@given(st.lists(st.sampled_from(list(signs())), unique=True, max_size=5), st.randoms())
def test_shares_add_up_to_no_more_than_one_and_order_does_not_matter(
    seen: list[str], order: object
) -> None:
    told = found(*seen)
    assert sum(each.share for each in told.causes) + told.other_share <= 1 + 1e-9
    mixed = list(seen)
    order.shuffle(mixed)  # type: ignore[attr-defined]
    again = diagnose(here(), Signs(tuple(mixed)))
    assert [each.trouble.key for each in again.causes] == [each.trouble.key for each in told.causes]
