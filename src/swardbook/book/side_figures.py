"""How finely the figures of a trial are written: by the unit they are read in."""

from __future__ import annotations

from math import exp

from swardbook.review.words import figure
from swardbook.trials.said import DaySaid

_COARSE = frozenset({"%", "g m⁻²", "mm"})
_BARE = "-"
"""Unit of an index, such as that of dark green colour: its figures are small."""


def decimals_of(unit: str) -> int:
    """Tell how many decimals a mean has."""
    return 0 if unit in _COARSE else 3 if unit == _BARE else 1


def unit_word(unit: str) -> str:
    """Name a unit behind a figure; an index has none."""
    return "" if unit == _BARE else unit


def figure_words(said: DaySaid, number: float, decimals: int | None = None) -> str:
    """Write one mean; plants as they are counted, not as logarithms."""
    shown = exp(number) if said.read.are_plants else number
    return figure(shown, decimals_of(said.read.unit) if decimals is None else decimals)


def gap_words(said: DaySaid, number: float) -> str:
    """Write a difference: points, or so many times for plants."""
    if said.read.are_plants:
        return f"{exp(abs(number)):.1f} times"
    unit = "points" if said.read.unit in {"%", "1-9"} else unit_word(said.read.unit)
    shown = figure(abs(number), {0: 0, 1: 2}.get(decimals_of(said.read.unit), 3))
    return f"{shown} {unit.removesuffix('s') if shown == '1' else unit}".strip()
