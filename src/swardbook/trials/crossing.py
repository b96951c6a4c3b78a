"""Mixtures whose order turned between two days."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations

from swardbook.trials.means import Means


@dataclass(frozen=True, slots=True)
class Crossing:
    """Two mixtures that changed places.

    Parameters
    ----------
    early, late : str
        Ahead at first, and ahead later.
    first, last : date
        Days on which the one and the other was ahead by more than a planned pair needs.
    before, after : float
        How far the early one was ahead, and how far it was behind later. [unit, or log ratio]
    """

    early: str
    late: str
    first: date
    last: date
    before: float
    after: float


def crossings(days: Sequence[tuple[date, Means]], lower_first: bool) -> tuple[Crossing, ...]:
    """Find pairs that were told apart one way on a day, and the other way on a later one.

    Each pair is taken by itself; that it is told apart twice, in opposite ways, guards against
    luck.

    Parameters
    ----------
    days : sequence of (date, Means)
        The days, in order.
    lower_first : bool
        Whether less is better.

    Returns
    -------
    tuple of Crossing
        Each pair once: its first day ahead and its last day behind; the widest turn first.
    """
    names = [name for name in days[0][1].names if all(name in m.names for _, m in days)]
    found = []
    for one, two in combinations(names, 2):
        ahead = [(day, *_ahead(means, one, two, lower_first)) for day, means in days]
        for early, late, way in ((one, two, 1), (two, one, -1)):
            firsts = [(d, abs(g)) for d, g, is_clear in ahead if is_clear and way * g > 0]
            lasts = [(d, abs(g)) for d, g, is_clear in ahead if is_clear and way * g < 0]
            if firsts and lasts and firsts[0][0] < lasts[-1][0]:
                first, last = firsts[0], lasts[-1]
                found.append(Crossing(early, late, first[0], last[0], first[1], last[1]))
    return tuple(sorted(found, key=lambda each: -(each.before + each.after)))


def _ahead(means: Means, one: str, two: str, lower_first: bool) -> tuple[float, bool]:
    """How far one is ahead of another, and whether by more than a planned pair needs."""
    pair = means.difference(means.place(one), means.place(two))
    return (-pair.value if lower_first else pair.value), pair.interval(0.95).excludes(0.0)
