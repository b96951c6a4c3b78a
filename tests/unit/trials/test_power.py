"""What a trial can show is known before it is sown, and agrees with other programs."""

import json
from math import sqrt
from pathlib import Path

import numpy as np
import pytest

from swardbook.foundation.chance import Chance
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.power import (
    chance_among,
    chance_any,
    chance_pair,
    needed_gap_any,
    needed_gap_pair,
    repeats_for,
)

REFERENCE = json.loads(
    (Path(__file__).parents[2] / "data" / "trial_power.json").read_text(encoding="utf-8")
)


@pytest.mark.parametrize(("cv", "gap", "repeats", "power", "least"), REFERENCE["power"])
def test_the_chance_of_a_planned_pair_agrees_with_the_reference(
    cv: float, gap: float, repeats: int, power: float, least: float
) -> None:
    sed, df = cv * sqrt(2 / repeats), 5 * (repeats - 1)
    assert chance_pair(gap, sed, df) == pytest.approx(power, rel=1e-8)
    assert needed_gap_pair(sed, df) == pytest.approx(least, rel=1e-8)


@pytest.mark.parametrize(("cv", "gap", "wanted"), REFERENCE["repeats_for_80_percent"])
def test_the_repeats_wanted_agree_with_the_reference(cv: float, gap: float, wanted: int) -> None:
    assert repeats_for(gap, cv, 6, 0.8) == wanted


def test_nine_mixtures_in_four_blocks_need_seven_points_planned_and_twelve_for_any_pair() -> None:
    sed = 5 * sqrt(2 / 4)
    assert round(needed_gap_pair(sed, 24), 1) == 7.3
    assert round(needed_gap_any(sed, 24, 9), 1) == 12.0


@pytest.mark.parametrize(
    ("repeats", "power"),
    [(3, 0.411296), (4, 0.613049), (5, 0.766519), (6, 0.868576), (8, 0.964650)],
)
def test_the_chance_of_any_difference_at_all_agrees_with_the_reference(
    repeats: int, power: float
) -> None:
    assert chance_among(2.5, 1.0, repeats, 6, 5 * (repeats - 1)) == pytest.approx(power, abs=1e-6)


def test_the_needed_gap_for_any_pair_is_scipys() -> None:
    from scipy.stats import studentized_range

    for entries, df in ((3, 6), (10, 27), (40, 117)):
        q = float(studentized_range.ppf(0.95, entries, df))
        assert needed_gap_any(1.0, df, entries) == pytest.approx(q / sqrt(2), rel=1e-7)


def test_any_pair_is_found_less_often_than_a_planned_one() -> None:
    for gap in (3.0, 8.0, 20.0):
        assert chance_any(gap, 3.5, 27, 10) < chance_pair(gap, 3.5, 27)


def test_any_pair_takes_more_repeats_and_too_small_a_gap_is_beyond_any() -> None:
    planned, any_pair = (repeats_for(8, 5, 10, 0.8, each) for each in (False, True))
    assert planned is not None
    assert any_pair is not None
    assert planned < any_pair
    assert repeats_for(0.1, 5, 10, 0.8) is None


def test_true_gaps_are_found_as_often_as_is_promised() -> None:
    """8,000 drawn trials of six mixtures in four blocks, one truly two spreads above another."""
    trials, gap, sed, df = 8000, 2.0, sqrt(2 / 4), 15
    chance = Chance(("power",))
    y = chance.normals("trials", trials * 24).reshape(trials, 4, 6)
    y[:, :, 0] += gap
    means = y.mean(axis=1)
    left = y - means[:, None, :] - y.mean(axis=2)[:, :, None] + y.mean(axis=(1, 2))[:, None, None]
    found_sed = np.sqrt((left**2).sum(axis=(1, 2)) / df * 2 / 4)
    apart = np.abs(means[:, 0] - means[:, 1])
    for promised, needed in (
        (chance_pair(gap, sed, df), needed_gap_pair(1.0, df)),
        (chance_any(gap, sed, df, 6), needed_gap_any(1.0, df, 6)),
    ):
        rate = float((apart >= needed * found_sed).mean())
        assert abs(rate - promised) < 3 * sqrt(promised * (1 - promised) / trials)
    nothing = np.abs(means[:, 2] - means[:, 3]) >= needed_gap_pair(1.0, df) * found_sed
    assert abs(float(nothing.mean()) - 0.05) < 3 * sqrt(0.05 * 0.95 / trials)


def test_one_plot_each_shows_nothing() -> None:
    with pytest.raises(NotEnoughDataError):
        needed_gap_pair(1.0, 0)
    with pytest.raises(OutOfRangeError):
        needed_gap_pair(0.0, 12)
    with pytest.raises(OutOfRangeError):
        repeats_for(0, 5, 6, 0.8)
    with pytest.raises(OutOfRangeError):
        repeats_for(5, 5, 6, 1.2)
