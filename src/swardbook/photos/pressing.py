"""How hard a picture's file was pressed, read from the file itself, and pressing so again.

A JPEG tells the steps to which it rounded lightness and colour, and whether it kept colour at half
the resolution (ITU-T T.81, tables of quantisation and sampling factors).
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, JpegImagePlugin

Pixels = NDArray[np.uint8]
_COARSE = 4
"""Of eight by eight waves the coarser ones, of which leaves are made."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """How a JPEG was pressed.

    Parameters
    ----------
    tables : tuple of tuple of int
        Steps of lightness and of colour, each eight by eight, row by row.
    sampling : int
        How colour is kept: 0 whole, 1 at half the width, 2 at half the width and height.
    """

    tables: tuple[tuple[int, ...], ...]
    sampling: int

    @property
    def colour_step(self) -> float:
        """Mean step of the coarser waves of colour [of 255]."""
        table = np.array(self.tables[-1]).reshape(8, 8)
        return float(table[:_COARSE, :_COARSE].mean())


def pressed_of(image: Image.Image) -> Pressed | None:
    """Read how a picture was pressed; None where it was not, or does not tell.

    Parameters
    ----------
    image : Image
        The picture, opened but not decoded.
    """
    held: Any = image
    tables: dict[int, list[int]] = getattr(held, "quantization", {})
    sampling = JpegImagePlugin.get_sampling(held) if tables else -1
    if sampling not in {0, 1, 2}:
        return None
    kept = [tuple(min(max(step, 1), 255) for step in tables[which]) for which in sorted(tables)[:2]]
    if any(len(table) != 64 for table in kept):
        return None
    return Pressed(tuple(kept), sampling)


def press(pixels: Pixels, pressed: Pressed) -> Pixels:
    """Press pixels as a picture was pressed, and open them again.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    pressed : Pressed
        How.
    """
    made = io.BytesIO()
    tables = [list(table) for table in pressed.tables]
    Image.fromarray(pixels).save(made, "JPEG", qtables=tables, subsampling=pressed.sampling)
    found = cv2.imdecode(np.frombuffer(made.getvalue(), np.uint8), cv2.IMREAD_COLOR_RGB)
    return np.asarray(found, np.uint8)
