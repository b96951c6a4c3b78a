"""A refusal is written as a person writes: no exponents, and only units that would do."""

import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError, plain_number
from swardbook.foundation.quantities import known_unit, read_quantity, require


@pytest.mark.parametrize(
    ("number", "words"),
    [(1e7, "10,000,000"), (123456.0, "123,456"), (0.01, "0.01"), (819.2, "819.2"),
     (-2e6, "-2,000,000")],
)  # fmt: skip
def test_a_number_is_written_without_an_exponent(number: float, words: str) -> None:
    assert plain_number(number) == words


def test_a_limit_of_ten_million_is_written_out() -> None:
    with pytest.raises(OutOfRangeError, match=r"is 20,000,000, but must be from 0\.01 to 10,000,"):
        require("area", 2e7, 0.01, 1e7, "m2")
    with pytest.raises(OutOfRangeError, match=r"must be 0 or more \[h\]"):
        require("hours", -1.0, 0, float("inf"), "h")


@pytest.mark.parametrize("text", ["30 furlongs", "30 h"])
def test_a_wrong_unit_is_told_the_units_of_that_quantity_alone(text: str) -> None:
    with pytest.raises(BadInputError) as told:
        read_quantity(text, "mm", "depth")
    assert told.value.allowed == "a number in mm, cm, m, in, ft, yd"


def test_a_gallon_asks_whose() -> None:
    with pytest.raises(BadInputError, match="UK or US gallons"):
        read_quantity("3 gal", "l", "water")


@pytest.mark.parametrize(
    ("words", "unit"),
    [
        ("oz per sq yd", "oz/yd2"), ("oz/sq. yd", "oz/yd2"), ("ounces per square yard", "oz/yd2"),
        ("lb/1000 sq ft", "lb/1000ft2"), ("lbs per 1,000 sq ft", "lb/1000ft2"),
        ("lb per thousand square feet", "lb/1000ft2"), ("g/m²", "g/m2"), ("gms per sq m", "g/m2"),
        ('"', "in"), ("ins", "in"), ("inches", "in"), ("hrs", "h"), ("kilos", "kg"),
        ("furlongs", ""), ("", ""),
    ],
)  # fmt: skip
def test_a_unit_is_known_in_the_words_of_an_old_notebook(words: str, unit: str) -> None:
    assert known_unit(words) == unit


def test_a_height_in_parts_of_an_inch_is_read() -> None:
    assert read_quantity('1 1/4"', "mm", "height").value == pytest.approx(31.75)
