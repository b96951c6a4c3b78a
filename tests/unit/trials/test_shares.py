"""Shares are judged as angles and told as shares."""

from math import asin, pi, sqrt

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.analysis import analyse
from swardbook.trials.dunnett import against_control
from swardbook.trials.means import Means
from swardbook.trials.pairs import all_pairs, planned_p
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.power import chance_any, chance_pair, needed_gap_pair
from swardbook.trials.shares import (
    SharePair,
    ShareSpread,
    angle_of,
    by_level,
    judged_by_level,
    share_of,
    slope,
)

LEVELS = np.array([10.0, 12.0, 25.0, 25.0, 45.0])


def trial(levels: Array = LEVELS) -> tuple[Means, Means, Array]:
    """Five mixtures in four blocks, plots spread as counts of 100 points do."""
    chance = np.random.Generator(np.random.Philox(key=21))
    entry = Factor.of("mixture", [f"m{n % 5}" for n in range(20)])
    block = Factor.of("block", [n // 5 for n in range(20)])
    figures = chance.binomial(100, levels[entry.codes] / 100).astype(float)

    def made(values: Array) -> Means:
        return analyse(PlotTable(tuple(map(str, range(20))), entry, values, block)).means

    angular = made(angle_of(figures / 100, 100.0))
    return judged_by_level(made(figures), figures, np.full(20, 100.0), made), angular, figures


def test_the_angle_is_that_of_the_published_formula() -> None:
    assert angle_of(np.array(0.25), 100.0) == pytest.approx(asin(sqrt(25.375 / 100.75)), abs=1e-15)
    assert angle_of(np.array(0.5), 40.0) == pytest.approx(pi / 4, abs=1e-15)
    assert 0 < float(angle_of(np.array(0.0), 100.0)) < 0.07


@pytest.mark.parametrize("share", [0.0, 0.03, 0.5, 0.97, 1.0])
def test_an_angle_gives_its_share_back(share: float) -> None:
    assert share_of(angle_of(np.array(share), 100.0), 100.0) == pytest.approx(share, abs=1e-12)
    assert share_of(np.array(0.0), 100.0) == 0.0


def test_the_slope_is_what_a_small_step_of_the_angle_moves() -> None:
    share, step = np.array([0.02, 0.3, 0.9]), 1e-6
    moved = share_of(angle_of(share, 50.0) + step, 50.0) - share
    assert moved / step == pytest.approx(slope(share, 50.0), rel=1e-5)


def test_means_are_told_as_found_and_pairs_are_judged_as_their_angles() -> None:
    means, angular, figures = trial()
    own = [figures[np.arange(20) % 5 == at].mean() for at in range(5)]
    assert means.values == pytest.approx(own)
    angles = angle_of(means.values / 100, 100.0)
    t = np.abs(means.values[:, None] - means.values) / np.where(means.errors > 0, means.errors, 1)
    told = np.abs(angles[:, None] - angles) / np.where(angular.errors > 0, angular.errors, 1)
    assert t == pytest.approx(told)
    assert planned_p(means)[0, 4] < 0.001


def test_pairs_where_little_is_covered_need_less() -> None:
    means, _, _ = trial()
    needed = all_pairs(means).needed_by_all()
    assert needed[0, 1] < needed[2, 3] < needed[3, 4]
    low, high = (means.own_interval(at) for at in (0, 4))
    assert high.high - high.low > 1.3 * (low.high - low.low)
    assert means.only([0, 4]).errors[0, 1] == means.errors[0, 4]
    assert against_control(means, "m4").errors[0] == means.errors[0, 4]


def test_two_means_alike_have_the_error_of_their_level() -> None:
    means, angular, _ = trial()
    alike = Means(means.names, np.full(5, 25.0), means.covariance, means.df, means.plots)
    made = by_level(alike, angular, 100.0)
    assert made.errors[0, 1] == pytest.approx(
        100 * float(slope(np.array(0.25), 100.0)) * angular.errors[0, 1]
    )


def test_a_spread_is_parted_into_counting_and_ground() -> None:
    spread = ShareSpread.of(0.06, 0.2, 0.0172)
    assert spread.sd(0.2) == pytest.approx(0.06)
    assert spread.ground == pytest.approx((0.0036 / 0.16 - 0.0172) / 0.16)
    assert spread.sd(0.05) < 0.06 < spread.sd(0.5)
    narrow = ShareSpread.of(0.03, 0.2, 0.0172)
    assert narrow.ground == 0
    assert narrow.sd(0.2) == pytest.approx(0.03)
    with pytest.raises(OutOfRangeError):
        ShareSpread.of(0.05, 1.0, 0.01)


def test_near_the_level_of_the_spread_the_promise_is_that_of_one_spread() -> None:
    spread, sed = ShareSpread.of(0.05, 0.3, 0.0172), 0.05 * sqrt(0.5)
    pair = SharePair(0.27, 0.33, spread, 0.5, 27, 1e6)
    assert pair.chance() == pytest.approx(chance_pair(0.06, sed, 27), abs=0.004)
    assert pair.chance(10) == pytest.approx(chance_any(0.06, sed, 27, 10), abs=0.004)
    assert pair.needed() == pytest.approx(needed_gap_pair(sed, 27), rel=0.03)


def test_a_gap_where_little_is_covered_is_found_more_often() -> None:
    spread = ShareSpread.of(0.065, 0.22, 0.0172)
    low, high = (
        SharePair(at, at + 0.1, spread, 0.5, 27, 100) for at in (0.08, 0.4)
    )  # fmt: skip
    assert low.chance() > high.chance() + 0.15
    assert low.needed(10) < high.needed(10)
    alike = SharePair(0.11, 0.11, spread, 0.5, 27, 100)
    assert 0.03 < alike.chance() < 0.05
    with pytest.raises(NotEnoughDataError):
        SharePair(0.1, 0.2, spread, 2.0, 0, 100).chance()
