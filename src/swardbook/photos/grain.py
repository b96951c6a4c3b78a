"""Texture of a sward: over what distance it stays as light or as dark."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value

Pixels = NDArray[np.uint8]
_LONGEST = 60


def grain_px(pixels: Pixels) -> float | None:
    """Give the grain of a picture: the distance at which lightness is half as alike as next to it.

    Fine leaves give a small grain and coarse ones a large one. It is the lag at which the mean
    square difference, without the share that noise has in it, reaches half of its full size.

    Parameters
    ----------
    pixels : array of uint8
        The plot, red, green and blue on the last axis.

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
    grey -= cv2.GaussianBlur(grey, (0, 0), _LONGEST)
    full = 2 * float(grey.var())
    lags = np.arange(1, min(_LONGEST, min(grey.shape) // 4))
    apart = np.array([_apart(grey, int(lag)) for lag in lags])
    noise = max(2 * apart[0] - apart[1], 0.0)  # what is left when the lag goes to nothing
    if full - noise <= 4.0:
        return None
    share = (apart - noise) / (full - noise)
    reached = np.flatnonzero(share >= 0.5)
    if not len(reached):
        return None
    at = int(reached[0])
    if at == 0:
        return float(lags[0])
    rise = (0.5 - share[at - 1]) / (share[at] - share[at - 1])
    return float(lags[at - 1] + rise)


def _apart(grey: NDArray[np.float32], lag: int) -> float:
    along = float(np.square(grey[::3, lag:] - grey[::3, :-lag]).mean())
    down = float(np.square(grey[lag:, ::3] - grey[:-lag, ::3]).mean())
    return (along + down) / 2
