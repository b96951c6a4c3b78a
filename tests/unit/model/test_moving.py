"""Moves that part copies and leave the answer as it is, against an exact answer."""

import numpy as np
import pytest

from swardbook.model.chance import Array, Chance
from swardbook.model.learning import Cloud, Occasion, learn
from swardbook.model.moving import moved_draws

CHANCE = Chance(("moving",))
SEEN, ERROR, DRAWS, ROWS = 1.4, 0.2, 4096, 12
# Normal guess, normal count: the answer is known exactly.
EXACT_MEAN = SEEN / (1 + ERROR**2)
EXACT_SPREAD = np.sqrt(ERROR**2 / (1 + ERROR**2))


def level(scores: Array) -> Array:
    return np.asarray(-0.5 * (scores[0] - SEEN) ** 2 / ERROR**2)


def lived(scores: Array) -> tuple[Array, Array]:
    return scores[:1], level(scores)


def learned(most_steps: int) -> Cloud:
    scores = CHANCE.normal_rows("start", ROWS, DRAWS)

    def refresh(cloud: Cloud, upto: int, share: float) -> Cloud:
        moved, states = moved_draws(
            cloud.unbounded,
            lambda tried: (tried[:1], share * level(tried)),
            CHANCE.under(f"{upto} {share}"),
            most=12,
            until=3.0,
        )
        return Cloud.of_equals(states, moved)

    count = Occasion("a count", lambda cloud: cloud, lambda cloud: level(cloud.unbounded))
    return learn(
        Cloud.of_equals(scores[:1], scores),
        [count],
        CHANCE,
        shrink=1.0,
        refresh=refresh,
        most_steps=most_steps,
    ).cloud


@pytest.mark.parametrize("most_steps", [1, 8])
def test_a_count_brought_in_at_once_or_by_steps_gives_the_exact_answer(most_steps: int) -> None:
    cloud = learned(most_steps)
    mean = float(cloud.unbounded[0] @ cloud.weights)
    spread = float(np.sqrt((cloud.unbounded[0] - mean) ** 2 @ cloud.weights))
    assert mean == pytest.approx(EXACT_MEAN, abs=5 * EXACT_SPREAD / np.sqrt(DRAWS / 8))
    assert spread == pytest.approx(EXACT_SPREAD, rel=0.08)


def test_what_the_count_does_not_speak_of_stays_as_it_was() -> None:
    rest = learned(8).unbounded[1:]
    assert np.max(np.abs(np.mean(rest, axis=1))) < 0.15
    assert np.std(rest, axis=1) == pytest.approx(np.ones(ROWS - 1), abs=0.1)


def test_moves_part_copies_and_keep_the_answer() -> None:
    spread = EXACT_MEAN + EXACT_SPREAD * CHANCE.normals("known", 40)
    few = np.vstack([spread, CHANCE.normal_rows("rest", ROWS - 1, 40)])
    copies = np.repeat(few, DRAWS // 40, axis=1)
    moved, states = moved_draws(copies, lived, CHANCE, most=24, blocks=4)
    assert len(np.unique(copies[0])) == 40
    assert len(np.unique(moved[0])) > 2000
    assert np.array_equal(states[0], moved[0])
    assert np.mean(moved[0]) == pytest.approx(EXACT_MEAN, abs=0.05)
    assert np.std(moved[0]) == pytest.approx(EXACT_SPREAD, rel=0.15)


def test_moves_stop_when_every_draw_has_moved_as_often_as_asked() -> None:
    asked: list[int] = []

    def counting(scores: Array) -> tuple[Array, Array]:
        asked.append(1)
        return scores[:1], np.zeros(scores.shape[1])

    moved_draws(CHANCE.normal_rows("s", 2, 64), counting, CHANCE, most=50, until=2.0)
    assert len(asked) == 3  # the draws as they stand, and two steps that are all taken
