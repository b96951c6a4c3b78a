"""How a look-ahead made without the last count fares against simpler guesses; values, no verdict.

Run with ``-s`` to see the table. One made-up ground is no proof of skill: the numbers are printed
to be looked at, and only what must hold is asserted.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.model.chance import Array
from swardbook.model.growing import grower
from swardbook.model.past import MEADOW_GRASS, Known, Seen, live_through, standing_of
from tests.support.model import kernel

DRAWS = 1024
ZONES = ("Main court", "Surround", "Lime Walk")


def crps(draws: Array, found: float) -> float:
    """Continuous ranked probability score of equally weighted draws; 0 is perfect [points]."""
    apart = np.mean(np.abs(draws[:, None] - draws[None, :]))
    return float(np.mean(np.abs(draws - found)) - apart / 2)


def mean_of(seen: Seen) -> float:
    return 100 * float(np.mean([each.found[MEADOW_GRASS] / each.looked for each in seen.places]))


def cover_of(known: Known) -> Array:
    built = known.unknowns.parameters(known.scores)
    return 100 * standing_of(known.state, built).cover[MEADOW_GRASS]


@pytest.mark.slow
@pytest.mark.parametrize(
    "zone", [ZONES[0], *(pytest.param(each, marks=pytest.mark.long) for each in ZONES[1:])]
)
def test_the_last_count_left_out_against_no_update_and_the_count_before(zone: str) -> None:
    ground = made_up_ground()
    question, _ = question_of(Asked(ground, made_up_weather(), TODAY, DRAWS), zone)
    story, chance = question.story, chance_of(ground, question.story.zone)
    *before, last = [each for each in story.seen if each.places]
    kept = tuple(each for each in story.seen if each is not last)
    grow = grower(kernel())
    learned = live_through(replace(story, seen=kept), DRAWS, chance, grow)
    blind = live_through(replace(story, seen=()), DRAWS, chance, grow)
    found = mean_of(last)
    scores = {
        "learned": crps(cover_of(learned), found),
        "no update": crps(cover_of(blind), found),
        "last count persists": abs(mean_of(before[-1]) - found),
    }
    share = float(np.mean(cover_of(learned) < found))
    told = ", ".join(f"{name} {score:.1f}" for name, score in scores.items())
    print(f"{zone}: found {found:.1f} %, {told} points; share of draws below {share:.2f}")
    assert not learned.learned.refusal
    assert all(np.isfinite(score) and score >= 0 for score in scores.values())
    # A count moves and narrows what is known: the draws with it are never as wide as without.
    assert np.std(cover_of(learned)) < np.std(cover_of(blind))
