"""Shuffles within blocks."""

from itertools import permutations, product

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.analysis import analyse_after
from swardbook.trials.permuting import least_p, least_p_of_blocks, shuffle_within_blocks
from swardbook.trials.plots import Factor
from tests.support.trials import expected


def test_shuffles_come_near_to_every_order_there_is() -> None:
    figures = np.array([1.0, 4, 6, 2, 3, 9, 5, 4, 8])
    entry, block = Factor.of("m", "abcabcabc"), Factor.of("b", "111222333")

    def ratio(values: np.ndarray) -> float:
        return analyse_after(values, entry, [block], "").entries.f

    found = ratio(figures)
    orders = [figures[3 * at : 3 * at + 3] for at in range(3)]
    every = [
        ratio(np.concatenate(each)) for each in product(*(permutations(own) for own in orders))
    ]
    exact = np.mean([each >= found * (1 - 1e-9) for each in every])
    made = shuffle_within_blocks(figures, entry, block, shuffles=9999, seed=4)
    assert made.p == pytest.approx(exact, abs=3 * np.sqrt(exact / 9999))


def test_the_same_seed_gives_the_same_chance() -> None:
    figures, entry = np.arange(8.0), Factor.of("m", "abababab")
    first, again = (shuffle_within_blocks(figures, entry, None, seed=7) for _ in range(2))
    assert first == again


def test_no_shuffle_within_blocks_of_one_plot() -> None:
    with pytest.raises(NotEnoughDataError):
        shuffle_within_blocks(np.arange(4.0), Factor.of("m", "abab"), Factor.of("b", "1234"))


def test_few_plots_cannot_show_a_small_chance() -> None:
    want = expected("survey_min_p")
    for name, p in want["crd"].items():
        one, two = (int(each) for each in name.split("v"))
        assert least_p(one, two) == pytest.approx(p, rel=1e-8)
    for blocks, p in want["paired"].items():
        assert least_p_of_blocks(int(blocks)) == pytest.approx(p, rel=1e-8)
