"""Mend or start again: bands with doubt, costs from own jobs, and what is withheld."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.evidence import Estimate, Interval
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.workings import Workings
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Brush, Count, Dress, Scarify, Sow
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.routes import Route, band_of, own_rates, risk_word, route_costs
from swardbook.review.keepers import grass_worth_keeping, is_worth_keeping
from tests.support.books import LOT, MAIN, SHORT, SITE, TODAY, entry


def share(value: float, low: float, high: float) -> Estimate:
    nothing = Workings("", "", "", (), (), ())
    return Estimate(value, Interval(low, high), "%", 0.95, 24, "points", nothing)


def ground(*diary: DiaryEntry) -> Ground:
    return Ground(SITE, (MAIN, SHORT), lots=(LOT,), diary=diary)


def counted(day: date, *found: dict[str, float], number: int = 900) -> DiaryEntry:
    places = tuple(PlaceCount(f"P{n}", Method.POINTS, each, 25) for n, each in enumerate(found))
    return entry(number, Count(places), day)


def test_thirty_eight_percent_is_the_middle_band_with_little_doubt() -> None:
    """Job B5."""
    band = band_of(share(38, 29, 47))
    assert band.route is Route.RENOVATE
    assert band.doubt == "with little doubt"
    assert risk_word(band.regret[Route.RENOVATE]) == "low"
    assert risk_word(band.regret[Route.OVERSOW]) == "high"
    assert risk_word(band.regret[Route.START_AGAIN]) == "high"


def test_a_share_on_a_border_says_so() -> None:
    band = band_of(share(49, 40, 58))
    assert band.route is Route.RENOVATE
    assert band.doubt == "on the edge of two bands"
    assert band.chances[Route.OVERSOW] == pytest.approx(0.4, abs=0.05)


def test_creeping_perennials_throughout_start_again_whatever_the_share() -> None:
    assert band_of(share(70, 60, 80), creeping=True).route is Route.START_AGAIN


@given(st.floats(0, 100), st.floats(0, 30), st.floats(0, 30))
def test_chances_make_a_whole_and_more_grass_never_speaks_for_a_harder_route(
    middle: float, below: float, above: float
) -> None:
    low, high = max(middle - below, 0), min(middle + above, 100)
    band = band_of(share(middle, low, high))
    assert sum(band.chances.values()) == pytest.approx(1)
    more = band_of(share(min(middle + 5, 100), min(low + 5, 100), min(high + 5, 100)))
    order = list(Route)
    assert order.index(more.route) <= order.index(band.route)


def test_routes_cost_more_the_harder_they_are_and_double_on_double_the_ground() -> None:
    mild, hard, anew = route_costs(ground(), MAIN)
    for one, two in ((mild, hard), (hard, anew)):
        assert one.hours.middle < two.hours.middle
        assert one.money.middle < two.money.middle
        assert one.weeks.middle < two.weeks.middle
    twice = route_costs(ground(), replace(MAIN, area_m2=2 * MAIN.area_m2))
    assert twice[1].hours.middle == pytest.approx(2 * hard.hours.middle)
    assert twice[1].money.high == pytest.approx(2 * hard.money.high)
    for each in (mild, hard, anew):
        assert each.hours.low < each.hours.middle < each.hours.high
        assert each.seed_money.middle == pytest.approx(each.seed_kg.middle * 9.80)


def test_own_jobs_replace_the_defaults_by_kind_and_area() -> None:
    jobs = [
        entry(n, Scarify(4, passes=2), date(2011, 8, n), hours=hours, money=Decimal(90))
        for n, hours in ((1, 8.0), (2, 10.0), (3, 9.0))
    ]
    hours, money = own_rates(ground(*jobs), "scarify", 800)
    assert sorted(hours) == pytest.approx([each / 16.384 for each in (8, 9, 10)])
    assert money == pytest.approx([90 / 16.384] * 3)
    renovate = route_costs(ground(*jobs), MAIN)[1]
    job = next(each for each in renovate.jobs if each.job == "scarify")
    assert job.own_hours == 3
    assert job.hours.middle == pytest.approx(3 * 4.5)
    assert job.hours.low == pytest.approx(3 * 4.5 * 0.8), "alike jobs still vary"
    first = next(each for each in route_costs(ground(jobs[0]), MAIN)[1].jobs
                 if each.job == "scarify")  # fmt: skip
    assert first.hours.high / first.hours.middle == pytest.approx(1.2 / 0.7), "one job: default's"


def test_jobs_on_a_scrap_of_ground_or_of_another_sort_are_no_measure() -> None:
    plots = [entry(n, Sow("BB-0417", 30, 4.8), hours=0.5) for n in range(1, 4)]
    large = entry(9, Sow("BB-0417", 30), hours=3.0)
    assert own_rates(ground(*plots, large), "sow", 800)[0] == pytest.approx([3 / 8.192])
    assert len(own_rates(ground(*plots), "sow", 800)[0]) == 3
    other = (entry(1, Dress("rootzone", None, 25), hours=9.0), entry(2, Brush("brush"), hours=0.5))
    assert own_rates(ground(*other), "dress", 800)[0] == []
    assert own_rates(ground(*other), "brush", 800)[0] == []


KEPT = {"browntop bent": 6.0, "sown": 3.0, "poa annua": 9.0, "bare": 2.0}


def test_sown_kinds_count_together_place_by_place() -> None:
    found = grass_worth_keeping(ground(counted(TODAY, *[KEPT] * 8)), MAIN.name, TODAY)
    assert found.estimate.value == pytest.approx(36)
    assert found.places == 8
    assert found.creeping_share == 0


def test_creepers_are_no_grass_worth_keeping_and_are_told() -> None:
    assert not is_worth_keeping("creeping bent")
    assert not is_worth_keeping("rough-stalked meadow-grass")
    assert is_worth_keeping("chewings fescue")
    assert not is_worth_keeping("moss")
    crept = {**KEPT, "couch": 4.0}
    found = grass_worth_keeping(ground(counted(TODAY, *[crept] * 6, *[KEPT] * 2)), MAIN.name, TODAY)
    assert found.creeping_share == pytest.approx(0.75)


@pytest.mark.parametrize(
    ("diary", "words"),
    [
        ([], "no count of it"),
        ([counted(TODAY, *[{"poa annua": 9.0}] * 8)], "no count of it"),
        ([counted(TODAY, *[KEPT] * 3)], "at 3 places"),
        ([counted(date(2010, 6, 1), *[KEPT] * 8)], "no count of it"),
        ([counted(date(2011, 8, 1), *[KEPT] * 8), entry(5, Sow("BB-0417", 30), date(2011, 9, 1))],
         "before the ground was worked"),
        ([entry(1, Count(tuple(PlaceCount(f"P{n}", Method.PLANTS, {"sown": 9.0}, 1)
                               for n in range(8))), TODAY)], "of plants, which tells no share"),
    ],
)  # fmt: skip
def test_without_a_count_that_tells_it_there_is_no_share(
    diary: list[DiaryEntry], words: str
) -> None:
    with pytest.raises(NotEnoughDataError, match=words):
        grass_worth_keeping(ground(*diary), MAIN.name, TODAY)


def test_none_left_is_none_not_unknown() -> None:
    diary = counted(TODAY, *[{"sown": 0.0, "bare": 9.0}] * 8)
    assert grass_worth_keeping(ground(diary), MAIN.name, TODAY).estimate.value == 0
