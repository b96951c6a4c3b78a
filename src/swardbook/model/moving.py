"""Moving draws that are copies of one another apart, so that the answer stays as it is."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from swardbook.model.chance import Array, Chance

FIRST_WIDTH = 0.3
"""Width of the first step of a move, where 1 forgets the draw."""
GOOD_SHARE = 0.3
"""Share of steps taken that the width is steered to; customary for such moves."""


def moved_draws(
    scores: Array,
    likelihood: Callable[[Array], tuple[Array, Array]],
    chance: Chance,
    *,
    most: int,
    blocks: int = 1,
    until: float = np.inf,
    known: tuple[Array, Array] | None = None,
) -> tuple[Array, Array]:
    """Move draws whose guesses are standard normal beforehand, leaving the answer as it is.

    A step mixes some of each draw's scores with fresh ones, which the guesses beforehand do not
    notice, and is taken by how much likelier it makes what was counted (preconditioned
    Crank-Nicolson; Cotter, Roberts, Stuart & White, 2013). Its width follows how many were taken.

    Parameters
    ----------
    scores : array
        Standard normal scores, a row a guess. [-]
    likelihood : callable
        Gives the states and the logarithm of the likelihood of some scores.
    chance : Chance
        Where the random numbers come from.
    most : int
        Most steps.
    blocks : int
        Parts the guesses are dealt into, one part a step.
    until : float
        Steps taken by a draw on average after which it ends. [-]
    known : tuple of array, optional
        What `likelihood` would give for `scores`, where that is known already.

    Returns
    -------
    tuple of array
        The scores [-] and the states [units of the rows].
    """
    states, level = known or likelihood(scores)
    scores, states, level = scores.copy(), states.copy(), level.copy()
    width, taken = FIRST_WIDTH, 0.0
    for step in range(most):
        tried = scores.copy()
        for row in np.flatnonzero(_part(len(scores), step, blocks, chance)):
            fresh = chance.normals(f"move {step}:{row}", scores.shape[1])
            tried[row] = np.sqrt(1 - width**2) * scores[row] + width * fresh
        there, reached = likelihood(tried)
        reached = np.where(np.isnan(reached), -np.inf, reached)
        yes = np.log(chance.uniforms(f"luck {step}", scores.shape[1])) < reached - level
        for held, new in ((scores, tried), (states, there), (level, reached)):
            np.copyto(held, new, where=yes)
        share = float(np.mean(yes))
        width = float(np.clip(width * np.exp(2 * (share - GOOD_SHARE)), 0.02, 0.98))
        taken += share
        if taken >= until:
            break
    return scores, states


def _part(rows: int, step: int, blocks: int, chance: Chance) -> NDArray[np.bool_]:
    """Deal the guesses into parts anew each round; give the part whose turn it is."""
    turn, place = divmod(step, blocks)
    order = np.argsort(chance.uniforms(f"parts {turn}", rows), kind="stable")
    return np.asarray(order % blocks == place)
