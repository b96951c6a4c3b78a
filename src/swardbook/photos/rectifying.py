"""A plot between four cards, seen as from straight above and to scale."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.photos.card_shape import LETTERS, MARKER_MM
from swardbook.photos.cards import Card, Points

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Rectified:
    """A plot from straight above.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis; A at the top left. [of 255]
    wide_mm, high_mm : float
        Sides of the plot, from the size of the markers or as given. [mm]
    mm_per_px : float
        How much a pixel of the picture as taken covers, on average. [mm]
    off : float
        How far the sides of the markers are from their true length, root mean square. [-]
    """

    pixels: Pixels
    wide_mm: float
    high_mm: float
    mm_per_px: float
    off: float


def missing_letters(cards: tuple[Card, ...]) -> str:
    """Give the letters of cards that are not there."""
    there = {card.letter for card in cards}
    return "".join(letter for letter in LETTERS if letter not in there)


def rectify(
    pixels: Pixels, cards: tuple[Card, ...], size_mm: tuple[float, float] | None = None
) -> Rectified:
    """See the plot whose corners the tips of four cards touch from straight above.

    The tips fix the view; the sides of the plot follow from the sides of the markers, whose length
    is known, unless they are given.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    cards : tuple of Card
        The four cards.
    size_mm : tuple of float or None
        Sides of the plot from A to B and from B to C, where they were measured. [mm]

    Raises
    ------
    BadInputError
        If a card is missing or the four do not stand around a plot; or if the sides given and the
        cards are too far apart.
    """
    if missing := missing_letters(cards):
        raise BadInputError("the cards", f"no card {', '.join(missing)}", "all of A, B, C and D")
    tips = _round([card.tip for card in cards])
    to_unit = _transform(tips, np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]]))
    found = _sides(cards, to_unit)
    sides = size_mm or found
    if max(abs(given / seen - 1) for given, seen in zip(sides, found, strict=True)) > value(
        "photo_size_off_most"
    ):
        raise BadInputError(
            "the plot's size", f"{sides[0]:.0f} × {sides[1]:.0f} mm",
            f"what the cards say, {found[0]:.0f} × {found[1]:.0f} mm, or near it",
            f"Measure a marker: its black square must be {MARKER_MM:.0f} mm, printed at 100 %.",
        )  # fmt: skip
    wide_px, high_px = _size_px(tips)
    scale = min(1.0, value("photo_rectified_side_most_px") / max(wide_px, high_px))
    # Square pixels: as many a mm along one side as along the other.
    per_mm = np.sqrt(wide_px * high_px / (sides[0] * sides[1])) * scale
    out = max(round(sides[0] * per_mm), 1), max(round(sides[1] * per_mm), 1)
    turn = _transform(tips, np.array([[0.0, 0], [out[0], 0], out, [0, out[1]]]) - 0.5)
    # The nearest pixel, not a mean of four: colours stay as taken, and it takes half the time.
    seen = cv2.warpPerspective(pixels, turn, out, flags=cv2.INTER_NEAREST)
    return Rectified(
        np.asarray(seen, np.uint8), sides[0], sides[1], scale / float(per_mm),
        _off(cards, to_unit, found),
    )  # fmt: skip


def _round(tips: list[Points]) -> Points:
    """Put tips clockwise in the picture, from A on.

    Raises
    ------
    BadInputError
        If one lies within the triangle of the others.
    """
    points = np.array(tips)
    around = points - points.mean(0)
    order = np.argsort(np.arctan2(around[:, 1], around[:, 0]))
    points = points[np.roll(order, -int(np.flatnonzero(order == 0)[0]))]
    if not cv2.isContourConvex(points.astype(np.float32).reshape(-1, 1, 2)):
        raise BadInputError(
            "the cards", "one card within the triangle of the others",
            "one card at each corner of the plot, its tip on the corner",
        )  # fmt: skip
    return points


def _transform(one: Points, other: Points) -> Points:
    return np.asarray(
        cv2.getPerspectiveTransform(one.astype(np.float32), other.astype(np.float32)), np.float64
    )


def _edges(cards: tuple[Card, ...], to_unit: Points) -> Points:
    """Give the sides of all markers, as steps on the unit square."""
    rings = np.array([card.corners for card in cards]).reshape(-1, 1, 2)
    moved = np.asarray(cv2.perspectiveTransform(rings, to_unit)).reshape(-1, 4, 2)
    return np.asarray((np.roll(moved, -1, axis=1) - moved).reshape(-1, 2))


def _sides(cards: tuple[Card, ...], to_unit: Points) -> tuple[float, float]:
    """Find the sides of the plot that make each marker's side as long as it is."""
    squares = _edges(cards, to_unit) ** 2
    found, *_ = np.linalg.lstsq(squares, np.full(len(squares), MARKER_MM**2), rcond=None)
    if not (found > 0).all():
        raise BadInputError(
            "the cards", "markers whose sides do not fit together",
            "four flat cards, printed at 100 % on one sheet",
            "Is a card bent, or lying on a slope?",
        )  # fmt: skip
    return float(np.sqrt(found[0])), float(np.sqrt(found[1]))


def _off(cards: tuple[Card, ...], to_unit: Points, sides: tuple[float, float]) -> float:
    lengths = np.hypot(*(_edges(cards, to_unit) * sides).T)
    return float(np.sqrt(np.mean((lengths / MARKER_MM - 1) ** 2)))


def _size_px(tips: Points) -> tuple[float, float]:
    a, b, c, d = tips
    return (
        float(np.hypot(*(b - a)) + np.hypot(*(c - d))) / 2,
        float(np.hypot(*(c - b)) + np.hypot(*(d - a))) / 2,
    )
