"""Growth in height, and what heights measured here make of it."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.dates import When
from swardbook.husbandry.happenings import Cut, Feed, Reading, Water
from swardbook.planning.leaf_growth import LeafGrowth, Spell, calibrate, leaf_growth
from tests.support.grounds import MAY, look, mild_may, on, weather

FIRST = date(2011, 5, 1)


def days_ago(number: int) -> date:
    return MAY - timedelta(days=number)


def height(back: int, mm: float) -> object:
    return on(days_ago(back), Reading("sward height", mm, "mm"))


def grown(*entries: object, **sky: object) -> LeafGrowth:
    found = leaf_growth(look(*entries, sky=mild_may(**sky)))  # type: ignore[arg-type]
    assert found is not None
    return found


def spells(number: int, ratio: float) -> list[Spell]:
    return [Spell(FIRST, FIRST + timedelta(days=5), 12 * ratio, 12.0) for _ in range(number)]


def test_without_weather_that_reaches_today_growth_is_not_known() -> None:
    assert leaf_growth(look()) is None
    assert leaf_growth(look(sky=mild_may(days_ago(1)))) is None


def test_warmth_water_nitrogen_and_light_each_hold_growth_back() -> None:
    fed = on(days_ago(3), Feed("spring feed", 25.0, 12.0))
    best = grown(fed).rate
    assert grown(fed, tmin=1.0, tmax=8.0).rate < best
    assert grown(fed, rain=0.0).rate < best
    assert grown().rate < best
    assert grown(fed, tmin=-2.0, tmax=2.0).rate == 0


def test_what_holds_growth_back_most_is_named() -> None:
    assert grown(rain=0.0).held_back_by == "water"
    assert grown(tmin=1.0, tmax=8.0).held_back_by == "warmth"


def test_watering_lets_grass_grow_in_a_drought() -> None:
    watered = [on(days_ago(n), Water(depth_mm=6.0)) for n in range(0, 30, 2)]
    assert grown(*watered, rain=0.0).rate > grown(rain=0.0).rate


def test_clippings_boxed_take_nitrogen_away() -> None:
    def cuts(boxed: bool) -> list[object]:
        return [on(days_ago(n), Cut(8.0, boxed)) for n in range(4, 120, 4)]

    assert grown(*cuts(True)).nitrogen < grown(*cuts(False)).nitrogen


def test_no_height_leaves_the_expected_as_it_is_and_unsure() -> None:
    none = calibrate([])
    assert none.ratio == 1
    low, high = none.range(0.9)
    assert low == pytest.approx(1 - 2.5 / 6)
    assert high == pytest.approx(1 + 2.5 / 6)


@given(st.floats(0.2, 2.5), st.integers(1, 30))
def test_few_spells_draw_the_ratio_towards_one_and_many_let_it_go(ratio: float, n: int) -> None:
    few, many = calibrate(spells(n, ratio)), calibrate(spells(n + 1, ratio))
    assert min(ratio, 1) - 1e-9 <= few.ratio <= max(ratio, 1) + 1e-9
    assert abs(many.ratio - ratio) <= abs(few.ratio - ratio) + 1e-9
    assert many.error < few.error


def test_shrinkage_is_that_of_a_normal_prior() -> None:
    """By hand: weight of the prior 1 / s0², of a spell p² / (2 e² + (0.35 p)²)."""
    prior = (2.5 / (2 * 1.6448536 * 3)) ** -2
    weight = 144 / (2 * 1.5**2 + (0.35 * 12) ** 2)
    expected = (prior + 3 * weight * 1.6) / (prior + 3 * weight)
    assert calibrate(spells(3, 1.6)).ratio == pytest.approx(expected, rel=1e-6)


def test_heights_before_and_after_cuts_make_spells() -> None:
    entries = [
        on(days_ago(20), Cut(8.0, True)), height(15, 20.0),
        on(days_ago(15), Cut(8.0, True)), height(10, 19.0), height(5, 31.0),
    ]  # fmt: skip
    found = grown(*entries).measured.spells
    assert [(each.first, each.last, each.grew_mm) for each in found] == [
        (days_ago(20), days_ago(15), 12), (days_ago(15), days_ago(10), 11),
        (days_ago(10), days_ago(5), 12),
    ]  # fmt: skip


def test_a_height_no_higher_than_the_cut_of_its_day_is_taken_after_it() -> None:
    entries = [on(days_ago(15), Cut(8.0, True)), height(15, 9.0), height(10, 19.0)]
    assert [each.grew_mm for each in grown(*entries).measured.spells] == [10]


def test_an_undated_cut_between_leaves_a_spell_out() -> None:
    loose = on(days_ago(14), Cut(8.0, True), days_ago(11))
    entries = [on(days_ago(20), Cut(8.0, True)), loose, height(5, 31.0)]
    assert grown(*entries).measured.spells == ()


def test_measured_growth_moves_the_rate_and_narrows_it() -> None:
    entries = []
    for back in range(60, 4, -8):
        entries += [on(days_ago(back), Cut(8.0, True)), height(back - 6, 10.0)]
    slow, plain = grown(*entries), grown()
    assert slow.rate < plain.rate
    assert slow.rate_range.high - slow.rate_range.low < plain.rate_range.high - plain.rate_range.low


def test_the_south_is_not_read_by_the_month() -> None:
    """A November of the south has the light of a May of the north."""
    from tests.support.grounds import site

    november = date(2011, 11, 22)
    sky = weather(
        november - timedelta(days=365), november, rain=lambda day: 8.0 * (day.day % 4 == 1)
    )
    found = leaf_growth(look(today=november, sky=sky, at=site(latitude=-43.0)))
    assert found is not None
    assert found.light == 1
    entry = on(november, Cut(8.0))
    assert entry.when == When(november, november)
