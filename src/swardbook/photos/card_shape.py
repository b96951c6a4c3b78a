"""The shape of the printed cards: a marker, a tip, and patches of white, grey and black.

The markers are the first four of the open dictionary DICT_4X4_50 (ArUco; Garrido-Jurado et al.
2014): four by four cells within a border one cell wide.
"""

from __future__ import annotations

from dataclasses import dataclass

LETTERS = "ABCD"
MARKER_MM = 60.0
"""Side of a marker, border and all. [mm]"""
CARD_MM = (80.0, 110.0)
"""Width and height of a card; its first corner is the tip. [mm]"""
MARKER_AT_MM = (10.0, 10.0)
"""First corner of the marker from the tip. [mm]"""
CELLS = 6
BITS: tuple[tuple[str, ...], ...] = (
    ("000000", "010110", "001010", "000110", "000100", "000000"),
    ("000000", "000000", "011110", "010010", "010100", "000000"),
    ("000000", "000110", "000110", "000100", "011010", "000000"),
    ("000000", "010010", "010010", "001000", "001100", "000000"),
)
"""Cells of markers A to D, row by row; 1 is white."""


@dataclass(frozen=True, slots=True)
class Patch:
    """One patch of a card: where it lies from the tip, and how light it prints."""

    name: str
    x_mm: float
    y_mm: float
    wide_mm: float
    high_mm: float
    grey: float
    """How light, 0 black to 1 paper, as told to the printer."""


PATCHES = (
    Patch("white", 10, 76, 18, 20, 1.0),
    Patch("grey", 31, 76, 18, 20, 0.5),
    Patch("black", 52, 76, 18, 20, 0.0),
)
