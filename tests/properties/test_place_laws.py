"""Laws of places: tapes and phones go there and back, areas and insides agree with a judge."""

from math import atan2, cos, dist, pi, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError
from swardbook.husbandry import places
from swardbook.husbandry.areas import Point, ellipse, find_crossing, triangle
from swardbook.husbandry.positions import Position
from swardbook.husbandry.where import Outline

shapely = pytest.importorskip("shapely")

metres = st.floats(-60, 60, allow_nan=False).map(lambda x: round(x, 3))
points = st.tuples(metres, metres)


@given(points, points, points)
def test_a_place_measured_by_two_tapes_is_found_again_on_one_side(
    one: Point, other: Point, place: Point
) -> None:
    assume(dist(one, other) > 1.0)
    found = places.from_tapes(one, dist(one, place), other, dist(other, place))
    assert min(dist(found.left, place), dist(found.right, place)) < 1e-3
    assert found.within_m > 0


@given(st.floats(-60, 60), st.floats(-179, 179), points, st.floats(-180, 180))
def test_a_place_goes_to_the_globe_and_back(
    latitude: float, longitude: float, place: Point, north: float
) -> None:
    origin = Position(latitude, longitude)
    back = places.from_phone(origin, places.to_globe(origin, place, north), north)
    assert dist(back, place) < 1e-4


@given(points, points, st.floats(0, 50), st.floats(-50, 50))
def test_along_and_off_a_side_is_as_far_as_it_says(
    start: Point, end: Point, along: float, off: float
) -> None:
    assume(dist(start, end) > 1.0)
    found = places.from_side(start, end, along, off)
    assert dist(start, found) == pytest.approx((along**2 + off**2) ** 0.5, abs=1e-9)


@st.composite
def rings(draw: st.DrawFn) -> tuple[Point, ...]:
    corners = draw(st.lists(points, min_size=3, max_size=9, unique=True))
    if draw(st.booleans()):  # in order round the middle: seldom crosses
        x, y = (sum(each[n] for each in corners) / len(corners) for n in (0, 1))
        corners.sort(key=lambda each: atan2(each[1] - y, each[0] - x))
    return tuple(corners)


@given(rings(), points)
def test_area_and_inside_agree_with_a_judge_and_crossed_outlines_are_refused(
    ring: tuple[Point, ...], place: Point
) -> None:
    judge = shapely.Polygon(ring)
    assume(judge.area > 1e-3)
    if not judge.is_valid:
        with pytest.raises(BadInputError):
            Outline(ring)
        return
    assume(find_crossing(ring) is None)  # edges that only touch are refused here
    assert Outline(ring).area_m2 == pytest.approx(judge.area)
    assume(judge.exterior.distance(shapely.Point(place)) > 1e-6)
    assert places.is_inside(place, (ring,)) == judge.contains(shapely.Point(place))


@given(st.floats(0.5, 60), st.floats(0.5, 60))
def test_an_oval_encloses_the_area_of_its_ellipse(long: float, short: float) -> None:
    assert shapely.Polygon(places.oval(long, short)).area == pytest.approx(ellipse(long, short))


@given(st.floats(1, 60), st.floats(1, 60), st.floats(0.1, pi - 0.1))
def test_a_triangle_of_three_sides_has_their_area(base: float, left: float, turn: float) -> None:
    right = dist((base, 0), (left * cos(turn), left * sin(turn)))
    corners = places.triangle_corners(base, right, left)
    assert shapely.Polygon(corners).area == pytest.approx(triangle(base, right, left), rel=1e-6)
