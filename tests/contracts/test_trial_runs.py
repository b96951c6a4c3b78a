"""The long runs on trials, a few of each: every analysis is asked, and the page tells it."""

from pathlib import Path

import numpy as np
import pytest
from tools import trial_runs
from tools.trial_cases import CASES
from tools.trial_runs import Parts, null_rates, seeds_of_the_trial, sizes
from tools.trial_runs_page import Rate, page, within
from tools.trial_seeds import NAMES, SeedSums, count_seeds, last_count, pair_rates


def test_every_analysis_is_run_on_trials_in_which_nothing_differs() -> None:
    told: list[str] = []
    rates = null_rates(2, told.append, Parts(None))
    assert len(told) == len(CASES)
    assert all(0 <= rate.found <= rate.trials and rate.trials in {2, 10} for rate in rates)
    names = {rate.name for rate in rates}
    for wanted in (
        "Latin square, F",
        "any of all pairs (Tukey)",
        "ratings (ordinal), shuffled scores",
        "points, judged by level, any of all pairs",
        "neighbours taken as alike, a pair, t",
    ):
        assert wanted in names
    assert null_rates(2, told.append, Parts(None)) == rates


def test_another_seed_is_another_trial_of_the_same_shape() -> None:
    (one, frames), (other, _) = last_count(1), last_count(2)
    assert len(one.values) == len(other.values) == len(frames) == 38
    assert list(one.values) != list(other.values)
    assert 100 * frames.mean(axis=1) == pytest.approx(one.values)
    assert len(pair_rates(count_seeds(range(1, 4)))) == 45


def test_a_run_that_was_broken_off_goes_on_and_comes_to_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trial_runs, "PART", 2)
    assert sizes(5) == [2, 2, 1]
    state = tmp_path / "state" / "runs.json"
    seeds_of_the_trial(2, lambda _: None, Parts(state))
    assert list(Parts(state).done) == ["seeds 1 2"]
    told = seeds_of_the_trial(3, lambda _: None, Parts(state))
    whole = seeds_of_the_trial(3, lambda _: None, Parts(None))
    assert told.seeds == whole.seeds == 3
    assert np.array_equal(told.planned, whole.planned)
    assert told.means == pytest.approx(whole.means)
    shorter = {name: CASES[name] for name in ("latin", "split")}
    monkeypatch.setattr(trial_runs, "CASES", shorter)
    null_rates(2, lambda _: None, Parts(state))
    broken = null_rates(5, lambda _: None, Parts(state))
    assert broken == null_rates(5, lambda _: None, Parts(None))
    monkeypatch.setattr(trial_runs, "PART", 5)
    assert broken == null_rates(5, lambda _: None, Parts(None))
    monkeypatch.setattr(trial_runs, "code_sum", lambda code: "other code")
    assert Parts(state).done == {}


def sums_of(planned: float) -> SeedSums:
    """Sums in which all is as promised but how often Bobbin and Thimble are told apart."""
    seeds = 2000
    levels = np.linspace(11.0, 45.0, 10)
    levels[1] = levels[0]
    sums = SeedSums(
        seeds, np.zeros((10, 10)), np.zeros((10, 10)), seeds * levels,
        np.full((10, 10), seeds * 0.5), seeds * 40.0, seeds * 0.0066, seeds * 0.0172,
    )  # fmt: skip
    for rate in pair_rates(sums):
        one, two = NAMES.index(rate.one), NAMES.index(rate.two)
        sums.planned[one, two] = seeds * rate.promised
        sums.any_pair[one, two] = seeds * rate.promised_any
    sums.planned[0, 1] = planned * seeds
    return sums


def test_the_page_says_which_goals_are_met_and_how_many_trials_there_were() -> None:
    rates = [Rate("an analysis", 110, 2000), Rate("another", 30, 300)]
    promises = [("a planned pair 11 apart", 0.60, 0.61, 2000)]
    told = page(rates, promises, sums_of(0.04), 2000)
    assert "| an analysis | 5.5 % | 2,000 | 4 to 6 % | met |" in told
    assert "| another | 10.0 % | 300 | 4 to 6 % | not met |" in told
    assert "| a planned pair 11 apart | 60.0 % | 61.0 % | met |" in told
    assert "told apart in 4.0 % as a planned pair and in 0.1 % as any pair" in told
    assert "45 of 45 pairs as planned pairs, 45 of 45 as any pair" in told
    assert "44 of 45 pairs as planned pairs" in page(rates, promises, sums_of(0.20), 2000)


def test_a_rate_far_from_its_promise_is_not_within_it() -> None:
    assert within(0.60, 0.61, 2000)
    assert not within(0.50, 0.61, 2000)
