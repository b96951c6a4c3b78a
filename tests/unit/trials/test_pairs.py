"""All pairs, planned pairs, group marks and the control."""

from collections.abc import Callable

import numpy as np
import pytest
from scipy.stats import dunnett, studentized_range

from swardbook.foundation.errors import OutOfRangeError, UnknownNameError
from swardbook.trials.analysis import analyse
from swardbook.trials.dunnett import against_control
from swardbook.trials.means import Means
from swardbook.trials.pairs import all_pairs, all_pairs_of, group_marks, planned_p, planned_pairs
from swardbook.trials.plots import Factor, PlotTable
from swardbook.trials.studentised import studentised_range
from tests.support.trials import expected, reference
from tests.unit.trials.test_analysis import CASES, without_one


@pytest.mark.parametrize(("case", "table"), CASES.items(), ids=CASES)
def test_all_pairs_and_their_marks_are_those_of_two_programs(
    case: str, table: Callable[[], PlotTable]
) -> None:
    means, want = analyse(table()).means, expected(case)
    found = all_pairs(means)
    for pair, p in want["tukey_p"].items():
        one, two = (means.place(name) for name in pair.split(" - "))
        assert found.p[one, two] == pytest.approx(p, abs=reference()[case]["tolerance"]["p_abs"])
    assert found.needed(0, 1) == pytest.approx(want["hsd05"], rel=4e-8)
    for letters, p in (("letters_tukey", found.p), ("letters_lsd", planned_p(means))):
        marks = dict(zip(means.names, group_marks(means, p), strict=True))
        for first in means.names:
            for second in means.names:
                share = bool(set(marks[first]) & set(marks[second]))
                assert share == bool(set(want[letters][first]) & set(want[letters][second]))


def test_marks_are_given_best_first() -> None:
    means = Means(("low", "high"), np.array([1.0, 9.0]), np.eye(2), np.full((2, 2), 9.0),
                  np.array([4, 4]))  # fmt: skip
    p = np.array([[1.0, 0.01], [0.01, 1.0]])
    assert group_marks(means, p) == ["b", "a"]
    assert group_marks(means, p, lower_first=True) == ["a", "b"]


@pytest.mark.parametrize("seed", range(40))
def test_two_share_a_mark_exactly_where_they_are_not_told_apart(seed: int) -> None:
    chance = np.random.Generator(np.random.Philox(key=seed))
    count = 7
    p = np.ones((count, count))
    upper = np.triu_indices(count, 1)
    p[upper] = chance.uniform(size=len(upper[0])) * 0.15
    p = np.minimum(p, p.T)
    values = chance.normal(size=count)
    means = Means(tuple("abcdefg"), values, np.eye(count), np.full((count, count), 9.0),
                  np.full(count, 4))  # fmt: skip
    marks = group_marks(means, p)
    for one in range(count):
        for two in range(one):
            assert bool(set(marks[one]) & set(marks[two])) == (p[one, two] >= 0.05)


@pytest.mark.parametrize("means", [2, 5, 10, 20])
@pytest.mark.parametrize("df", [3.0, 9.4, 25.0, 400.0])
def test_the_studentised_range_is_that_of_another_program(means: int, df: float) -> None:
    q = np.array([0.1, 1.0, 2.5, 4.0, 6.0, 15.0])
    own = studentised_range(means, df)
    assert own.chance(q) == pytest.approx(studentized_range.sf(q, means, df), abs=1e-9)
    assert own.quantile(0.05) == pytest.approx(studentized_range.ppf(0.95, means, df), rel=1e-7)


def test_a_range_of_one_mean_or_of_no_error_has_no_meaning() -> None:
    with pytest.raises(OutOfRangeError):
        studentised_range(1, 10)
    with pytest.raises(OutOfRangeError):
        studentised_range(3, 0)


def test_planned_pairs_are_taken_by_themselves() -> None:
    means = analyse(CASES["immer"]()).means
    (pair,) = planned_pairs(means, [("V", "P")])
    assert pair.value == pytest.approx(-3.3583, abs=1e-4)
    low, high = pair.interval(0.90)
    assert [low, high] == pytest.approx([-13.84, 7.12], abs=5e-3)
    with pytest.raises(UnknownNameError):
        planned_pairs(means, [("V", "nothing")])


@pytest.mark.parametrize("sizes", [(4, 4, 4, 4), (6, 3, 5, 4, 4)])
def test_each_against_the_control_is_what_another_program_finds(sizes: tuple[int, ...]) -> None:
    chance = np.random.Generator(np.random.Philox(key=11))
    groups = [chance.normal(0.8 * at, 1.0, size) for at, size in enumerate(sizes)]
    names = [f"g{at}" for at, size in enumerate(sizes) for _ in range(size)]
    table = PlotTable(
        tuple(map(str, range(len(names)))), Factor.of("m", names), np.concatenate(groups)
    )
    made = against_control(analyse(table).means, "g0")
    judge = dunnett(*groups[1:], control=groups[0], rng=np.random.default_rng(1))
    assert made.p == pytest.approx(judge.pvalue, abs=0.002)
    span = judge.confidence_interval(0.95)
    low, high = np.asarray(span.low), np.asarray(span.high)
    for at in range(len(sizes) - 1):
        assert made.interval(at) == pytest.approx((low[at], high[at]), abs=0.02)


def test_a_missing_plot_widens_only_its_own_pairs() -> None:
    means = analyse(without_one()).means
    found, at = all_pairs(means), means.place("E")
    other = found.needed(means.place("F"), means.place("G"))
    assert found.needed(at, means.place("F")) > other
    assert found.needed_by_all()[at, means.place("F")] == pytest.approx(
        found.needed(at, means.place("F"))
    )
    made = against_control(means, "E")
    assert np.all(made.p >= planned_p(means)[at][np.arange(8) != at] - 1e-9)


def test_several_sets_of_means_at_once_are_what_each_is_alone() -> None:
    several = [analyse(CASES[case]()).means for case in ("immer", "strawberry")]
    several.append(analyse(without_one()).means)
    for together, alone in zip(all_pairs_of(several), several, strict=True):
        assert together.p == pytest.approx(all_pairs(alone).p)
