"""How far pressing a picture's file moved its cover, found by pressing its leaves once more."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value
from swardbook.photos.correcting import correct
from swardbook.photos.covering import Covering, Pass, read_cover_at
from swardbook.photos.pressing import Pressed, press

Pixels = NDArray[np.uint8]
_REACH = np.ones((5, 5), np.uint8)
_CUTS = {
    "cut": "photo_leaf_cut", "leaf": "photo_sure_leaf_cut", "ground": "photo_sure_ground_cut",
}  # fmt: skip
_ENOUGH = 30
"""Least pixels of sure leaf from which a leaf's colour is taken."""


def smear_of(
    plot: Pixels,
    covering: Covering,
    pressed: Pressed,
    gains: tuple[float, float, float],
    shrunk: float,
    run: Pass,
) -> float | None:
    """Find by how much pressing made a plot's cover look larger.

    Leaf and ground of squares from all over the plot are painted in two flat colours, pressed as
    the file was, and read as the plot was: what is read less what was painted is the smear. But
    what was painted came from a smeared picture, in which the thinnest leaves are lost, so it
    smears less than the sward did. What was read is therefore painted and pressed a second time,
    which tells how much is lost at a pressing, and the smear is carried back by that much: twice
    the first less the second, and a factor from drawn swards. Estimating a bias by imitating the
    making of the data is the bootstrap of Efron (1979); carrying it back along data made worse is
    the thought of Cook and Stefanski (1994).

    Parameters
    ----------
    plot : array of uint8
        The plot, red, green and blue, put right. [of 255]
    covering : Covering
        How it was read.
    pressed : Pressed
        How its file was pressed.
    gains : tuple of float
        Factors on light by which it was put right. [-]
    shrunk : float
        Pixels of the picture to one of the plot. [-]
    run : Pass
        The compiled passes.

    Returns
    -------
    float or None
        Cover read less cover; None where too little leaf is sure. [-]
    """
    part = _spread(plot)
    sure_leaf = cv2.erode(_above(part, covering, "leaf"), _REACH)
    if cv2.countNonZero(sure_leaf) < _ENOUGH:
        return None
    colours = np.array([_ground_colour(part, covering), cv2.mean(part, sure_leaf)[:3]])
    undone, is_put_right = (1 / gains[0], 1 / gains[1], 1 / gains[2]), set(gains) != {1.0}
    flat = correct(np.rint(colours).astype(np.uint8).reshape(1, 2, 3), undone)[0]
    found, painted = [], _above(part, covering, "cut")
    for _ in range(2):
        seen = _pressed(flat, painted, pressed, shrunk)
        if is_put_right:
            seen = correct(seen, gains)
        share = cv2.countNonZero(painted) / painted.size
        found.append(read_cover_at(seen, covering.split, run).cover - share)
        painted = _above(seen, covering, "cut")
    first, second = found
    return value("photo_smear_factor") * (2 * first - second)


def without_smear(covering: Covering, smear: float) -> Covering:
    """Take a smear out of a cover; what is not green is pale and bare in the same parts as before.

    Parameters
    ----------
    covering : Covering
        As read.
    smear : float
        Cover read less cover. [-]
    """
    cover = min(max(covering.cover - smear, 0.0), 1.0)
    rest = covering.pale + covering.bare
    pale = (1 - cover) * covering.pale / rest if rest > 0 else 0.0
    return replace(covering, cover=cover, pale=pale, bare=1 - cover - pale)


def _spread(plot: Pixels) -> Pixels:
    """Put squares from all over the plot together; their seams lie between the file's blocks."""
    many, side = round(value("photo_smear_squares")), round(value("photo_smear_square_px"))
    high, wide = plot.shape[:2]
    tops = np.linspace(0, max(high - side, 0), many).astype(int)
    lefts = np.linspace(0, max(wide - side, 0), many).astype(int)
    return np.vstack([np.hstack([plot[y : y + side, x : x + side] for x in lefts]) for y in tops])


def _above(pixels: Pixels, covering: Covering, cut: str) -> Pixels:
    """Mark pixels whose excess green is above a cut, in one pass."""
    level = 1 + covering.split.at(value(_CUTS[cut]))
    # 3G/(R + G + B) > level, multiplied out; what is below nought is cut off at nought.
    weights = np.array([[-level, 3 - level, -level]])
    _, marked = cv2.threshold(cv2.transform(pixels, weights), 0, 255, cv2.THRESH_BINARY)
    return np.asarray(marked, np.uint8)


def _ground_colour(part: Pixels, covering: Covering) -> tuple[float, ...]:
    sure = cv2.erode(cv2.bitwise_not(_above(part, covering, "ground")), _REACH)
    if cv2.countNonZero(sure) >= _ENOUGH:
        return tuple(cv2.mean(part, sure)[:3])
    rest = cv2.bitwise_not(_above(part, covering, "leaf"))
    return tuple(cv2.mean(part, rest if cv2.countNonZero(rest) else None)[:3])


def _pressed(flat: Pixels, painted: Pixels, pressed: Pressed, shrunk: float) -> Pixels:
    """Paint ground and leaf in their colours, and press them as the file was."""
    high, wide = painted.shape
    mask = painted
    if shrunk > 1:
        size = (round(wide * shrunk), round(high * shrunk))
        mask = np.asarray(cv2.resize(mask, size, interpolation=cv2.INTER_NEAREST), np.uint8)
    table = np.repeat(flat[None, :1], 256, axis=1)
    table[0, 255] = flat[1]
    seen = press(np.asarray(cv2.LUT(cv2.merge([mask, mask, mask]), table), np.uint8), pressed)
    if shrunk > 1:
        seen = np.asarray(cv2.resize(seen, (wide, high), interpolation=cv2.INTER_NEAREST), np.uint8)
    return seen
