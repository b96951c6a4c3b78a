"""The long runs on trials, a few of each: every analysis is asked, and the page tells it."""

from tools.trial_runs import (
    CASES,
    PairRate,
    Rate,
    last_count,
    null_rates,
    page,
    seeds_of_the_trial,
    within,
)


def test_every_analysis_is_run_on_trials_in_which_nothing_differs() -> None:
    told: list[str] = []
    rates = null_rates(2, told.append)
    assert len(told) == len(CASES)
    assert all(0 <= rate.found <= rate.trials == 2 for rate in rates)
    names = {rate.name for rate in rates}
    for wanted in (
        "Latin square, F",
        "any of all pairs (Tukey)",
        "ratings (ordinal), shuffled scores",
    ):
        assert wanted in names
    assert null_rates(2, told.append) == rates


def test_another_seed_is_another_trial_of_the_same_shape() -> None:
    one, other = last_count(1), last_count(2)
    assert len(one.values) == len(other.values) == 38
    assert list(one.values) != list(other.values)
    pairs, sd = seeds_of_the_trial(3, lambda _: None)
    assert len(pairs) == 45
    assert 2 < sd < 12


def test_the_page_says_which_goals_are_met_and_how_many_trials_there_were() -> None:
    rates = [Rate("an analysis", 110, 2000), Rate("another", 30, 300)]
    pairs = [PairRate("Bobbin", "Thimble", 1.0, 0.04, 0.01, 0.06, 0.01),
             PairRate("Bobbin", "Haystack", 25.0, 1.0, 0.9, 0.99, 0.95)]  # fmt: skip
    told = page(rates, [("a planned pair 11 apart", 0.60, 0.61, 2000)], pairs, 6.3, 2000)
    assert "| an analysis | 5.5 % | 2,000 | 4 to 6 % | met |" in told
    assert "| another | 10.0 % | 300 | 4 to 6 % | not met |" in told
    assert "| a planned pair 11 apart | 60.0 % | 61.0 % | met |" in told
    assert "told apart in 4.0 % as a planned pair and in 1.0 % as any pair" in told


def test_a_rate_far_from_its_promise_is_not_within_it() -> None:
    assert within(0.60, 0.61, 2000)
    assert not within(0.50, 0.61, 2000)
