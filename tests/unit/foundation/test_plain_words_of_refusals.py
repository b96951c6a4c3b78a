"""A refusal is written as a person writes: no exponents, and only units that would do."""

import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError, plain_number
from swardbook.foundation.quantities import read_quantity, require


@pytest.mark.parametrize(
    ("number", "words"),
    [(1e7, "10,000,000"), (123456.0, "123,456"), (0.01, "0.01"), (819.2, "819.2"), (-2e6, "-2,000,000")],
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
