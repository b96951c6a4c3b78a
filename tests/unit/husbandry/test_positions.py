"""Areas from positions: laid in a plane, held against shapely, with an honest error."""

from math import cos, pi, radians
from random import Random

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.husbandry.positions import (
    Position,
    area_of_corners,
    area_of_walk,
    local_metres,
)

MERIDIAN_45_M = 111_131.78
"""Length of a degree of latitude at 45°, WGS 84."""


def on_globe(points: list[tuple[float, float]], latitude: float = 52.0) -> list[Position]:
    """Put points in metres on a ball near a latitude; a judge of its own, right to 0.5 %."""
    north = 111_195.0
    east = north * cos(radians(latitude))
    return [Position(latitude + y / north, 0.4 + x / east) for x, y in points]


def walked(width: float, height: float, step: float) -> list[tuple[float, float]]:
    """Points every so many metres round an oblong."""
    edge = 2 * (width + height)
    found = []
    for n in range(round(edge / step)):
        s = n * step
        if s < width:
            found.append((s, 0.0))
        elif s < width + height:
            found.append((width, s - width))
        elif s < 2 * width + height:
            found.append((2 * width + height - s, height))
        else:
            found.append((0.0, edge - s))
    return found


def test_a_degree_is_as_long_as_the_ellipsoid_has_it() -> None:
    south, north = local_metres([Position(44.5, 7.0), Position(45.5, 7.0)])
    assert north[1] - south[1] == pytest.approx(MERIDIAN_45_M, rel=1e-6)
    west, east = local_metres([Position(0.0, 10.0), Position(0.0, 11.0)])
    assert east[0] - west[0] == pytest.approx(111_319.491, abs=0.001)


@given(
    st.lists(st.tuples(st.floats(0.01, 1), st.floats(0, 0.9)), min_size=3, max_size=8),
    st.floats(-60, 60),
    st.floats(-180, 180),
)
def test_corners_have_the_area_that_shapely_gives_in_the_plane(
    star: list[tuple[float, float]], latitude: float, longitude: float
) -> None:
    n = len(star)
    places = []
    for k, (radius, turn) in enumerate(star):
        angle = 2 * pi * (k + 0.9 * turn) / n
        east = longitude + 4e-4 * (0.2 + radius) * cos(angle) / cos(radians(latitude))
        north = latitude + 4e-4 * (0.2 + radius) * cos(angle - pi / 2)
        places.append(Position(north, (east + 180) % 360 - 180))
    judge = shapely.Polygon(local_metres(places))
    if not judge.is_valid or judge.area < 1:
        return
    assert area_of_corners(places).area_m2 == pytest.approx(judge.area, rel=1e-9)


def test_an_outline_across_the_date_line_is_one_lawn() -> None:
    places = [Position(-17.0, 179.9999), Position(-17.0, -179.9999), Position(-16.9999, -179.9999),
              Position(-16.9999, 179.9999)]  # fmt: skip
    assert area_of_corners(places).area_m2 == pytest.approx(21.3 * 11.07, rel=0.01)


def test_small_lawns_walked_with_a_phone_are_tens_of_percent_out() -> None:
    """Job A01."""
    small = area_of_walk(on_globe(walked(10, 6, 1)))
    large = area_of_walk(on_globe(walked(60, 40, 1)))
    assert small.area_m2 == pytest.approx(60, rel=0.01)
    assert 0.2 < small.share < 0.6
    assert large.share < 0.1


def test_more_points_of_the_same_walk_do_not_make_it_better() -> None:
    few = area_of_walk(on_globe(walked(20, 12, 2))).error_m2
    many = area_of_walk(on_globe(walked(20, 12, 0.5))).error_m2
    assert many == pytest.approx(few, rel=0.05)


def test_points_far_apart_may_cut_the_corners() -> None:
    found = area_of_walk(on_globe(walked(32, 24, 4)))
    assert found.cut_m2 == pytest.approx(4 * 4**2 / 8, rel=0.02)
    assert area_of_corners(on_globe([(0, 0), (32, 0), (32, 24), (0, 24)])).cut_m2 == 0


def test_the_error_of_corners_is_that_of_a_thousand_tries() -> None:
    corners = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)]
    told = area_of_corners(on_globe(corners), accuracy_m=1.51).error_m2 / 1.96
    random = Random(4)
    tries = [
        shapely.Polygon([(x + random.gauss(0, 1), y + random.gauss(0, 1)) for x, y in corners]).area
        for _ in range(1000)
    ]
    mean = sum(tries) / len(tries)
    spread = (sum((each - mean) ** 2 for each in tries) / (len(tries) - 1)) ** 0.5
    assert told == pytest.approx(spread, rel=0.08)


def test_a_walk_past_its_start_and_a_loop_of_standing_about_do_not_count() -> None:
    line = walked(20, 12, 1)
    standing = [(20.5, 5.0), (20.9, 5.6), (20.2, 5.8), (19.6, 5.3), (20.4, 4.9)]
    walk = line[:25] + standing + line[25:] + line[:4]
    assert area_of_walk(on_globe(walk)).area_m2 == pytest.approx(240, rel=0.03)


def test_what_is_no_walk_round_an_edge_is_refused() -> None:
    with pytest.raises(BadInputError, match="all the way round"):
        area_of_walk(on_globe([(0, 0), (10, 0), (20, 1), (30, 0), (40, 2)]))
    with pytest.raises(BadInputError, match="at least four"):
        area_of_walk(on_globe([(0, 0), (10, 0), (5, 8)]))
    with pytest.raises(OutOfRangeError, match="swapped"):
        area_of_corners([Position(100, 52), Position(100, 52.1), Position(100.1, 52)])
    eight = [(0, 0), (5, 5), (10, 10), (15, 5), (15, 15), (10, 10.5), (5, 15), (0, 10), (0, 5)]
    with pytest.raises(BadInputError):
        area_of_walk(on_globe([*eight[:3], (20, 20), (20, 0), (10, 10.2), (0, 20)]))
