"""Shares and their differences, beside general-purpose libraries and worked cases."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from swardbook.evidence import clopper_pearson, newcombe, wilson
from swardbook.foundation.errors import OutOfRangeError

WORKED = [
    (0, 50, (0.0, 0.071348), (0.0, 0.071122)),
    (1, 50, (0.003539, 0.104954), (0.000506, 0.106470)),
    (3, 50, (0.020615, 0.162171), (0.012549, 0.165482)),
    (12, 100, (0.069994, 0.198121), (0.063569, 0.200236)),
    (37, 100, (0.281824, 0.467795), (0.275567, 0.472352)),
    (199, 200, (0.972226, 0.999117), (0.972458, 0.999873)),
]


@pytest.mark.parametrize(("hits", "n", "score", "exact"), WORKED)
def test_agrees_with_worked_cases_and_scipy(
    hits: int, n: int, score: tuple[float, float], exact: tuple[float, float]
) -> None:
    assert wilson(hits, n) == pytest.approx(score, abs=1e-6)
    assert clopper_pearson(hits, n) == pytest.approx(exact, abs=1e-6)
    judge = binomtest(hits, n)
    assert wilson(hits, n) == pytest.approx(judge.proportion_ci(0.95, "wilson"), abs=1e-9)
    assert clopper_pearson(hits, n) == pytest.approx(judge.proportion_ci(0.95, "exact"), abs=1e-9)


@pytest.mark.parametrize(
    ("hits", "n", "low", "high"),
    [(2, 40, 1, 17), (7, 18, 20, 61), (52, 58, 79, 95), (31, 60, 39, 64), (74, 100, 65, 82)],
)
def test_gives_whole_percents_of_everyday_cases(hits: int, n: int, low: int, high: int) -> None:
    assert [round(100 * end) for end in wilson(hits, n)] == [low, high]


def test_difference_of_dug_clumps_is_34_points() -> None:
    assert [round(100 * end) for end in newcombe(7, 18, 2, 40)] == [12, 57]


@pytest.mark.parametrize("counts", [(7, 18, 2, 40), (52, 58, 31, 60), (0, 10, 5, 10)])
def test_difference_agrees_with_statsmodels(counts: tuple[int, int, int, int]) -> None:
    judge = confint_proportions_2indep(*counts, method="newcomb", compare="diff")
    assert newcombe(*counts) == pytest.approx(judge, abs=1e-9)


SHARES = st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))
LEVELS = st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99])


@given(SHARES, LEVELS)
def test_any_share_has_the_intervals_of_statsmodels(share: tuple[int, int], level: float) -> None:
    for ours, method in ((wilson, "wilson"), (clopper_pearson, "beta")):
        judge = proportion_confint(*share, alpha=1 - level, method=method)
        assert ours(*share, level) == pytest.approx(judge, abs=1e-9)


@given(SHARES, SHARES, LEVELS)
def test_any_difference_of_shares_has_the_interval_of_statsmodels(
    one: tuple[int, int], other: tuple[int, int], level: float
) -> None:
    judge = confint_proportions_2indep(
        *one, *other, method="newcomb", compare="diff", alpha=1 - level
    )
    assert newcombe(*one, *other, level) == pytest.approx(judge, abs=1e-9)


def test_refuses_more_hits_than_trials() -> None:
    with pytest.raises(OutOfRangeError, match="from 0 to 25"):
        wilson(27, 25)
    with pytest.raises(OutOfRangeError, match="above 0"):
        clopper_pearson(0, 0)
    with pytest.raises(OutOfRangeError, match=r"95 % is 0\.95"):
        wilson(1, 25, 95)
