"""Texture of a sward: over what distance it stays as light or as dark."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value

Pixels = NDArray[np.uint8]
_LONGEST = 60
_EVERY = 6
_FAINT = 4.0


def grain_px(pixels: Pixels) -> float | None:
    """Give the grain of a picture: the distance at which lightness is half as alike as next to it.

    Fine leaves give a small grain and coarse ones a large one. It is the lag at which the mean
    square difference, without the share that noise has in it, reaches half of its full size.

    Parameters
    ----------
    pixels : array of uint8
        The plot, red, green and blue on the last axis. [of 255]

    Returns
    -------
    float or None
        Distance; None where the picture has no texture. [px]
    """
    side = round(value("photo_grain_side_px"))
    high, wide = pixels.shape[:2]
    top, left = max(high - side, 0) // 2, max(wide - side, 0) // 2
    part = np.ascontiguousarray(pixels[top : top + side, left : left + side])
    grey = cv2.cvtColor(part, cv2.COLOR_RGB2GRAY).astype(np.float32)
    # Light and shade wider than leaves are no texture.
    coarse = (max(grey.shape[1] // _LONGEST, 1), max(grey.shape[0] // _LONGEST, 1))
    broad = cv2.resize(grey, coarse, interpolation=cv2.INTER_AREA)
    grey -= cv2.resize(broad, (grey.shape[1], grey.shape[0]), interpolation=cv2.INTER_LINEAR)
    full = 2 * float(grey.var())
    first = _apart(grey, 1)
    noise = max(2 * first - _apart(grey, 2), 0.0)  # what is left when the lag goes to nothing
    if full - noise <= _FAINT:
        return None
    before = (first - noise) / (full - noise)
    if before >= 0.5:
        return 1.0
    for lag in range(2, min(_LONGEST, min(grey.shape) // 4)):
        share = (_apart(grey, lag) - noise) / (full - noise)
        if share >= 0.5:
            return lag - 1 + (0.5 - before) / (share - before)
        before = share
    return None


def _apart(grey: NDArray[np.float32], lag: int) -> float:
    along = float(np.square(grey[::_EVERY, lag:] - grey[::_EVERY, :-lag]).mean())
    rows = np.arange(0, grey.shape[0] - lag, _EVERY)
    down = float(np.square(grey[rows + lag] - grey[rows]).mean())
    return (along + down) / 2
