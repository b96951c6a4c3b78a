"""Go, wait or too late on days to come, north and south, and the conditions of a sowing."""

from datetime import date, timedelta

import numpy as np
import pytest

from swardbook.handbook.species import find_species
from swardbook.husbandry.happenings import Closure
from swardbook.planning.situation import Situation
from swardbook.planning.sow_when import Said, answers_on, conditions, is_kept_damp, whole
from swardbook.planning.sowing import Answer
from swardbook.planning.states import Condition, State
from swardbook.weather.series import DailyWeather
from tests.support.grounds import look, on, seasons, site, weather

TODAY = date(2011, 8, 10)
RYE, FESCUE, BENT, MEADOW = (
    find_species(name)
    for name in (
        "perennial ryegrass", "chewings fescue", "browntop bent", "smooth-stalked meadow-grass",
    )
)  # fmt: skip


def north(years: int = 10, today: date = TODAY) -> Situation:
    return look(today=today, sky=seasons(2011 - years, today))


def answer(sit: Situation, species: object, day: date) -> Answer:
    return answers_on(sit, [species], day)[0].answer  # type: ignore[list-item]


def forecast(*, tmin: float = 8.0, rain: float = 0.0) -> DailyWeather:
    first = TODAY + timedelta(days=1)
    return weather(first, first + timedelta(days=6), tmin=tmin, tmax=18.0, rain=rain)


def states(sit: Situation, said: Said) -> dict[str, State]:
    found = conditions(sit, said, TODAY + timedelta(days=1))
    return {each.name: each.state for each in found}


@pytest.mark.long
def test_the_last_days_follow_the_warmth_each_needs() -> None:
    last = {
        species.key: max(
            day
            for day in (TODAY + timedelta(days=n) for n in range(1, 130))
            if answer(north(), species, day) is Answer.GO
        )
        for species in (RYE, FESCUE, MEADOW)
    }
    assert (
        last["smooth-stalked meadow-grass"] < last["chewings fescue"] < last["perennial ryegrass"]
    )


@pytest.mark.long
def test_once_too_late_it_stays_so_until_the_year_turns() -> None:
    told = [answer(north(), FESCUE, TODAY + timedelta(days=n)) for n in range(1, 140)]
    first = told.index(Answer.TOO_LATE)
    assert set(told[:first]) == {Answer.GO}
    assert set(told[first:]) == {Answer.TOO_LATE}


def test_the_south_half_a_year_on_says_the_same() -> None:
    moved = seasons(2001, TODAY)
    shifted = DailyWeather(
        moved.days + np.timedelta64(184, "D"), moved.tmin, moved.tmax, moved.rain, moved.flags
    )
    today = TODAY + timedelta(days=184)
    south = look(today=today, sky=shifted, at=site(latitude=-52.0))
    for ahead in (5, 30, 90, 120):
        here = answer(north(), FESCUE, TODAY + timedelta(days=ahead))
        there = answer(south, FESCUE, today + timedelta(days=ahead))
        assert here is there


def test_spring_waits_for_soil_and_bent_longest() -> None:
    march = date(2011, 3, 1)
    sit = north(today=march)
    first = {
        species.key: next(
            n for n in range(1, 120) if answer(sit, species, march + timedelta(days=n)) is Answer.GO
        )
        for species in (RYE, FESCUE, BENT)
    }
    assert first["perennial ryegrass"] < first["chewings fescue"] < first["browntop bent"]


def test_few_past_years_say_dont_know_and_the_worst_answer_decides() -> None:
    assert answer(north(years=2), FESCUE, TODAY + timedelta(days=9)) is Answer.UNKNOWN
    late = answers_on(north(), (RYE, MEADOW), date(2011, 10, 10))
    assert whole(late).species == "smooth-stalked meadow-grass"
    assert whole(late).answer is Answer.TOO_LATE


def test_a_forecast_decides_frost_and_rain_on_a_slope() -> None:
    calm = states(north(), Said(slope=0.06, forecast=forecast()))
    assert (calm["frost"], calm["heavy rain on a slope"]) == (State.MET, State.MET)
    rough = states(north(), Said(slope=0.06, forecast=forecast(tmin=-1.0, rain=22.0)))
    assert (rough["frost"], rough["heavy rain on a slope"]) == (State.NOT_MET, State.NOT_MET)
    level = states(north(), Said(slope=0.01, forecast=forecast(rain=22.0)))
    assert level["heavy rain on a slope"] is State.MET


def test_beyond_the_forecast_past_years_are_counted() -> None:
    said = Said(slope=0.06, forecast=forecast())
    found = {
        each.name: each.because for each in conditions(north(), said, TODAY + timedelta(days=1))
    }
    by = "forecast minimum 8 °C by Wed 17 August 2011"
    assert found["frost"] == f"{by}, then frost within 7 days in 0 of 10 past years"
    assert "by Wed 17 August 2011: seed lies; then" in found["heavy rain on a slope"]


def test_a_forecast_frost_stops_a_spring_sowing_and_is_told_of_an_autumn_one() -> None:
    def frost(today: date, cold: date) -> Condition:
        first = today + timedelta(days=1)
        ahead = weather(
            first, first + timedelta(days=6), tmin=lambda day: -2.0 if day == cold else 6.0
        )
        sit = north(today=today)
        return next(
            each for each in conditions(sit, Said(forecast=ahead), first) if each.name == "frost"
        )

    spring, autumn = date(2011, 4, 10), date(2011, 9, 20)
    for today, blocks in ((spring, True), (autumn, False)):
        found = frost(today, today + timedelta(days=4))
        assert (found.state, found.blocks) == (State.NOT_MET, blocks)
    assert frost(autumn, autumn + timedelta(days=1)).blocks


@pytest.mark.parametrize(
    ("said", "damp"),
    [
        (Said(), True),
        (Said(somebody_here=True), True),
        (Said(somebody_here=False), False),
        (Said(is_watered=False), False),
        (Said(is_watered=True, somebody_here=False), True),
    ],
)
def test_a_bed_is_damp_with_a_hose_and_somebody_to_hold_it(said: Said, damp: bool) -> None:
    assert is_kept_damp(north(), said) is damp


def test_a_hose_ban_or_no_hose_leaves_the_bed_to_the_rain() -> None:
    closed = look(
        on(TODAY - timedelta(days=3), Closure(what="hose")), today=TODAY, sky=seasons(2001, TODAY)
    )
    assert not is_kept_damp(closed, Said(somebody_here=True))
    none = look(today=TODAY, sky=seasons(2001, TODAY), at=site(hose_l_min=None))
    assert not is_kept_damp(none, Said(somebody_here=True))
    nobody = {each.name: each for each in conditions(north(), Said(somebody_here=False), TODAY)}
    assert nobody["water"].state is State.NOT_MET
    assert "nobody is here to water" in nobody["water"].because


def test_without_a_forecast_a_slope_is_not_known_and_past_years_are_counted() -> None:
    found = conditions(north(), Said(slope=0.06), TODAY + timedelta(days=1))
    rain = next(each for each in found if each.name == "heavy rain on a slope")
    assert rain.state is State.UNKNOWN
    assert "in 0 of" in rain.because


@pytest.mark.parametrize(
    ("here", "expected"), [(None, State.UNKNOWN), (True, State.MET), (False, State.NOT_MET)]
)
def test_people_are_asked_for(here: bool | None, expected: State) -> None:
    assert states(north(), Said(somebody_here=here))["people"] is expected


def test_a_hose_restriction_means_no_water_by_hose() -> None:
    closed = look(
        on(TODAY - timedelta(days=3), Closure(what="hose")), today=TODAY, sky=seasons(2001, TODAY)
    )
    assert states(closed, Said())["water"] is State.NOT_MET
    assert states(north(), Said(is_watered=False))["water"] is State.NOT_MET
    assert states(north(), Said())["water"] is State.MET
