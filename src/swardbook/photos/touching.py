"""Cover by kinds that a person taught by touching a few places of a picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.evidence.estimates import Interval
from swardbook.evidence.proportions import wilson
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.photos.colour import lab

Pixels = NDArray[np.uint8]
Values = NDArray[np.float64]
KINDS_MOST = 4
_SIDE = 1200
_RIDGE = 0.05


@dataclass(frozen=True, slots=True)
class Touch:
    """A place of which the kind is known.

    Parameters
    ----------
    kind : str
        Such as ``sown``, ``weed`` or ``bare``.
    x, y : float
        Place, across from the left and down from the top. [px]
    """

    kind: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class KindShare:
    """Cover by one kind.

    Parameters
    ----------
    kind : str
        Its name.
    share : float
        Share of the plot that looks like it. [-]
    low, high : float
        What the share may be, given how held-back touches were taken. [-]
    touches : int
        How often it was touched.
    right : int
        How many of its held-back touches were taken for it.
    """

    kind: str
    share: float
    low: float
    high: float
    touches: int
    right: int


@dataclass(frozen=True, slots=True)
class Taught:
    """Cover by kind, and how far to trust it.

    Parameters
    ----------
    kinds : tuple of KindShare
        The kinds in the order in which they were first touched.
    right : int
        Held-back touches of all kinds that were taken right.
    touches : int
        All touches.
    right_range : Interval
        Share that would be taken right, at 95 %. [-]
    """

    kinds: tuple[KindShare, ...]
    right: int
    touches: int
    right_range: Interval


def cover_by_touch(pixels: Pixels, touches: Sequence[Touch]) -> Taught:
    """Share a plot out among kinds by the places that were touched.

    Each pixel goes to the kind it looks most like in lightness, two colours and unevenness, by
    linear discriminants (Fisher 1936) with a little ridge. Each touch is then held back in turn and
    taken by what the others teach: those errors, never those of touches it learned from, give the
    range of each share.

    Parameters
    ----------
    pixels : array of uint8
        The plot, red, green and blue on the last axis. [of 255]
    touches : sequence of Touch
        Places on it.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two kinds, or too few touches of one.
    BadInputError
        If there are too many kinds, or a touch lies outside.
    """
    kinds = _kinds(touches)
    shrink = max(max(pixels.shape[:2]) / _SIDE, 1.0)
    size = (round(pixels.shape[1] / shrink), round(pixels.shape[0] / shrink))
    small = np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA), np.uint8)
    looks = _looks(small)
    samples = [_sample(looks, touch, shrink, pixels.shape[:2]) for touch in touches]
    of = np.array([kinds.index(touch.kind) for touch in touches])
    weights = _taught(samples, of, len(kinds))
    called = _called(looks.reshape(-1, looks.shape[-1]), weights)
    shares = np.bincount(called, minlength=len(kinds)) / called.size
    held = np.array([_held_back(samples, of, at, len(kinds)) for at in range(len(touches))])
    edges = _edges(called.reshape(looks.shape[:2]), len(kinds))
    return _taught_cover(kinds, shares, edges, of, held)


def _kinds(touches: Sequence[Touch]) -> list[str]:
    kinds = list(dict.fromkeys(touch.kind for touch in touches))
    least = round(value("photo_touches_least"))
    counts = {kind: sum(touch.kind == kind for touch in touches) for kind in kinds}
    if len(kinds) > KINDS_MOST:
        raise BadInputError("--touch", ", ".join(kinds), f"two to {KINDS_MOST} kinds")
    if len(kinds) < 2 or min(counts.values()) < least:
        there = ", ".join(f"{kind} {many}" for kind, many in counts.items())
        raise NotEnoughDataError(
            "cover by kind", f"two kinds or more, each touched {least} times or more",
            there or "no touch",
        )  # fmt: skip
    return kinds


def _looks(pixels: Pixels) -> Values:
    """Give lightness, two colours and unevenness of each pixel."""
    reach = 2 * round(value("photo_touch_smooth_px")) + 1
    colour = lab(pixels).astype(np.float32)
    mean = cv2.blur(colour, (reach, reach))
    square = cv2.blur(np.square(colour[..., 0]), (reach, reach))
    uneven = np.sqrt(np.maximum(square - np.square(mean[..., 0]), 0))
    return np.dstack([mean, uneven]).astype(np.float64)


def _sample(looks: Values, touch: Touch, shrink: float, size: tuple[int, ...]) -> Values:
    high, wide = looks.shape[:2]
    if not (0 <= touch.x < size[1] and 0 <= touch.y < size[0]):
        raise BadInputError(
            f"--touch {touch.kind}", f"{touch.x:.0f},{touch.y:.0f}",
            f"a place on the plot: 0 to {size[1]} across, 0 to {size[0]} down",
        )  # fmt: skip
    reach = max(round(value("photo_touch_radius_px") / shrink), 2)
    x, y = round(touch.x / shrink), round(touch.y / shrink)
    rows, columns = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    inside = rows**2 + columns**2 <= reach**2
    rows = np.clip(rows[inside] + y, 0, high - 1)
    columns = np.clip(columns[inside] + x, 0, wide - 1)
    return np.asarray(looks[rows, columns], np.float64)


def _taught(samples: Sequence[Values], of: NDArray[np.int64], many: int) -> tuple[Values, Values]:
    """Give the weights and offsets of linear discriminants; kinds count alike."""
    groups = [
        np.concatenate([sample for sample, kind in zip(samples, of, strict=True) if kind == number])
        for number in range(many)
    ]
    means = np.array([group.mean(0) for group in groups])
    within = np.mean([np.cov(group.T) for group in groups], axis=0)
    within += _RIDGE * np.diag(np.diag(within)) + 1e-3 * np.eye(len(within))
    weights = np.linalg.solve(within, means.T)
    return weights, -0.5 * np.sum(means.T * weights, axis=0)


def _called(looks: Values, weights: tuple[Values, Values]) -> NDArray[np.int64]:
    return np.asarray((looks @ weights[0] + weights[1]).argmax(-1), np.int64)


def _held_back(samples: Sequence[Values], of: NDArray[np.int64], at: int, many: int) -> Values:
    """Share of a touch that the others take for each kind."""
    others = [sample for number, sample in enumerate(samples) if number != at]
    called = _called(samples[at], _taught(others, np.delete(of, at), many))
    return np.bincount(called, minlength=many) / called.size


def _edges(called: NDArray[np.int64], many: int) -> Values:
    """Share of the plot within a pixel of each kind's edge, inside and outside it.

    Touches lie well inside their kind, so their errors say nothing of edges.
    """
    near = np.ones((3, 3), np.uint8)
    found = []
    for kind in range(many):
        here = (called == kind).astype(np.uint8)
        inside = here.mean() - cv2.erode(here, near).mean()
        found.append((inside, cv2.dilate(here, near).mean() - here.mean()))
    return np.array(found)


def _taught_cover(
    kinds: list[str], shares: Values, edges: Values, of: NDArray[np.int64], held: Values
) -> Taught:
    """Turn errors of held-back touches into ranges; half a touch is added, for few are few."""
    many = len(kinds)
    counts = np.bincount(of, minlength=many)
    taken = np.array(
        [(held[of == kind].sum(0) + 0.5 / many) / (counts[kind] + 0.5) for kind in range(many)]
    )
    right = held.argmax(1) == of
    found = []
    for number, kind in enumerate(kinds):
        into = sum(shares[k] * taken[k, number] for k in range(many) if k != number)
        inside, outside = edges[number]
        out = sum(shares[number] * taken[number, k] for k in range(many) if k != number)
        low = max(shares[number] - into - inside, 0.0)
        high = min(shares[number] + out + outside, 1.0)
        found.append(
            KindShare(kind, float(shares[number]), float(low), float(high), int(counts[number]),
                      int(right[of == number].sum()))
        )  # fmt: skip
    return Taught(tuple(found), int(right.sum()), len(of), wilson(int(right.sum()), len(of)))
