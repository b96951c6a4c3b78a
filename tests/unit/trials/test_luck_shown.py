"""A shuffle to be watched: figures stay put, mixtures move within their blocks."""

from __future__ import annotations

import numpy as np
import pytest

from swardbook.trials.luck_shown import as_dealt, dealt_anew
from swardbook.trials.plots import Factor

ENTRIES = Factor.of("mixture", ["a", "b", "c"] * 4)
BLOCKS = Factor.of("block", [n // 3 for n in range(12)])
FIGURES = np.array([10.0, 20, 30, 12, 22, 32, 8, 18, 28, 10, 20, 30])


def test_the_trial_as_it_is_has_its_lowest_mean_first() -> None:
    real = as_dealt(FIGURES, ENTRIES)
    assert real.best == "a"
    assert real.gap == pytest.approx(20)
    assert real.entries == ("a", "b", "c") * 4


def test_every_mixture_stays_once_in_every_block() -> None:
    for dealt in dealt_anew(FIGURES, ENTRIES, BLOCKS, 50, 3):
        for block in range(4):
            assert sorted(dealt.entries[3 * block : 3 * block + 3]) == ["a", "b", "c"]


def test_the_same_seed_deals_the_same_and_another_seed_other_shuffles() -> None:
    one = dealt_anew(FIGURES, ENTRIES, BLOCKS, 5, 3)
    assert one == dealt_anew(FIGURES, ENTRIES, BLOCKS, 5, 3)
    assert one != dealt_anew(FIGURES, ENTRIES, BLOCKS, 5, 4)


def test_luck_seldom_parts_mixtures_as_far_as_a_true_difference() -> None:
    gaps = [each.gap for each in dealt_anew(FIGURES, ENTRIES, BLOCKS, 500, 1)]
    assert max(gaps) <= 20 + 1e-9
    # Six of the 6**4 ways put the three in one order in every block.
    assert sum(gap >= 20 - 1e-9 for gap in gaps) / len(gaps) == pytest.approx(6 / 1296, abs=0.02)
