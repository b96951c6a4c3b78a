"""Small population models in closed form, which the daily model is held against."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from swardbook.model.chance import Array


class LifeTable(NamedTuple):
    """What a life table comes to."""

    offspring: float
    """Seeds a plant leaves in its life. [-]"""
    generation: float
    """Mean age of a mother. [periods]"""
    life: float
    """Mean life from the first period on. [periods]"""


def life_table(alive: Sequence[float], seeds: Sequence[float]) -> LifeTable:
    """Work out what a life table comes to.

    Parameters
    ----------
    alive : sequence of float
        Plants alive at the start of each period. [-]
    seeds : sequence of float
        Seeds a plant makes in each period. [-]
    """
    living = np.asarray(alive, dtype=np.float64) / alive[0]
    made = living * np.asarray(seeds, dtype=np.float64)
    ages = np.arange(len(living))
    offspring = float(made.sum())
    return LifeTable(offspring, float((ages * made).sum()) / offspring, float(living.sum()) - 0.5)


def growth_factor(matrix: Array) -> float:
    """Growth of a population a step, once its stages have settled.

    Parameters
    ----------
    matrix : array
        Numbers of each stage (row) that one of each stage (column) leaves a step later. [-]

    Returns
    -------
    float
        Growth factor, the largest root. [-]
    """
    return float(np.max(np.abs(np.linalg.eigvals(matrix))))


def replaced(shares: Array, takes: Array, steps: int) -> Array:
    """Shares of ground after some steps of grasses that replace one another.

    Parameters
    ----------
    shares : array
        Share of each grass at the start. [-]
    takes : array
        Chance that the grass of a row takes ground of the grass of a column in a step. [-]
    steps : int
        How many.

    Returns
    -------
    array
        Shares. [-]
    """
    for _ in range(steps):
        moved = shares * (1 + (takes - takes.T) @ shares)
        shares = np.maximum(moved, 0.0)
        shares = shares / shares.sum()
    return shares


def half_life(yearly_loss: float) -> float:
    """Time in which a constant yearly loss halves a stock.

    Parameters
    ----------
    yearly_loss : float
        Share lost a year. [-]

    Returns
    -------
    float
        Half-life. [years]
    """
    return float(np.log(0.5) / np.log1p(-yearly_loss))
