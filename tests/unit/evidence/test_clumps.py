"""Counts that clump, counts that do not, and counts that say nothing."""

import numpy as np
import pytest

from swardbook.evidence.clumps import clumping_of
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError


def test_four_frames_are_done_by_hand() -> None:
    made = clumping_of([0, 0, 2, 6])
    assert (made.mean, made.variance) == (2.0, 8.0)
    assert made.variance_to_mean == 4.0
    assert made.morisita == pytest.approx(4 * (2 * 1 + 6 * 5) / (8 * 7))
    assert made.crowding == 5.0
    assert made.exponent == pytest.approx(4 / 6)


def test_plants_that_stand_by_chance_do_not_clump_and_even_ones_have_no_exponent() -> None:
    chance = np.random.Generator(np.random.Philox(key=3))
    made = clumping_of(chance.poisson(5.0, 2000).tolist())
    assert made.morisita == pytest.approx(1.0, abs=0.02)
    assert made.p > 0.01
    assert clumping_of([3, 3, 3, 4]).exponent == float("inf")


def test_too_little_says_nothing() -> None:
    with pytest.raises(NotEnoughDataError):
        clumping_of([0, 1])
    with pytest.raises(OutOfRangeError):
        clumping_of([-1, 4])
