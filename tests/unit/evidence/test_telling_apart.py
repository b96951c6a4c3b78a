"""How many to look at, to tell one share from another; statsmodels judges."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.stats.power import NormalIndPower
from statsmodels.stats.proportion import proportion_effectsize

from swardbook.evidence.telling_apart import numbers_to_tell_apart
from swardbook.foundation.errors import OutOfRangeError


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0.8, 0.99))
@settings(deadline=None)
def test_the_number_is_that_of_statsmodels_rounded_up(
    one: float, other: float, power: float
) -> None:
    if not 0.01 < abs(one - other) < 0.6:
        return
    effect = proportion_effectsize(one, other)
    exact = NormalIndPower().solve_power(effect_size=abs(effect), alpha=0.05, power=power)
    assert 0 <= numbers_to_tell_apart(one, other, power=power) - exact < 1.001


@given(st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_neither_which_comes_first_nor_the_side_of_the_half_matters(
    one: float, other: float
) -> None:
    if abs(one - other) < 0.001:
        return
    number = numbers_to_tell_apart(one, other)
    assert number == numbers_to_tell_apart(other, one)
    assert abs(number - numbers_to_tell_apart(1 - one, 1 - other)) <= 1


def test_shares_that_are_none_or_alike_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"40 % is 0\.4"):
        numbers_to_tell_apart(40, 20)
    with pytest.raises(OutOfRangeError, match="difference"):
        numbers_to_tell_apart(0.4, 0.4)
