"""Ranges narrowed by what plots measured: never wider, never past the prior, honest about luck."""

import numpy as np
import pytest
from numpy.typing import NDArray

from swardbook.handbook.parameters import parameter
from swardbook.model.chance import Chance
from swardbook.model.draws import Constants, draw_constants, value_at
from swardbook.model.narrowing import Narrowed, Reading, narrow, range_of, weigh

KEY, OTHER = "model.sown.bent.cover_50", "model.sown.ryegrass.cover_50"
DRAWS, OFF = 4096, 0.3
SCORES = draw_constants((KEY, OTHER), DRAWS, Chance(("a trial",))).scores
MIXTURES = np.array([0.4, 0.9, 1.4])
"""How strongly the cover of each of three mixtures hangs on the first number."""
Array = NDArray[np.float64]


def _cover(score: Array) -> Array:
    return np.asarray(1 / (1 + np.exp(0.2 - MIXTURES[:, None] * -score)))


FORETOLD = _cover(SCORES[KEY])


def _read(truth: float, error: float, source: np.random.Generator | None = None) -> Reading:
    share = _cover(np.array([truth]))[:, 0]
    if source is not None:
        odds = np.log(share / (1 - share)) + OFF * source.standard_normal()
        odds = odds + OFF * source.standard_normal(3)
        share = 1 / (1 + np.exp(-odds)) + error * source.standard_normal(3)
    return Reading(share, np.full(3, error), FORETOLD)


def _narrowed(*readings: Reading, off: float = OFF) -> Narrowed:
    return narrow(SCORES, weigh([readings], off))


def _of(found: Narrowed, key: str) -> tuple[float, float]:
    return next(((e.shift, e.scale) for e in found.ranges if e.key == key), (0.0, 1.0))


def test_what_plots_measured_moves_the_number_they_hang_on_and_no_other() -> None:
    found = _narrowed(_read(1.0, 0.02))
    shift, scale = _of(found, KEY)
    assert shift == pytest.approx(1.0, abs=0.35)
    assert scale < 0.6
    assert _of(found, OTHER) == (0.0, 1.0)


def test_more_plots_narrow_more() -> None:
    scales = [_of(_narrowed(_read(0.5, 0.2 / np.sqrt(plots)), off=0.02), KEY)[1]
              for plots in (3, 6, 12, 48)]  # fmt: skip
    assert scales == sorted(scales, reverse=True)
    assert len(set(scales)) == 4


def test_a_trial_that_says_nothing_changes_nothing() -> None:
    assert _narrowed(_read(2.0, 50.0)).ranges == ()
    assert narrow(SCORES, weigh([], OFF) * np.ones(DRAWS) / DRAWS).ranges == ()


def test_a_range_never_grows_and_never_leaves_what_its_distribution_can_give() -> None:
    for truth in (-3.0, -1.0, 0.0, 2.5):
        for each in _narrowed(_read(truth, 0.01), off=0.05).ranges:
            assert 0 < each.scale <= 1
            reach = value_at(parameter(each.key), np.array([-8.0, 8.0]))
            low, middle, high = range_of(each.key, each)
            assert reach[0] < low < middle < high < reach[1]


def test_days_of_one_thing_weigh_as_one_and_a_common_misreading_teaches_less() -> None:
    once, thrice = _read(1.0, 0.02), [_read(1.0, 0.02)] * 3
    assert np.allclose(weigh([[once]], OFF), weigh([thrice], OFF))
    sure, unsure = (_of(_narrowed(once, off=off), KEY)[1] for off in (0.1, 0.8))
    assert sure < unsure


def test_a_drawn_trial_finds_the_draw_it_came_from_as_often_as_it_says() -> None:
    source = np.random.Generator(np.random.Philox(key=11))
    truths = source.standard_normal(400)
    inside = 0
    for truth in truths:
        shift, scale = _of(_narrowed(_read(float(truth), 0.02, source)), KEY)
        inside += abs(truth - shift) <= 1.6449 * scale
    error = np.sqrt(0.9 * 0.1 / 400)
    assert abs(inside / 400 - 0.9) <= 3 * error


def test_draws_taken_from_a_narrowed_range_stay_in_it_and_others_as_they_were() -> None:
    found = _narrowed(_read(1.0, 0.02))
    plain, moved = Constants(SCORES, DRAWS), Constants(SCORES, DRAWS, ranges=found.ranges)
    low, _, high = range_of(KEY, found.ranges[0])
    assert np.quantile(moved[KEY], (0.05, 0.95)) == pytest.approx((low, high), rel=0.02)
    assert np.array_equal(plain[OTHER], moved[OTHER])
