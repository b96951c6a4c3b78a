"""Two counters on the same places: how far apart they read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.evidence import Interval, paired_change
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import place_figures

LEVEL = 0.95


@dataclass(frozen=True, slots=True)
class Overlap:
    """How far a second counter reads from a first on shared places.

    Parameters
    ----------
    first, second : str
        The two counters.
    difference : float
        Second less first. [points of cover, or plants m⁻²]
    interval : Interval
        Its 95 % range. [same unit]
    standard_error : float
        Its standard error. [same unit]
    n : int
        Places both counted.
    needed : int
        Places needed before one is put right by the other.
    method : Method
        How both counted; only cover is put right.
    """

    first: str
    second: str
    difference: float
    interval: Interval
    standard_error: float
    n: int
    needed: int
    method: Method

    @property
    def may_correct(self) -> bool:
        """Whether there are enough shared places to put one counter right by the other."""
        return self.n >= self.needed and self.method is not Method.PLANTS

    @property
    def words(self) -> str:
        """Say the difference, and whether it may be used."""
        low, high = self.interval
        told = (
            f"{self.second} reads {self.difference:+.1f} ({low:+.1f} to {high:+.1f}) against"
            f" {self.first} on {self.n} shared places"
        )
        if self.may_correct:
            return f"{told}: enough to put one right by the other."
        if self.n >= self.needed:
            return f"{told}: shown, not put right."
        return (
            f"{told}: not enough to put right with. Recount {self.needed - self.n} more on the"
            " same frame positions."
        )


def counters_overlap(
    places: Sequence[PlaceCount], kind: str, method: Method, first: str, second: str
) -> Overlap:
    """Compare two counters on the places that both counted on one occasion.

    Parameters
    ----------
    places : sequence of PlaceCount
        What was counted.
    kind : str
        Species key, or ``bare``, ``sown`` ...
    method : Method
        Points, plants or by eye.
    first, second : str
        The two counters.

    Returns
    -------
    Overlap
        Second less first.

    Raises
    ------
    NotEnoughDataError
        If they share fewer than two places.
    """
    one = place_figures(places, kind, method, first)
    two = place_figures(places, kind, method, second)
    shared = [place for place in one if place in two]
    if len(shared) < 2:
        raise NotEnoughDataError(
            f"how far {second} reads from {first}", "at least 2 shared places", str(len(shared))
        )
    change = paired_change([one[p].value for p in shared], [two[p].value for p in shared])
    return Overlap(
        first,
        second,
        change.mean,
        change.interval(LEVEL),
        change.standard_error,
        change.n,
        int(value("overlap_places_least")),
        method,
    )
