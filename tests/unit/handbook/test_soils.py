"""Soil textures."""

import pytest

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.soils import soil, soil_names


def test_there_are_nine_textures_each_complete_and_in_order() -> None:
    assert len(soil_names()) == 9
    for name in soil_names():
        found = soil(name)
        assert 0 < found.wilting_point < found.field_capacity < 0.5, name
        assert 0 < found.readily_evaporable < found.totally_evaporable, name


def test_middle_of_loam_holds_130_mm_a_metre() -> None:
    loam = soil("loam")

    assert 1000 * (loam.field_capacity - loam.wilting_point) == pytest.approx(130)


@pytest.mark.parametrize("written", ["silty clay loam", "Silty-Clay  Loam", "silty_clay_loam"])
def test_a_texture_is_found_however_it_is_written(written: str) -> None:
    assert soil(written).name == "silty clay loam"


def test_an_unknown_texture_names_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="Did you mean"):
        soil("sandy lome")
