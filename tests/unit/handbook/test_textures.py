"""The texture triangle is whole: every soil has one name, and each name its place."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.handbook.soils import soil, soil_names
from swardbook.handbook.textures import soil_beside, texture, texture_names

CORNERS: dict[str, list[tuple[float, float]]] = {
    # sand and clay of the corners of each class, as the triangle is drawn
    "sand": [(85, 0), (100, 0), (90, 10)],
    "loamy sand": [(70, 0), (85, 0), (90, 10), (85, 15)],
    "sandy clay loam": [(80, 20), (52, 20), (45, 27), (45, 35), (65, 35)],
    "sandy clay": [(65, 35), (45, 35), (45, 55)],
    "loam": [(52, 7), (43, 7), (23, 27), (45, 27), (52, 20)],
    "silt": [(20, 0), (0, 0), (0, 12), (8, 12)],
    "clay loam": [(45, 27), (20, 27), (20, 40), (45, 40)],
    "silty clay loam": [(20, 27), (0, 27), (0, 40), (20, 40)],
    "silty clay": [(20, 40), (0, 40), (0, 60)],
    "clay": [(45, 40), (20, 40), (0, 60), (0, 100), (45, 55)],
    "sandy loam": [(50, 0), (70, 0), (85, 15), (80, 20), (52, 20), (52, 7), (43, 7)],
    "silt loam": [(50, 0), (20, 0), (8, 12), (0, 12), (0, 27), (23, 27)],
}
ZONES = {name: shapely.Polygon(corners) for name, corners in CORNERS.items()}


@given(st.floats(0, 100), st.floats(0, 100))
def test_every_soil_lies_in_the_field_that_the_drawn_triangle_has(one: float, other: float) -> None:
    clay, sand = sorted((one, other))[0], 100 - sorted((one, other))[1]
    place = shapely.Point(sand, clay)
    if min(zone.boundary.distance(place) for zone in ZONES.values()) < 0.01:
        return
    inside = [name for name, zone in ZONES.items() if zone.contains(place)]
    assert inside == [texture(sand, 100 - sand - clay, clay)]


def test_the_drawn_fields_fill_the_triangle_without_overlap() -> None:
    assert sum(zone.area for zone in ZONES.values()) == pytest.approx(5000)
    assert set(ZONES) == set(texture_names())


@pytest.mark.parametrize("name", texture_names())
def test_every_texture_has_a_soil_with_water_figures_at_hand(name: str) -> None:
    assert soil(soil_beside(name)).field_capacity > 0
    assert soil_beside(name) == name or name not in soil_names()


def test_shares_that_do_not_make_a_whole_are_refused() -> None:
    with pytest.raises(BadInputError, match="make 100"):
        texture(40, 40, 40)
    with pytest.raises(OutOfRangeError):
        texture(-10, 60, 50)
