"""Seventy-four of a hundred is 74 %, 65 to 82."""

import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.seed import read_test


def test_74_of_100() -> None:
    found = read_test(74, 100)
    assert found.share == 0.74
    assert (round(100 * found.low), round(100 * found.high)) == (65, 82)


def test_fewer_seeds_are_less_sure() -> None:
    few, many = read_test(15, 20), read_test(75, 100)
    assert few.high - few.low > many.high - many.low


@pytest.mark.parametrize(("up", "seeds"), [(101, 100), (-1, 100), (0, 0)])
def test_a_test_that_cannot_be_is_refused(up: int, seeds: int) -> None:
    with pytest.raises(BadInputError, match="seeds up, of seeds set"):
        read_test(up, seeds)
