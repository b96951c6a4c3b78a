"""What knowing something is worth before choosing: against closed forms, bounds and nothing."""

import numpy as np
import pytest
from scipy.stats import beta, betabinom, binom, norm

from swardbook.evidence.knowing import (
    Array,
    Knowing,
    best_of,
    standard_error,
    worth_of_everything,
    worth_of_knowing,
)
from swardbook.foundation.errors import OutOfRangeError
from swardbook.model.chance import Chance

CHANCE = Chance(("knowing",))
DRAWS = 8192
GROUPS = (np.arange(DRAWS) // 64) % 16


def unit_normal_loss(u: float) -> float:
    """Mean loss beyond u of a standard normal (Raiffa and Schlaifer 1961)."""
    return float(norm.pdf(u) - u * norm.sf(u))


def two_actions(middle: float, spread: float) -> tuple[Array, Array]:
    """Give an unknown, and the losses of leaving it alone and of taking it."""
    unknown = middle + spread * CHANCE.normals("unknown", DRAWS)
    luck = 5 * CHANCE.normals("luck of both", DRAWS)
    own = CHANCE.normals("luck of the second", DRAWS)
    return unknown, np.stack([luck, luck + unknown + own])


@pytest.mark.parametrize("middle", [0.0, 0.5, -1.0])
@pytest.mark.parametrize("error", [0.5, 1.0, 2.0])
def test_normal_data_on_two_linear_actions_are_worth_the_closed_form(
    middle: float, error: float
) -> None:
    unknown, losses = two_actions(middle, 2.0)
    shown = unknown + error * CHANCE.normals("error", DRAWS)
    found = worth_of_knowing(losses, shown[None], GROUPS)
    known = 2.0**2 / np.hypot(2.0, error)
    assert abs(found.worth - known * unit_normal_loss(abs(middle) / known)) < 3 * found.error
    assert abs(found.changes - norm.sf(abs(middle) / known)) < 0.05


@pytest.mark.parametrize("tried", [1, 5, 20])
def test_hits_on_a_beta_prior_are_worth_what_counting_through_every_result_gives(
    tried: int,
) -> None:
    first, second, level = 2.0, 3.0, 0.45
    share = np.asarray(beta.ppf(CHANCE.uniforms("share", DRAWS), first, second))
    shown = np.asarray(binom.ppf(CHANCE.uniforms("shown", DRAWS), tried, share))
    losses = np.stack([np.zeros(DRAWS), 10 * (share - level)])
    results = np.arange(tried + 1)
    chance = betabinom.pmf(results, tried, first, second)
    after = 10 * ((first + results) / (first + second + tried) - level)
    exact = np.sum(chance * np.maximum(-after, 0)) - max(-np.sum(chance * after), 0)
    found = worth_of_knowing(losses, shown[None], GROUPS)
    assert abs(found.worth - exact) < 3 * found.error


@pytest.mark.parametrize("middle", [0.0, 1.0])
def test_an_unknown_itself_is_worth_the_closed_form_of_perfect_information(middle: float) -> None:
    unknown, losses = two_actions(middle, 2.0)
    found = worth_of_knowing(losses, unknown[None], GROUPS)
    assert abs(found.worth - 2 * unit_normal_loss(middle / 2)) < 3 * found.error


@pytest.mark.parametrize("number", range(20))
def test_what_has_nothing_to_do_with_it_is_worth_nothing_even_where_two_are_level(
    number: int,
) -> None:
    _, losses = two_actions(0.0, 1.0)
    unrelated = CHANCE.normal_rows(f"unrelated {number}", 3, DRAWS)
    found = worth_of_knowing(losses, unrelated, GROUPS)
    assert found.worth < 3 * max(found.error, 1e-9)


def test_over_many_unrelated_measurements_the_mean_worth_is_not_above_nothing() -> None:
    _, losses = two_actions(0.0, 1.0)
    worths = [
        worth_of_knowing(losses, CHANCE.normal_rows(f"more {n}", 2, DRAWS), GROUPS).worth
        for n in range(40)
    ]
    assert np.mean(worths) < 2 * np.std(worths) / np.sqrt(len(worths)) + 1e-9


def test_refitting_on_the_same_draws_would_have_called_noise_worth_something() -> None:
    _, losses = two_actions(0.0, 1.0)
    few = losses[:, :256]
    noise = CHANCE.normal_rows("noise", 20, 256)
    slopes, *_ = np.linalg.lstsq(noise.T, few[1] - few[0], rcond=None)
    said = noise.T @ slopes
    naive = float(np.mean(np.maximum(-said, 0)))
    honest = worth_of_knowing(few, noise[:5], GROUPS[:256])
    assert naive > 0.1
    assert honest.worth < 3 * max(honest.error, 1e-9)


def test_no_knowledge_is_worth_more_than_knowing_everything_in_any_draw() -> None:
    unknown, losses = two_actions(0.3, 1.0)
    everything = worth_of_everything(losses, GROUPS)
    for facts in (unknown[None], losses, CHANCE.normal_rows("noise", 2, DRAWS)):
        found = worth_of_knowing(losses, facts, GROUPS)
        assert np.all(found.gains <= everything.gains)
        assert found.worth <= everything.worth


def test_more_of_the_same_data_is_worth_no_less_within_error() -> None:
    unknown, losses = two_actions(0.4, 1.0)
    error = CHANCE.normals("error", DRAWS)
    last: Knowing | None = None
    for number in (1, 4, 16, 64):
        shown = unknown + 2 * error / np.sqrt(number)
        found = worth_of_knowing(losses, shown[None], GROUPS)
        if last is not None:
            assert found.worth > last.worth - 2 * standard_error(found.gains - last.gains, GROUPS)
        last = found


def test_two_facts_that_only_tell_together_are_told_together() -> None:
    first, second = CHANCE.normal_rows("pair", 2, DRAWS)
    losses = np.stack([np.zeros(DRAWS), first * second])
    alone = worth_of_knowing(losses, first[None], GROUPS)
    both = worth_of_knowing(losses, np.stack([first, second]), GROUPS)
    assert alone.worth < 3 * max(alone.error, 1e-9)
    assert both.worth == pytest.approx(np.mean(np.abs(first * second)) / 2, rel=0.1)


def test_facts_in_another_unit_or_scale_are_worth_the_same_to_the_last_bit() -> None:
    unknown, losses = two_actions(0.4, 1.0)
    plain = worth_of_knowing(losses, unknown[None], GROUPS)
    turned = worth_of_knowing(losses, np.exp(unknown)[None] / 7, GROUPS)
    assert plain.worth == turned.worth


def test_a_fact_that_is_the_same_in_every_draw_changes_nothing() -> None:
    _, losses = two_actions(0.0, 1.0)
    found = worth_of_knowing(losses, np.ones((1, DRAWS)), GROUPS)
    assert (found.worth, found.changes) == (0.0, 0.0)


def test_the_base_is_the_least_mean_loss_and_the_first_of_equals() -> None:
    assert best_of(np.array([[2.0, 2.0], [1.0, 2.0], [2.0, 1.0]])) == 1


def test_one_group_alone_cannot_be_judged_by_others() -> None:
    with pytest.raises(OutOfRangeError, match="groups of draws"):
        worth_of_knowing(np.zeros((2, 4)), np.arange(4.0)[None], np.zeros(4, dtype=np.int64))


def test_draws_that_share_their_weather_do_not_count_as_so_many() -> None:
    shared = CHANCE.normals("weather", 16)[GROUPS]
    assert standard_error(shared, GROUPS) > 5 * float(np.std(shared)) / np.sqrt(DRAWS)
    lone = CHANCE.normals("lone", DRAWS)
    assert standard_error(lone, GROUPS) == pytest.approx(np.std(lone) / np.sqrt(DRAWS), rel=0.4)
