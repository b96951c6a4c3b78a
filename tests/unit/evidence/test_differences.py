"""Differences and ratios of two figures, held to another library and to what they claim."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.rates import confint_poisson_2indep

from swardbook.evidence.counts import density, poisson_exact
from swardbook.evidence.differences import difference_of_densities, ratio_interval
from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import OutOfRangeError


@pytest.mark.parametrize(
    ("first", "second"), [((10, 11, 10, 11, 10, 11), (4, 5, 4, 5)), ((3, 2, 3), (9, 8, 9, 8))]
)
@pytest.mark.parametrize("level", [0.8, 0.95])
def test_even_counts_agree_with_statsmodels(
    first: tuple[int, ...], second: tuple[int, ...], level: float
) -> None:
    area = 0.01
    found = difference_of_densities(
        density(first, [area] * len(first)), density(second, [area] * len(second)), level
    )
    low, high = confint_poisson_2indep(
        sum(first), area * len(first), sum(second), area * len(second),
        method="mover", compare="diff", method_mover="exact-c", alpha=1 - level,
    )  # fmt: skip
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)


def test_clumped_seedlings_are_held_about_as_often_as_claimed() -> None:
    chance = np.random.default_rng(20111008)
    sown, blank, k, held, tries = 80.0, 11.0, 6.0, 0, 60
    for _ in range(tries):
        one = chance.negative_binomial(k, k / (k + sown), 12).tolist()
        two = chance.negative_binomial(k, k / (k + blank), 6).tolist()
        found = difference_of_densities(density(one, [0.01] * 12), density(two, [0.01] * 6))
        held += not found.excludes((sown - blank) / 0.01)
    assert 0.88 <= held / tries <= 1.0


@given(st.integers(1, 500), st.integers(1, 500))
def test_a_ratio_of_counts_agrees_with_statsmodels_or_is_wider_where_few_were_counted(
    first: int, second: int
) -> None:
    one, two = poisson_exact(first), poisson_exact(second)
    found = ratio_interval(first, one, second, two)
    low, high = confint_poisson_2indep(
        first, 1.0, second, 1.0, method="mover", compare="ratio", method_mover="exact-c"
    )
    if two.high < 2 * second:
        assert (found.low, found.high) == pytest.approx((low, high), rel=1e-7)
    else:
        assert found.low <= low
        assert found.high == pytest.approx(high, rel=1e-7)


def test_a_ratio_to_what_is_certain_keeps_the_first_ones_range() -> None:
    found = ratio_interval(7300, Interval(5000, 9600), 21_000, Interval(21_000, 21_000))
    assert (found.low, found.high) == pytest.approx((5000 / 21_000, 9600 / 21_000))


def test_a_ratio_to_what_may_be_nothing_has_no_upper_end() -> None:
    found = ratio_interval(7300, Interval(5000, 9600), 100, Interval(0, 900))
    assert found.low < 73
    assert found.high == inf
    with pytest.raises(OutOfRangeError, match="below the line"):
        ratio_interval(7300, Interval(5000, 9600), 0, Interval(0, 900))
