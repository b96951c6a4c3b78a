"""The survey: edges of the texture triangle as defined, and lengths of a degree."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import dist

from swardbook.foundation.provenance import Grade
from swardbook.handbook.textures import texture
from swardbook.husbandry.positions import FLATTENING, Position, local_metres
from tests.support.checks import Check

HALVINGS = 40


def edge(name: str, held: str, at: float, moved: str, inside: float, outside: float) -> float:
    """Find where a class ends when one share is held and another moved; the third is the rest."""
    rest = ({"sand", "silt", "clay"} - {held, moved}).pop()
    for _ in range(HALVINGS):
        middle = (inside + outside) / 2
        shares = {held: at, moved: middle, rest: 100 - at - middle}
        if texture(shares["sand"], shares["silt"], shares["clay"]) == name:
            inside = middle
        else:
            outside = middle
    return inside


def degree(latitude: float, *, east: bool) -> float:
    """Length of a degree at a latitude, from a hundredth of one [m]."""
    step = 0.005
    ends = (
        (Position(latitude, -step), Position(latitude, step))
        if east
        else (Position(latitude - step, 0), Position(latitude + step, 0))
    )
    return dist(*local_metres(ends)) / (2 * step)


EDGES: list[tuple[str, str, str, float, str, float, float, float]] = [
    # id, class, share held, at, share moved, a place inside, a place outside, the edge as defined
    ("clay_least_clay", "clay", "sand", 30, "clay", 60, 30, 40),
    ("clay_most_sand", "clay", "clay", 45, "sand", 30, 50, 45),
    ("clay_most_silt", "clay", "clay", 45, "silt", 20, 50, 40),
    ("clay_loam_least_clay", "clay loam", "sand", 30, "clay", 35, 10, 27),
    ("clay_loam_most_clay", "clay loam", "sand", 30, "clay", 35, 60, 40),
    ("clay_loam_least_sand", "clay loam", "clay", 30, "sand", 30, 5, 20),
    ("clay_loam_most_sand", "clay loam", "clay", 30, "sand", 30, 60, 45),
    ("silty_clay_loam_least_clay", "silty clay loam", "sand", 10, "clay", 35, 10, 27),
    ("silty_clay_loam_most_clay", "silty clay loam", "sand", 10, "clay", 35, 60, 40),
    ("silty_clay_least_silt", "silty clay", "clay", 45, "silt", 50, 20, 40),
    ("silty_clay_least_clay", "silty clay", "sand", 10, "clay", 45, 30, 40),
    ("sandy_clay_least_clay", "sandy clay", "sand", 55, "clay", 40, 25, 35),
    ("sandy_clay_least_sand", "sandy clay", "clay", 40, "sand", 55, 30, 45),
    ("sandy_clay_loam_least_clay", "sandy clay loam", "sand", 60, "clay", 30, 10, 20),
    ("sandy_clay_loam_most_clay", "sandy clay loam", "sand", 60, "clay", 30, 40, 35),
    ("sandy_clay_loam_most_silt", "sandy clay loam", "clay", 24, "silt", 20, 45, 28),
    ("sandy_clay_loam_least_sand", "sandy clay loam", "clay", 30, "sand", 60, 30, 45),
    ("loam_least_silt", "loam", "clay", 22, "silt", 40, 10, 28),
    ("loam_most_silt", "loam", "clay", 15, "silt", 40, 70, 50),
    ("loam_most_sand", "loam", "clay", 15, "sand", 40, 60, 52),
    ("loam_least_clay", "loam", "sand", 46, "clay", 15, 2, 7),
    ("loam_most_clay", "loam", "sand", 40, "clay", 20, 35, 27),
    ("silt_least_silt", "silt", "clay", 5, "silt", 90, 60, 80),
    ("silt_most_clay", "silt", "silt", 84, "clay", 5, 15, 12),
    ("silt_loam_least_silt", "silt loam", "clay", 20, "silt", 60, 40, 50),
    ("silt_loam_most_clay", "silt loam", "silt", 60, "clay", 20, 35, 27),
    ("silt_loam_most_silt", "silt loam", "clay", 5, "silt", 60, 90, 80),
    ("sand_most_silt", "sand", "clay", 0, "silt", 5, 25, 15),
    ("sand_most_clay", "sand", "silt", 0, "clay", 5, 14, 10),
    ("loamy_sand_most_silt", "loamy sand", "clay", 0, "silt", 20, 40, 30),
    ("loamy_sand_most_clay", "loamy sand", "silt", 0, "clay", 12, 18, 15),
    ("sandy_loam_most_clay", "sandy loam", "sand", 60, "clay", 15, 30, 20),
    ("sandy_loam_least_sand", "sandy loam", "clay", 10, "sand", 60, 45, 52),
    ("sandy_loam_most_silt", "sandy loam", "clay", 3, "silt", 40, 60, 50),
]


def _edge(id_: str) -> Callable[[], float]:
    _, name, held, at, moved, inside, outside, _ = next(row for row in EDGES if row[0] == id_)
    return partial(edge, name, held, at, moved, inside, outside)


TRIANGLE = [
    Check(f"texture_{id_}", f"{id_.replace('_', ' ')}, at {at:g} % {held} [%]", "benham_2009",
          f"definition of {name}", expected, 0.001, Grade.PUBLISHED, _edge(id_))
    for id_, name, held, at, _, _, _, expected in EDGES
]  # fmt: skip

GLOBE = [
    Check("wgs84_eccentricity", "first eccentricity squared [-]", "wgs84",
          "derived constants", 0.00669437999014, 1e-13, Grade.DEFINED,
          lambda: FLATTENING * (2 - FLATTENING)),
    Check("degree_north_0", "a degree of latitude at the equator [m]", "degree_length_series",
          "as printed", 110_574, 1, Grade.PUBLISHED, lambda: degree(0, east=False)),
    Check("degree_east_0", "a degree of longitude at the equator [m]", "degree_length_series",
          "as printed", 111_320, 1, Grade.PUBLISHED, lambda: degree(0, east=True)),
    # 111132.92 - 559.82 cos 2φ + 1.175 cos 4φ - 0.0023 cos 6φ
    Check("degree_north_45", "a degree of latitude at 45° [m]", "degree_length_series",
          "series", 111_131.745, 0.1, Grade.PUBLISHED, lambda: degree(45, east=False)),
    Check("degree_north_52", "a degree of latitude at 52° [m]", "degree_length_series",
          "series", 111_267.31, 0.1, Grade.PUBLISHED, lambda: degree(52, east=False)),
    # 111412.84 cos φ - 93.5 cos 3φ + 0.118 cos 5φ
    Check("degree_east_45", "a degree of longitude at 45° [m]", "degree_length_series",
          "series", 78_846.81, 0.1, Grade.PUBLISHED, lambda: degree(45, east=True)),
    Check("degree_east_52", "a degree of longitude at 52° [m]", "degree_length_series",
          "series", 68_677.99, 0.1, Grade.PUBLISHED, lambda: degree(52, east=True)),
    Check("second_north_0", "a second of latitude at the equator [m]", "degree_length_series",
          "as printed", 30.715, 0.001, Grade.PUBLISHED, lambda: degree(0, east=False) / 3600),
]  # fmt: skip

CHECKS: list[Check] = [*TRIANGLE, *GLOBE]
