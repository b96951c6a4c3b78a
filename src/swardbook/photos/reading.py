"""One picture read from its bytes to cover, colour and texture of a plot."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import BadInputError
from swardbook.photos.cards import Card, find_cards
from swardbook.photos.correcting import Whites, correct, read_whites
from swardbook.photos.covering import Covering, Pass, read_cover
from swardbook.photos.grain import grain_px
from swardbook.photos.opening import Photo, decode
from swardbook.photos.pressing import Pressed
from swardbook.photos.quality import Fault, Pressing, faults_of, looks_of
from swardbook.photos.rectifying import Rectified, missing_letters, rectify
from swardbook.photos.smearing import smear_of, without_smear

Pixels = NDArray[np.uint8]
ALL = "ABCD"


@dataclass(frozen=True, slots=True)
class PlotPicture:
    """What one picture says of one plot.

    Parameters
    ----------
    covering : Covering
        Cover and colour.
    grain_mm : float or None
        Texture; None without scale. [mm]
    side_mm : tuple of float or None
        Sides of the plot, A to B and B to C; None where the whole picture was taken. [mm]
    mm_per_px : float or None
        What a pixel covers; None without scale. [mm]
    whites : Whites or None
        Light on the cards, by which colour was put right; None where it was not.
    faults : tuple of Fault
        What is wrong with the picture.
    plot : array of uint8
        The plot as it was read: from straight above and in its own colour where there were cards.
    """

    covering: Covering
    grain_mm: float | None
    side_mm: tuple[float, float] | None
    mm_per_px: float | None
    whites: Whites | None
    faults: tuple[Fault, ...]
    plot: Pixels = field(repr=False, compare=False)

    @property
    def cover_stands(self) -> bool:
        """Whether nothing spoils its cover."""
        return not any(each.spoils_cover for each in self.faults)

    @property
    def colour_stands(self) -> bool:
        """Whether nothing spoils its colour, so that it may be compared within its session."""
        return not self.faults and self.covering.colour_index is not None


def read_photo(
    photo: Photo, run: Pass, *, cards: bool = True, size_mm: tuple[float, float] | None = None
) -> PlotPicture:
    """Read a picture.

    Parameters
    ----------
    photo : Photo
        The picture.
    run : Pass
        The compiled passes.
    cards : bool
        Whether to look for cards; without, the whole picture is the plot.
    size_mm : tuple of float or None
        Sides of the plot, where they were measured. [mm]

    Raises
    ------
    BadInputError
        If it cannot be decoded, or the sides given and the cards are too far apart.
    """
    pressed, is_told = photo.pressed, bool(photo.pressed) or not photo.is_lossy
    pixels = decode(photo)
    return read_pixels(pixels, run, cards=cards, size_mm=size_mm, pressed=pressed, is_told=is_told)


def read_pixels(
    pixels: Pixels, run: Pass, *, cards: bool = True, size_mm: tuple[float, float] | None = None,
    pressed: Pressed | None = None, is_told: bool = True,
) -> PlotPicture:  # fmt: skip
    """Read the pixels of an upright picture; see `read_photo`.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    run : Pass
        The compiled passes.
    cards : bool
        Whether to look for cards.
    size_mm : tuple of float or None
        Sides of the plot, where they were measured. [mm]
    pressed : Pressed or None
        How its file was pressed; None where it was not.
    is_told : bool
        Whether the file tells how it was pressed.

    Raises
    ------
    BadInputError
        If the sides given and the cards are too far apart.
    """
    found = find_cards(pixels) if cards else ()
    missing = missing_letters(found)
    whites = read_whites(pixels, found)
    if missing:
        plot, seen = pixels, None
    else:
        seen, odd = _rectified(pixels, found, size_mm)
        plot = seen.pixels if seen else pixels
        missing = odd
    looks = looks_of(plot)  # as taken: what was dark stays dark however it is put right
    usable = whites if whites and not whites.clipped else None
    if usable:
        plot = correct(plot, usable.gains)
    covering = _covering(plot, usable, seen, pressed, run)
    scale = seen.mm_per_px if seen else None
    grain = grain_px(plot)
    pressing = Pressing(pressed.colour_step if pressed else 0.0, is_told)
    faults = faults_of(looks, covering, whites, missing, scale, grain, pressing)
    if not cards:
        faults = tuple(each for each in faults if each.name != "cards missing")
    out_scale = seen.wide_mm / plot.shape[1] if seen else None
    return PlotPicture(
        covering=covering,
        grain_mm=grain * out_scale if grain and out_scale else None,
        side_mm=(seen.wide_mm, seen.high_mm) if seen else None,
        mm_per_px=scale,
        whites=usable,
        faults=faults,
        plot=plot,
    )


def _covering(
    plot: Pixels, whites: Whites | None, seen: Rectified | None, pressed: Pressed | None, run: Pass
) -> Covering:
    """Read cover and colour, and take out what pressing the file did to cover."""
    covering = read_cover(plot, run)
    if pressed is None:
        return covering
    gains = whites.gains if whites else (1.0, 1.0, 1.0)
    shrunk = seen.wide_mm / plot.shape[1] / seen.mm_per_px if seen else 1.0
    return without_smear(covering, smear_of(plot, covering, pressed, gains, shrunk, run) or 0.0)


def _rectified(
    pixels: Pixels, cards: tuple[Card, ...], size_mm: tuple[float, float] | None
) -> tuple[Rectified | None, str]:
    """Rectify; cards that cannot stand around a plot count as missing, a wrong size is refused."""
    try:
        return rectify(pixels, cards, size_mm), ""
    except BadInputError as slip:
        if slip.what == "the plot's size":
            raise
        return None, ALL
