"""Green cover and colour of a picture, in one pass over its pixels."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import sqrt
from pathlib import Path
from typing import Any, Protocol

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.compiled import load_module
from swardbook.foundation.errors import OutOfRangeError
from swardbook.handbook.parameters import value
from swardbook.photos.thresholds import BINS, Counts, Split, split_of

Pixels = NDArray[np.uint8]
LEAST_SIDE = 64
"""Least side of a picture that is measured. [px]"""
_ROWS = 60
_STEP = 4
_SCALE = 1024


class Pass(Protocol):
    """The compiled passes over pixels."""

    def histogram(self, pixels: Pixels, step: int, counts: Counts, /) -> None:
        """Count pixels by excess green."""

    def measure(
        self,
        red: Pixels,
        green: Pixels,
        blue: Pixels,
        above: int,
        old: int,
        new: int,
        at: NDArray[np.int32],
        slots: Pixels,
        counts: NDArray[np.uint64],
        sums: NDArray[np.float64],
        /,
    ) -> None:
        """Add up a strip."""


@dataclass(frozen=True, slots=True)
class Covering:
    """What the pixels of one picture, or of one plot in it, add up to.

    Parameters
    ----------
    cover : float
        Share covered by green leaf, with pixels on an edge shared out. [-]
    plain_cover : float
        Share of pixels above the threshold, edges and all; a second way to reckon. [-]
    pale, bare : float
        Shares not green: pale (dead leaf, sand, dry soil), and darker (moist soil, shade). [-]
    colour_index : float or None
        Mean dark green colour index of sure leaf; None where too little is sure. [-]
    colour_spread : float or None
        Standard deviation of the index between its pixels. [-]
    clipped, glare : float
        Shares of pixels with one channel, and with all three, at their end. [-]
    split : Split
        Where ground ends and leaf begins.
    pixels : int
        How many were read.
    edges : float
        Share that is neither sure leaf nor sure ground, and was shared out. [-]
    """

    cover: float
    plain_cover: float
    pale: float
    bare: float
    colour_index: float | None
    colour_spread: float | None
    clipped: float
    glare: float
    split: Split
    pixels: int
    edges: float


@cache
def load_pass(folder: Path) -> Pass:
    """Get the compiled passes, compiling them if this text never was, here.

    Parameters
    ----------
    folder : Path
        Where compiled code is kept.
    """
    text = (files("swardbook.photos") / "pixel_loop.txt").read_text(encoding="utf-8")
    made: Pass = load_module(folder, "pixels", text, _tried)
    return made


def read_cover(pixels: Pixels, run: Pass) -> Covering:
    """Read green cover and colour from a picture.

    Excess green (Woebbecke et al. 1995) is split by a guarded threshold into sure leaf and sure
    ground, each five pixels deep. What lies between is shared out as a linear mixture of the two
    (Adams et al. 1986): 2G − R − B has no part of lightness, so a JPEG that keeps colour at half
    the resolution spreads it but does not change its sum. The dark green colour index (Karcher and
    Richardson 2003) is the mean over sure leaf.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    run : Pass
        The compiled passes.

    Raises
    ------
    OutOfRangeError
        If the picture is too small.
    """
    high, wide = pixels.shape[:2]
    if min(high, wide) < LEAST_SIDE:
        raise OutOfRangeError(
            "the picture's shorter side", min(high, wide), f"at least {LEAST_SIDE}", "px",
            "A thumbnail? Send the picture itself.",
        )  # fmt: skip
    bins = np.zeros(BINS, np.int64)
    run.histogram(pixels, _STEP, bins)
    return read_cover_at(pixels, split_of(bins), run)


def read_cover_at(pixels: Pixels, split: Split, run: Pass) -> Covering:
    """Read green cover and colour by a threshold that is known already; see `read_cover`.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    split : Split
        Where ground ends and leaf begins.
    run : Pass
        The compiled passes.
    """
    counts, sums = _sums(pixels, split, run)
    return _covering(split, pixels.shape[0] * pixels.shape[1], counts, sums)


def _sums(
    pixels: Pixels, split: Split, run: Pass
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Add up strip by strip, each small enough to stay near the processor."""
    high, wide = pixels.shape[:2]
    cuts = (value("photo_leaf_cut"), value("photo_sure_leaf_cut"), value("photo_sure_ground_cut"))
    levels = [round((1 + split.at(cut)) * _SCALE) for cut in cuts]
    ends = [round(value("photo_clip_value")), round(value("photo_pale_value"))]
    at = np.array([*levels, *ends], np.int32)
    slots = np.zeros((6, wide), np.uint8)
    counts, sums = np.zeros(10, np.uint64), np.zeros(4)
    red, green, blue = (np.empty((_ROWS + 4, wide), np.uint8) for _ in range(3))
    planes = (red, green, blue)
    for top in range(0, high, _ROWS):
        new = min(_ROWS, high - top)
        old = 4 if top else 0
        if top:
            for plane in planes:
                plane[:4] = plane[_ROWS if top > _ROWS else _ROWS - 4 :][:4]
        cv2.split(pixels[top : top + new], [plane[old : old + new] for plane in planes])
        run.measure(red, green, blue, top - old, old, new, at, slots, counts, sums)
    return counts.astype(np.float64), sums


def _covering(
    split: Split, many: int, counts: NDArray[np.float64], sums: NDArray[np.float64]
) -> Covering:
    red, green, blue, plain, clipped, glare, ground, pale, sure, sure_ground = counts
    raw = (2 * green - red - blue) / many
    enough = value("photo_sure_share_least") * many
    bare_raw = (
        sums[1] / sure_ground
        if sure_ground >= enough
        else split.ground * (red + green + blue) / many
    )
    cover = plain / many
    if sure >= enough and sums[0] / sure > bare_raw:
        cover = (raw - bare_raw) / (sums[0] / sure - bare_raw)
    cover = min(max(float(cover), 0.0), 1.0)
    index, spread = None, None
    if sure >= enough:
        index = float(sums[2] / sure / 3)
        spread = sqrt(max(float(sums[3] / sure / 9) - index**2, 0.0))
    pale_share = (1 - cover) * float(pale / ground) if ground else 0.0
    return Covering(
        cover=cover,
        plain_cover=float(plain / many),
        pale=pale_share,
        bare=1 - cover - pale_share,
        colour_index=index,
        colour_spread=spread,
        clipped=float(clipped / many),
        glare=float(glare / many),
        split=split,
        pixels=many,
        edges=float(1 - (sure + sure_ground) / many),
    )


def _tried(module: Any) -> None:
    """Try the passes on next to nothing."""
    module.histogram(np.zeros((2, 2, 3), np.uint8), 1, np.zeros(BINS, np.int64))
    plane = np.zeros((5, 8), np.uint8)
    module.measure(
        plane, plane, plane, 0, 0, 5, np.zeros(5, np.int32), np.zeros((6, 8), np.uint8),
        np.zeros(10, np.uint64), np.zeros(4),
    )  # fmt: skip
