"""Exposure and cast, put right by the white of the cards in the picture."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value
from swardbook.photos.card_shape import PATCHES, Patch
from swardbook.photos.cards import Card
from swardbook.photos.colour import Values, as_pixels, linear_light

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Whites:
    """Light on the cards.

    Parameters
    ----------
    white : tuple of float
        Mean light of the paper in red, green and blue, of full scale. [-]
    tone : float
        Light of the grey patch over that of the paper; tells the phone's tone curve, and the
        printer. [-]
    uneven : float
        Light on the brightest card over that on the darkest. [-]
    clipped : bool
        Whether the paper is at the end of the scale on any card.
    cards : int
        Cards that were read.
    """

    white: tuple[float, float, float]
    tone: float
    uneven: float
    clipped: bool
    cards: int

    @property
    def gains(self) -> tuple[float, float, float]:
        """What makes the paper white again, by channel, on light [-]."""
        wanted = value("photo_card_white")
        red, green, blue = (wanted / max(each, 1e-3) for each in self.white)
        return red, green, blue


def read_whites(pixels: Pixels, cards: tuple[Card, ...]) -> Whites | None:
    """Read the patches of the cards; None where there is no card whose patches are in the picture.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    cards : tuple of Card
        Cards found in it.
    """
    read = [found for card in cards if (found := _patches(pixels, card)) is not None]
    if not read:
        return None
    whites = np.array([linear_light(each[0]) for each in read])
    greys = np.array([linear_light(each[1]) for each in read])
    levels = whites.mean(1)
    red, green, blue = whites.mean(0)
    return Whites(
        (float(red), float(green), float(blue)),
        float(greys.mean() / max(whites.mean(), 1e-6)),
        float(levels.max() / max(levels.min(), 1e-6)),
        bool(max(each[0].max() for each in read) >= value("photo_clip_value")),
        len(read),
    )


def correct(pixels: Pixels, gains: tuple[float, float, float]) -> Pixels:
    """Put cast and exposure right: each channel's light times its gain.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    gains : tuple of float
        Factors on light. [-]
    """
    scale: Values = linear_light(np.arange(256, dtype=np.uint8))
    tables = as_pixels(scale[:, None] * np.array(gains))
    return np.asarray(cv2.LUT(pixels, tables.reshape(1, 256, 3)), np.uint8)


def _patches(pixels: Pixels, card: Card) -> tuple[Pixels, ...] | None:
    found = [_middle(pixels, card, patch) for patch in PATCHES]
    kept = tuple(each for each in found if each is not None)
    return kept if len(kept) == len(PATCHES) else None


def _middle(pixels: Pixels, card: Card, patch: Patch) -> Pixels | None:
    """Give the median colour of the inner part of a patch, away from its edges."""
    inset = 0.25
    x, y = patch.x_mm + inset * patch.wide_mm, patch.y_mm + inset * patch.high_mm
    wide, high = patch.wide_mm * (1 - 2 * inset), patch.high_mm * (1 - 2 * inset)
    steps = np.linspace(0, 1, 12)
    grid = np.array([[x + wide * i, y + high * j] for i in steps for j in steps])
    columns, rows = np.rint(card.place(grid)).astype(int).T
    if (
        min(columns.min(), rows.min()) < 0
        or columns.max() >= pixels.shape[1]
        or (rows.max() >= pixels.shape[0])
    ):
        return None
    return np.asarray(np.rint(np.median(pixels[rows, columns], axis=0)), np.uint8)
