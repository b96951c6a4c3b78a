"""A tape's figures become an area."""

from itertools import pairwise
from math import dist, pi

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import trapezoid
from shapely import affinity

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.husbandry.areas import between_offsets, circle, ellipse, oblong, outline, triangle

SIDES = st.floats(0.1, 500)


def test_the_main_court_is_819_square_metres() -> None:
    assert oblong(32.0, 25.6) == pytest.approx(819.2)


@pytest.mark.parametrize(
    ("corners", "area"),
    [
        ([(0, 0), (12, 0), (12, 5), (7, 5), (7, 9), (0, 9)], 88.0),
        ([(0, 0), (10, 1), (12, 7), (4, 9), (-1, 4)], 81.5),
    ],
)
def test_a_shape_taped_in_triangles_from_one_corner_agrees_with_its_corners(
    corners: list[tuple[float, float]], area: float
) -> None:
    """The L shape folds back on itself, so a triangle outside it counts against it."""
    total = 0.0
    for one, other in pairwise(corners[1:]):
        turn = np.sign(one[0] * other[1] - one[1] * other[0])
        sides = dist(corners[0], one), dist(one, other), dist(corners[0], other)
        total += turn * triangle(*sides) if turn else 0.0
    assert total == pytest.approx(area, abs=1e-9)


def test_a_circle_of_8_metres() -> None:
    assert circle(8.0) == pytest.approx(50.27, abs=0.005)


def test_offsets_agree_with_the_trapezium_rule_of_numpy() -> None:
    offsets = [0, 4.2, 5.6, 6.1, 5.3, 3.9, 0]
    assert between_offsets(offsets, 2.0) == pytest.approx(50.2)
    assert between_offsets(offsets, 2.0) == pytest.approx(np.trapezoid(offsets, dx=2.0))


@given(st.lists(st.floats(0, 60), min_size=2, max_size=40), st.floats(0.2, 10))
def test_any_offsets_agree_with_the_trapezium_rule_of_scipy(
    offsets: list[float], every: float
) -> None:
    judge = float(trapezoid(offsets, dx=every))
    if judge > 1e-6:
        assert between_offsets(offsets, every) == pytest.approx(judge, rel=1e-12)


@given(st.lists(st.tuples(st.floats(-90, 90), st.floats(-90, 90)), min_size=3, max_size=3))
def test_any_three_sides_have_the_area_that_shapely_gives_their_triangle(
    corners: list[tuple[float, float]],
) -> None:
    judge = shapely.Polygon(corners)
    sides = [dist(corners[n], corners[n - 1]) for n in range(3)]
    if judge.area > 0.01 * max(sides) ** 2 and min(sides) > 0.01:
        assert triangle(*sides) == pytest.approx(judge.area, rel=1e-6)


@given(SIDES, st.floats(0.2, 1))
def test_circles_and_ellipses_have_the_area_that_shapely_gives_a_polygon_of_many_corners(
    across: float, flat: float
) -> None:
    ring = shapely.Point(0, 0).buffer(across / 2, quad_segs=2000)
    assert circle(across) == pytest.approx(ring.area, rel=1e-6)
    pressed = affinity.scale(ring, 1, flat)
    assert ellipse(across, flat * across) == pytest.approx(pressed.area, rel=1e-6)


@given(SIDES, SIDES)
def test_half_an_oblong_is_a_triangle(one: float, other: float) -> None:
    half = triangle(one, other, dist((0, 0), (one, other)))
    assert half == pytest.approx(oblong(one, other) / 2, rel=1e-3)


@given(SIDES)
def test_a_circle_fills_less_than_its_square(across: float) -> None:
    assert circle(across) / oblong(across, across) == pytest.approx(pi / 4)


def test_sides_that_do_not_meet_are_refused_with_the_likely_slip() -> None:
    with pytest.raises(BadInputError, match="Measure the longest again"):
        triangle(3, 4, 8)


def test_nothing_measured_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        oblong(0, 4)
    with pytest.raises(BadInputError, match="at least two"):
        between_offsets([3.0], 2.0)
    with pytest.raises(OutOfRangeError):
        between_offsets([0, 0], 2.0)


CORNERS = st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=9)


@given(CORNERS)
def test_an_outline_has_the_area_and_edge_that_shapely_gives_or_is_refused(
    corners: list[tuple[float, float]],
) -> None:
    judge = shapely.Polygon(corners)
    try:
        area, edge = outline(corners)
    except (BadInputError, OutOfRangeError):
        ring = shapely.LinearRing(corners) if len(set(corners)) > 1 else None
        assert not judge.is_valid or judge.area < 1e-6 or ring is None or _grazes(corners)
        return
    assert area == pytest.approx(judge.area, rel=1e-9, abs=1e-9)
    assert edge == pytest.approx(judge.length, rel=1e-12)


def _grazes(corners: list[tuple[float, float]]) -> bool:
    """Tell whether a corner touches another edge, which an outline on the ground does not."""
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    return any(
        shapely.LineString(one).distance(shapely.LineString(other)) < 1e-6
        for n, one in enumerate(edges)
        for other in edges[n + 2 : len(edges) - (n == 0)]
    )


def test_two_corners_swapped_are_noticed() -> None:
    with pytest.raises(BadInputError, match=r"edges \d and \d cross"):
        outline([(0, 0), (10, 0), (0, 8), (10, 8)])
    with pytest.raises(BadInputError, match="at least three"):
        outline([(0, 0), (10, 0)])
    with pytest.raises(OutOfRangeError, match="line"):
        outline([(0, 0), (5, 0), (10, 0)])


def test_an_ellipse_as_wide_as_long_is_a_circle() -> None:
    assert ellipse(6, 6) == circle(6)


def test_corners_along_a_straight_side_are_no_crossing() -> None:
    corners = [(0, 0), (5, 0), (10, 0), (15, 0), (15, 6), (10, 6), (5, 6), (0, 6)]
    assert outline(corners) == (90.0, 42.0)
