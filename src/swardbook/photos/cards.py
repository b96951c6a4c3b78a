"""Find printed cards in a picture, to a fraction of a pixel."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.photos.card_shape import LETTERS, MARKER_AT_MM, MARKER_MM

Pixels = NDArray[np.uint8]
Points = NDArray[np.float64]
_SMALL = 1000
"""Longest side at which cards are looked for first. [px]"""
_WINDOW = 23


@dataclass(frozen=True, slots=True)
class Card:
    """One card as it lies in a picture.

    Parameters
    ----------
    letter : str
        ``A`` to ``D``.
    corners : array
        Corners of its marker, from the one by the tip, clockwise on the card. [px]
    """

    letter: str
    corners: Points

    @property
    def side_px(self) -> float:
        """Mean side of the marker [px]."""
        ring = [*self.corners, self.corners[0]]
        return float(np.mean([np.hypot(*(b - a)) for a, b in pairwise(ring)]))

    def place(self, points_mm: Points) -> Points:
        """Tell where points of the card lie in the picture.

        Parameters
        ----------
        points_mm : array
            Points from the tip. [mm]

        Returns
        -------
        array
            The same. [px]
        """
        x, y = MARKER_AT_MM
        square = np.array(
            [[x, y], [x + MARKER_MM, y], [x + MARKER_MM, y + MARKER_MM], [x, y + MARKER_MM]]
        )
        turn = cv2.getPerspectiveTransform(
            square.astype(np.float32), self.corners.astype(np.float32)
        )
        moved = cv2.perspectiveTransform(np.asarray(points_mm, np.float64).reshape(-1, 1, 2), turn)
        return np.asarray(moved, np.float64).reshape(-1, 2)

    @property
    def tip(self) -> Points:
        """Where the tip lies [px]."""
        return np.asarray(self.place(np.zeros((1, 2)))[0], np.float64)


def find_cards(pixels: Pixels) -> tuple[Card, ...]:
    """Find the cards in a picture; the smaller it is looked at the quicker, so small comes first.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]

    Returns
    -------
    tuple of Card
        Each card once, by letter; none where none is seen.
    """
    longest = max(pixels.shape[:2])
    shrink = max(longest / _SMALL, 1.0)
    found: dict[str, Points] = {}
    for part in (shrink, shrink / 2, shrink / 4):
        found = _seen_at(pixels, max(part, 1.0)) | found
        if len(found) == len(LETTERS) or part <= 1 or (not found and part < shrink):
            break
    return tuple(
        Card(letter, _refined(pixels, found[letter])) for letter in LETTERS if letter in found
    )


@cache
def _detector(is_quick: bool) -> cv2.aruco.ArucoDetector:
    """Make a detector; the quick one looks at one size of neighbourhood instead of three."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    how = cv2.aruco.DetectorParameters()
    if is_quick:
        how.adaptiveThreshWinSizeMin = how.adaptiveThreshWinSizeMax = _WINDOW
    return cv2.aruco.ArucoDetector(dictionary, how)


def _seen_at(pixels: Pixels, shrink: float) -> dict[str, Points]:
    step = int(shrink)
    if step > 1:  # some pixels, green alone: markers are large, and it costs next to nothing
        small = np.ascontiguousarray(pixels[step // 2 :: step, step // 2 :: step, 1])
    else:
        small = np.asarray(cv2.cvtColor(pixels, cv2.COLOR_RGB2GRAY), np.uint8)
    corners, numbers, _ = _detector(step > 1).detectMarkers(small)
    known = () if numbers is None else np.ravel(numbers)  # the stub promises an array always
    found: dict[str, Points] = {}
    for ring, number in zip(corners, known, strict=True):
        if number < len(LETTERS):
            letter = LETTERS[int(number)]
            points = np.asarray(ring, np.float64).reshape(4, 2) * step + step // 2
            if letter not in found or _size(points) > _size(found[letter]):
                found[letter] = points
    return found


def _size(points: Points) -> float:
    return float(np.ptp(points, axis=0).sum())


def _refined(pixels: Pixels, corners: Points) -> Points:
    """Move corners to where edges meet in the full picture."""
    high, wide = pixels.shape[:2]
    margin = 12
    left, top = np.maximum(np.floor(corners.min(0)).astype(int) - margin, 0)
    right, bottom = np.ceil(corners.max(0)).astype(int) + margin
    crop = cv2.cvtColor(
        np.ascontiguousarray(pixels[top : min(bottom, high), left : min(right, wide)]),
        cv2.COLOR_RGB2GRAY,
    )
    reach = int(np.clip(_size(corners) / 40, 2, 8))
    held = (corners - (left, top)).astype(np.float32).reshape(-1, 1, 2)
    if min(crop.shape) <= 2 * reach + 6:
        return corners
    rule = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 30, 0.01)
    moved = cv2.cornerSubPix(crop, held, (reach, reach), (-1, -1), rule)
    found: Points = np.asarray(moved, np.float64).reshape(4, 2) + np.array([left, top])
    return found
