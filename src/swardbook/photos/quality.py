"""Is a picture good enough? Each gate says what it saw and what to do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value
from swardbook.photos.colour import linear_light
from swardbook.photos.correcting import Whites
from swardbook.photos.covering import Covering

Pixels = NDArray[np.uint8]
_BLOCKS = 8
_GREY_SIDE = 1200
_WIDE = "a leaf must be six pixels wide"


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a picture, and what to do.

    Parameters
    ----------
    name : str
        Such as ``blurred`` or ``cards missing``.
    seen : str
        What was measured, in words.
    do : str
        What to do about it.
    spoils_cover : bool
        Whether cover cannot be trusted either; else only colour.
    """

    name: str
    seen: str
    do: str
    spoils_cover: bool


@dataclass(frozen=True, slots=True)
class Looks:
    """Measures of how a picture came out.

    Parameters
    ----------
    sharpness : float
        Share of the variance of grey that arises between two and four pixels. [-]
    darkness : float
        Median grey of full scale. [-]
    uneven : float
        Light of the lightest eighths of the plot over that of the darkest. [-]
    """

    sharpness: float
    darkness: float
    uneven: float


@dataclass(frozen=True, slots=True)
class Pressing:
    """How hard a picture's file was pressed to be small.

    Parameters
    ----------
    colour_step : float
        Step to which the coarser waves of its colour were rounded; 0 where none were. [of 255]
    is_told : bool
        Whether the file tells that.
    """

    colour_step: float = 0.0
    is_told: bool = True


def looks_of(pixels: Pixels) -> Looks:
    """Measure how a picture came out.

    Sharpness is taken from how much two pixels differ four apart and two apart: sharp leaves differ
    more, blurred ones do not, and noise, which differs as much at both, drops out.

    Parameters
    ----------
    pixels : array of uint8
        The plot, red, green and blue on the last axis. [of 255]
    """
    high, wide = pixels.shape[:2]
    part = pixels
    if max(high, wide) > _GREY_SIDE:  # the middle is enough
        top, left = max(high - _GREY_SIDE, 0) // 2, max(wide - _GREY_SIDE, 0) // 2
        part = np.ascontiguousarray(pixels[top : top + _GREY_SIDE, left : left + _GREY_SIDE])
    grey = np.asarray(cv2.cvtColor(part, cv2.COLOR_RGB2GRAY), np.uint8)
    blocks = cv2.resize(pixels, (_BLOCKS, _BLOCKS), interpolation=cv2.INTER_AREA)
    light = linear_light(np.asarray(blocks, np.uint8)).mean(-1)
    low, top_light = np.quantile(light, [0.1, 0.9])
    return Looks(
        (apart_at(grey, 4) - apart_at(grey, 2)) / max(float(grey.var()), 1e-6),
        float(np.median(grey[::4, ::4])) / 255,
        float(top_light / max(low, 1e-4)),
    )


def apart_at(grey: Pixels, lag: int) -> float:
    """Mean square difference of pixels so far apart, along rows and down columns.

    Parameters
    ----------
    grey : array of uint8
        One channel. [of 255]
    lag : int
        How far. [px]

    Returns
    -------
    float
        The mean square. [-]
    """
    along = cv2.absdiff(grey[:, lag:], grey[:, :-lag])
    down = cv2.absdiff(grey[lag:], grey[:-lag])
    return (
        cv2.norm(along, cv2.NORM_L2SQR) / along.size + cv2.norm(down, cv2.NORM_L2SQR) / down.size
    ) / 2


def faults_of(
    looks: Looks,
    covering: Covering,
    whites: Whites | None,
    missing: str,
    mm_per_px: float | None,
    grain_px: float | None,
    pressing: Pressing,
) -> tuple[Fault, ...]:
    """List what is wrong with a picture.

    Parameters
    ----------
    looks : Looks
        How it came out.
    covering : Covering
        What its pixels add up to.
    whites : Whites or None
        Light on the cards; None without cards.
    missing : str
        Letters of cards that were not found.
    mm_per_px : float or None
        What a pixel covers; None without scale. [mm]
    grain_px : float or None
        Grain of the plot; None without texture. [px]
    pressing : Pressing
        How hard its file was pressed.
    """
    return (
        *_of_cards(whites, missing),
        *_of_light(looks, covering, whites),
        *_of_file(pressing),
        *_of_detail(looks, covering, mm_per_px, grain_px, pressing),
    )


def _of_cards(whites: Whites | None, missing: str) -> Iterator[Fault]:
    if missing:
        found = "none of the four cards" if len(missing) == 4 else f"no card {', '.join(missing)}"
        yield Fault(
            "cards missing", found,
            "Take it again with all four cards flat and in the picture, nothing lying on them;"
            " without them there is no scale, and where the plot ends is not known.", True,
        )  # fmt: skip
    if whites is None:
        yield Fault(
            "no white to go by", "no card whose patches are in the picture",
            "Lay the printed cards; colour is not comparable without them.", False,
        )  # fmt: skip
    elif whites.clipped:
        yield Fault(
            "white burnt out", "the paper of a card is at the end of the scale",
            "Touch a card on the screen so that the phone exposes for it, or darken by a step.",
            False,
        )  # fmt: skip


def _of_light(looks: Looks, covering: Covering, whites: Whites | None) -> Iterator[Fault]:
    on_cards = whites.uneven if whites else 1.0
    uneven = max(looks.uneven, on_cards)
    most, most_on_cards = value("photo_uneven_plot_most"), value("photo_uneven_cards_most")
    if looks.uneven > most or on_cards > most_on_cards:
        yield Fault(
            "shadow", f"one part has {uneven:.1f} times the light of another",
            "Shade the whole plot, or wait until all of it is in sun or under cloud; keep your own"
            " shadow and your feet out.", True,
        )  # fmt: skip
    if covering.glare > value("photo_glare_most"):
        yield Fault(
            "glare", f"{100 * covering.glare:.1f} % of the plot shines white",
            "Let it dry, brush the dew off, or stand where the sky is not mirrored.", True,
        )  # fmt: skip
    elif covering.clipped > value("photo_clipped_most"):
        yield Fault(
            "too light", f"{100 * covering.clipped:.0f} % of the plot is at the end of the scale",
            "Darken by a step and take it again.", False,
        )  # fmt: skip
    if looks.darkness < value("photo_darkness_least"):
        yield Fault(
            "too dark", f"half the plot is below {100 * looks.darkness:.0f} % of full scale",
            "Take it in more light; not with the flash.", True,
        )  # fmt: skip


def _of_file(pressing: Pressing) -> Iterator[Fault]:
    if not pressing.is_told:
        yield Fault(
            "pressed, not told how",
            "the file gave up part of the picture and does not say how much",
            "Send the JPEG as the phone wrote it.", True,
        )  # fmt: skip
    elif pressing.colour_step > value("photo_colour_step_most"):
        yield Fault(
            "pressed too hard", f"its file rounds colour to {pressing.colour_step:.0f} of 255,"
            f" where {value('photo_colour_step_most'):.0f} or less are needed",
            "Send the file as the phone wrote it, not as a messenger passed it on; or set the"
            " camera to its best quality and take it again.", True,
        )  # fmt: skip


def _of_detail(
    looks: Looks, covering: Covering, mm_per_px: float | None, grain_px: float | None,
    pressing: Pressing,
) -> Iterator[Fault]:  # fmt: skip
    if looks.sharpness < value("photo_sharpness_least"):
        yield Fault(
            "blurred", f"sharpness {looks.sharpness:.2f},"
            f" where {value('photo_sharpness_least'):.2f} is needed",
            "Wipe the lens, touch the grass on the screen to focus, hold still, take it again.",
            True,
        )  # fmt: skip
    if mm_per_px is not None and mm_per_px > value("photo_mm_per_px_most"):
        yield Fault(
            "too far", f"a pixel covers {mm_per_px:.1f} mm",
            f"Go nearer, or take the plot in parts: {_WIDE}.", True,
        )  # fmt: skip
    apart = abs(covering.plain_cover - covering.cover)
    if apart > value("photo_cover_disagree"):
        yield Fault(
            "leaves too thin", f"two ways to reckon cover differ by {100 * apart:.0f} points",
            f"Go nearer: {_WIDE}.", True,
        )  # fmt: skip
    elif _is_thin(covering, grain_px, pressing):
        yield Fault(
            "leaves too thin", f"grain {grain_px:.1f} pixels, where"
            f" {_grain_needed(covering, pressing):.1f} are needed in a file pressed as this one",
            f"Go nearer, or take the plot in parts: {_WIDE}.", True,
        )  # fmt: skip


def _is_thin(covering: Covering, grain_px: float | None, pressing: Pressing) -> bool:
    """Tell whether pressing smears leaves through, so that no leaf shows its own colour."""
    if grain_px is None or covering.plain_cover < value("photo_thin_leaf_cover_least"):
        return False
    return grain_px < _grain_needed(covering, pressing)


def _grain_needed(covering: Covering, pressing: Pressing) -> float:
    """Give the least grain: the more edges there are and the harder they were pressed, the more."""
    more = value("photo_grain_per_step_px") * pressing.colour_step * covering.edges
    return value("photo_grain_least_px") + more
