"""Numbers and units as people type them; every factor is judged by pint."""

from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.foundation.quantities import (
    FACTORS,
    K_PER_K2O,
    P_PER_P2O5,
    celsius_from_fahrenheit,
    convert,
    read_number,
    read_quantity,
    require,
)

JUDGE: Any = pint.UnitRegistry()
IN_PINT = {
    "g/m2": "g/m**2", "kg/m2": "kg/m**2", "kg/ha": "kg/hectare", "lb/1000ft2": "lb/(1000*ft**2)",
    "oz/yd2": "oz/yd**2", "lb/ac": "lb/(4840*yd**2)", "m2": "m**2", "ha": "hectare",
    "ft2": "ft**2", "yd2": "yd**2", "ac": "4840*yd**2", "m3": "m**3", "yd3": "yd**3",
    "ft3": "ft**3", "gal_uk": "imperial_gallon", "gal_us": "US_liquid_gallon",
    "l": "liter", "ml": "milliliter", "h": "hour", "min": "minute",
    "in": "inch", "ft": "foot", "yd": "yard",
}  # fmt: skip


@pytest.mark.parametrize("unit", FACTORS)
def test_every_factor_agrees_with_pint(unit: str) -> None:
    canonical, factor = FACTORS[unit]
    judged = JUDGE.parse_expression(IN_PINT.get(unit, unit)).to(IN_PINT.get(canonical, canonical))
    assert factor == pytest.approx(judged.magnitude, rel=1e-12)


@pytest.mark.parametrize("unit", FACTORS)
def test_a_canonical_unit_is_its_own(unit: str) -> None:
    canonical, _ = FACTORS[unit]
    assert FACTORS[canonical] == (canonical, 1.0)


def test_temperature_agrees_with_pint() -> None:
    judged = JUDGE.Quantity(31.0, "degF").to("degC").magnitude
    assert celsius_from_fahrenheit(31) == pytest.approx(judged, abs=1e-9)
    assert celsius_from_fahrenheit(-40) == -40


def test_elements_of_oxides_follow_from_the_atomic_weights() -> None:
    phosphorus, potassium, oxygen = 30.973762, 39.0983, 15.999
    assert pytest.approx(2 * phosphorus / (2 * phosphorus + 5 * oxygen), abs=5e-5) == P_PER_P2O5
    assert pytest.approx(2 * potassium / (2 * potassium + oxygen), abs=5e-5) == K_PER_K2O


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("35", 35), ("35.5", 35.5), ("3,5", 3.5), ("819,25", 819.25), (".5", 0.5), (",5", 0.5),
        ("-2", -2), ("−2", -2), ("+2", 2), (" 7 ", 7), ("5.", 5), ("1e3", 1000),
        ("13,800", 13_800), ("1,234,567", 1_234_567), ("1,234.5", 1234.5), ("0,125", 0.125),
        ("1.234,5", 1234.5), ("0", 0),
    ],
)  # fmt: skip
def test_a_number_is_read_as_people_write_it(text: str, number: float) -> None:
    assert read_number(text) == number


@pytest.mark.parametrize(
    "text", ["", "-", "some", "nan", "inf", "-inf", "1e999", "1_000", "1.2.3", "1,2,3", "5 6", "."]
)
def test_what_is_no_number_is_none(text: str) -> None:
    assert read_number(text) is None


@given(st.floats(-1e12, 1e12, allow_nan=False))
def test_a_printed_number_reads_back(number: float) -> None:
    assert read_number(repr(number)) == number


@given(st.integers(0, 10**12))
def test_thousands_as_printed_here_read_back(number: int) -> None:
    assert read_number(f"{number:,}") == number


@pytest.mark.parametrize(
    ("text", "default", "value", "unit"),
    [
        ("35", "g/m2", 35, "g/m2"),
        ("35 g/m²", "g/m2", 35, "g/m2"),
        ("35 g m⁻²", "g/m2", 35, "g/m2"),
        ("35 g m-2", "g/m2", 35, "g/m2"),
        ("350 kg ha⁻¹", "g/m2", 35, "g/m2"),
        ("35 g per m2", "g/m2", 35, "g/m2"),
        ("35 oz/yd²", "g/m2", 1186.70, "g/m2"),
        ("1 lb/1000ft2", "g/m2", 4.8824, "g/m2"),
        ("5/16 in", "mm", 7.9375, "mm"),
        ("5/16in", "mm", 7.9375, "mm"),
        ("1 1/2 inches", "mm", 38.1, "mm"),
        ("-1/2 in", "mm", -12.7, "mm"),
        ("8 cm", "mm", 80, "mm"),
        ("3,5", "mm", 3.5, "mm"),
        ("32 m", "m", 32_000, "mm"),
        ("105 ft", "m", 32_004, "mm"),
        ("0.1 ha", "m2", 1000, "m2"),
        ("1/4 acre", "m2", 1011.714, "m2"),
        ("240 sq m", "m2", 240, "m2"),
        ("13.8 kg", "g", 13_800, "g"),
        ("13.8", "kg", 13_800, "g"),
        ("2 UK gal", "l", 9.09218, "l"),
        ("40 min", "h", 2 / 3, "h"),
        ("480 L", "l", 480, "l"),
    ],
)
def test_a_quantity_is_read_into_its_canonical_unit(
    text: str, default: str, value: float, unit: str
) -> None:
    typed = read_quantity(text, default, "the thing")
    assert typed.value == pytest.approx(value, rel=1e-5)
    assert (typed.unit, typed.text) == (unit, text)


@pytest.mark.parametrize(
    "text", ["", "mm", "much", "1.2.3 mm", "5/0 in", "8/10/2011", "nan", "1 2 mm"]
)
def test_what_is_no_quantity_is_refused(text: str) -> None:
    with pytest.raises(BadInputError):
        read_quantity(text, "mm", "the height")


def test_a_unit_of_something_else_is_refused_and_named() -> None:
    with pytest.raises(BadInputError, match="kg is no mm"):
        read_quantity("8 kg", "mm", "the height")


def test_gallons_are_asked_about_and_never_guessed() -> None:
    with pytest.raises(BadInputError, match=r"UK or US gallons\?"):
        convert(5, "gal")


@pytest.mark.parametrize("value", [float("nan"), -0.1, 1.1, float("inf")])
def test_a_value_outside_its_range_is_refused_with_the_hint(value: float) -> None:
    with pytest.raises(OutOfRangeError, match="Give a fraction"):
        require("purity", value, 0, 1, "-", "Give a fraction.")


def test_a_value_on_the_edge_is_given_back() -> None:
    assert require("purity", 1.0, 0, 1, "-") == 1.0
    with pytest.raises(OutOfRangeError, match="0 or more"):
        require("area", -1, 0, float("inf"), "m2")
