"""Passes over an oblong: how many, where, and how long they take."""

from math import ceil, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box, unary_union

from swardbook.foundation.errors import OutOfRangeError
from swardbook.husbandry.passes import (
    between_lines,
    hours_for,
    over_area,
    over_oblong,
    passes_needed,
)

SIDES, WIDTHS, LINES = st.floats(3, 60), st.floats(0.3, 2), st.floats(-90, 90)


def test_passes_over_a_width_count_the_overlap_between_them_only() -> None:
    assert passes_needed(5.1, 0.51, 0) == 10
    assert passes_needed(5.1, 0.51, 0.05) == ceil(5.05 / 0.46) == 11
    assert passes_needed(0.3, 0.51, 0.05) == 1
    assert passes_needed(0, 0.51, 0.05) == 0


def test_a_court_along_its_long_side() -> None:
    mown = over_oblong((32.0, 25.6), 0.51, 0.05)
    assert mown.number == len(mown.passes) == ceil(25.55 / 0.46) == 56
    assert mown.distance_m == pytest.approx(56 * 32)
    assert mown.turns == 55
    assert hours_for(mown, 1.2, 8) == pytest.approx((56 * 32 / 1.2 + 55 * 8) / 3600)


def test_passes_run_to_and_fro() -> None:
    first, second = over_oblong((10, 4), 0.5, 0.0).passes[:2]
    assert first.start[0] == pytest.approx(0)
    assert first.end[0] == pytest.approx(10)
    assert second.start[0] == pytest.approx(10)
    assert second.length_m == pytest.approx(10)


def test_a_lap_round_the_edge_comes_first_and_leaves_less_inside() -> None:
    mown = over_oblong((10, 5), 0.5, 0.0, laps=1)
    assert mown.number == 8
    assert mown.distance_m == pytest.approx(8 * 9 + 2 * (9.5 + 4.5))
    assert mown.turns == 7 + 4
    inner = {round(each, 6) for line in mown.passes for each in (line.start[0], line.end[0])}
    assert inner == {0.5, 9.5}


def test_laps_alone_cover_what_is_narrow() -> None:
    mown = over_oblong((10, 0.9), 0.5, 0.0, laps=1)
    assert mown.number == 0
    assert mown.distance_m > 0


@given(SIDES, SIDES, WIDTHS, LINES, st.integers(0, 2), st.floats(0, 1))
def test_no_blade_of_grass_is_left_standing(
    one: float, other: float, width: float, line: float, laps: int, shift: float
) -> None:
    """Shapely judges: strips as wide as the machine, and laps, hold the whole oblong."""
    sides = (max(one, other), min(one, other))
    overlap = width * 0.1
    mown = over_oblong(sides, width, overlap, line, laps, shift * width)
    strips = [
        LineString([each.start, each.end]).buffer(width / 2, cap_style="flat")
        for each in mown.passes
    ]
    edge = min(laps * (width - overlap), min(sides) / 2)
    whole = box(edge, edge, sides[0] - edge, sides[1] - edge)
    left = whole.difference(unary_union(strips).buffer(1e-6)) if strips else whole
    assert left.area == pytest.approx(0, abs=1e-3)


@given(SIDES, SIDES, WIDTHS, LINES)
def test_walking_is_no_shorter_than_the_area_over_the_width(
    one: float, other: float, width: float, line: float
) -> None:
    sides = (max(one, other), min(one, other))
    mown = over_oblong(sides, width, 0.0, line)
    assert mown.distance_m >= sides[0] * sides[1] / width - 1e-6
    assert mown.distance_m <= mown.number * hypot(*sides) + 1e-6


def test_an_area_of_unknown_shape_is_taken_for_a_square() -> None:
    mown = over_area(100, 0.5, 0.0)
    assert (mown.number, mown.turns) == (20, 19)
    assert mown.distance_m == pytest.approx(200)
    assert mown.passes == ()


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [(0, 180, 0), (20, -20, 40), (0, 90, 90), (45, -45, 90), (-170, 10, 0), (170, -5, 5)],
)
def test_a_line_is_the_same_whichever_way_it_is_walked(
    one: float, other: float, apart: float
) -> None:
    assert between_lines(one, other) == pytest.approx(apart)


def test_an_overlap_as_wide_as_the_machine_never_ends_and_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="overlap"):
        passes_needed(5, 0.5, 0.5)
    with pytest.raises(OutOfRangeError, match="51 cm is"):
        passes_needed(5, 51, 0.05)
    with pytest.raises(OutOfRangeError, match="walking pace"):
        hours_for(over_area(100, 0.5, 0.05), 40, 8)
