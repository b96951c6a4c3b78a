"""Pictures of a drawn plot between printed cards, upright or from the side."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from swardbook.photos.card_shape import (
    BITS,
    CARD_MM,
    CELLS,
    LETTERS,
    MARKER_AT_MM,
    MARKER_MM,
    PATCHES,
)
from swardbook.photos.cards import Points
from tests.support.swards import Pixels

PAPER, INK, GREY = 231, 32, 128
"""Channel values of printed cards: paper throws back four fifths of the light."""


@dataclass(frozen=True)
class Scene:
    """A picture and what is true of it."""

    pixels: Pixels
    corners: Points
    """Corners of the plot in it, from A clockwise. [px]"""


def printed_card(number: int, per_mm: float) -> Pixels:
    """Draw one card as it prints."""
    wide, high = (round(side * per_mm) for side in CARD_MM)
    card = np.full((high, wide), PAPER, np.uint8)
    cell = MARKER_MM / CELLS
    for y, row in enumerate(BITS[number]):
        for x, bit in enumerate(row):
            first = (MARKER_AT_MM[0] + x * cell, MARKER_AT_MM[1] + y * cell)
            _fill(card, per_mm, *first, cell, cell, PAPER if bit == "1" else INK)
    for patch in PATCHES:
        shade = {"white": PAPER, "grey": GREY, "black": INK}[patch.name]
        _fill(card, per_mm, patch.x_mm, patch.y_mm, patch.wide_mm, patch.high_mm, shade)
    return np.repeat(card[..., None], 3, -1)


def plot_between_cards(
    plot: Pixels,
    side_mm: tuple[float, float],
    size: tuple[int, int] = (1200, 1600),
    tilt: float = 0.0,
    left_out: str = "",
    surround: tuple[int, int, int] = (96, 104, 84),
) -> Scene:
    """Lay cards at the corners of a plot and take its picture.

    Parameters
    ----------
    plot : array of uint8
        The plot from straight above.
    side_mm : tuple of float
        Its sides. [mm]
    size : tuple of int
        Height and width of the picture. [px]
    tilt : float
        How much narrower the far side looks; 0 is from straight above. [-]
    left_out : str
        Letters of cards that are not laid.
    surround : tuple of int
        Colour of the ground around.
    """
    per_mm = plot.shape[1] / side_mm[0]
    margin = round(170 * per_mm)
    high, wide = plot.shape[0], plot.shape[1]
    ground = np.full((high + 2 * margin, wide + 2 * margin, 3), surround, np.uint8)
    ground[margin : margin + high, margin : margin + wide] = plot
    corners = np.array([[0.0, 0], [wide, 0], [wide, high], [0, high]]) + margin
    for number, letter in enumerate(LETTERS):
        if letter not in left_out:
            # The tip touches the corner; the card lies outside, turned a little askew.
            _lay(ground, printed_card(number, per_mm), corners[number], 180 + 90 * number + 4)
    full = ground.shape[1], ground.shape[0]
    inset = tilt / 2
    out = np.array([[inset, 0.06 * bool(tilt)], [1 - inset, 0.06 * bool(tilt)], [1, 1], [0, 1]]) * (
        size[1],
        size[0],
    )
    edge = np.array([[0, 0], [full[0], 0], full, [0, full[1]]], np.float32)
    turn = cv2.getPerspectiveTransform(edge, out.astype(np.float32))
    seen = cv2.warpPerspective(
        ground, turn, (size[1], size[0]), flags=cv2.INTER_AREA, borderValue=surround
    )
    moved = cv2.perspectiveTransform(corners.reshape(-1, 1, 2), turn).reshape(-1, 2)
    return Scene(np.asarray(seen, np.uint8), np.asarray(moved))


def _fill(
    card: Pixels, per_mm: float, x: float, y: float, wide: float, high: float, shade: int
) -> None:
    rows = slice(round(y * per_mm), round((y + high) * per_mm))
    card[rows, round(x * per_mm) : round((x + wide) * per_mm)] = shade


def _lay(ground: Pixels, card: Pixels, tip: Points, degrees: float) -> None:
    angle = np.radians(degrees)
    across = np.array([np.cos(angle), np.sin(angle)])
    down = np.array([-np.sin(angle), np.cos(angle)])
    high, wide = card.shape[:2]
    to = np.array([tip, tip + wide * across, tip + wide * across + high * down], np.float32)
    turn = cv2.getAffineTransform(np.array([[0, 0], [wide, 0], [wide, high]], np.float32), to)
    size = ground.shape[1], ground.shape[0]
    laid = cv2.warpAffine(card, turn, size, flags=cv2.INTER_LINEAR)
    there = cv2.warpAffine(np.full((high, wide), 255, np.uint8), turn, size) > 127
    ground[there] = laid[there]
