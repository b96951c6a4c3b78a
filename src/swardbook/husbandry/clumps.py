"""Clumps dug and looked at again, and what keeps their seed from being carried on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from swardbook.handbook.species import YORKSHIRE_FOG


@dataclass(frozen=True, slots=True)
class DigClumps:
    """Clumps dug out with a margin."""

    kind: ClassVar[str] = "dig clumps"
    species: str = YORKSHIRE_FOG
    clumps: int | None = None
    margin_mm: float | None = None
    area_m2: float | None = None
    place: str = ""
    """Where in the zone, in words or by a peg."""
    spoil_to: str = ""
    """Where the clumps and their soil went."""


@dataclass(frozen=True, slots=True)
class ClumpCheck:
    """Dug clumps looked at again, or clumps counted."""

    kind: ClassVar[str] = "clump check"
    species: str = YORKSHIRE_FOG
    looked: int = 0
    regrown: int = 0
    margin_mm: float | None = None
    standing: int | None = None
    """Clumps standing in the zone in all, if counted."""
    place: str = ""
    """The place that was dug, as the digging has it."""


@dataclass(frozen=True, slots=True)
class CleanDown:
    """A machine, its box or boots cleaned down, so that no seed is carried on."""

    kind: ClassVar[str] = "clean-down"
    unit: str = ""
    """What was cleaned: the mower, the verticut unit, boots ..."""
    washed: bool | None = None
    box_emptied: str = ""
    """``off site`` or ``on site``; empty if not said."""
    heads_to: str = ""
    """Where heads and clippings went."""
