"""What a tape gives of a shape: its area and its corners."""

from __future__ import annotations

import re
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_quantity
from swardbook.husbandry.areas import between_offsets, circle, ellipse, oblong, triangle
from swardbook.husbandry.places import oval, triangle_corners
from swardbook.husbandry.where import Ring

_TIMES = r"\s*(?:x|×|by)\s*"


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape by tape.

    Parameters
    ----------
    area_m2 : float
        Its area. [m²]
    corners : tuple of (float, float)
        Corners in order, from its own south-west corner; rounded shapes have many. [m]
    """

    area_m2: float
    corners: Ring


def read_area(area: str, sides: str) -> float:
    """Read an area, or what a tape gives of a shape.

    Parameters
    ----------
    area : str
        Such as ``240``, ``0.2 ac`` or ``200 yd2``; a bare number is m².
    sides : str
        See `read_shape`.

    Returns
    -------
    float
        The area. [m²]

    Raises
    ------
    BadInputError
        If neither or both are given, or one cannot be read.
    """
    if bool(area) == bool(sides):
        raise BadInputError("the size", area or "nothing", "either --area 240 or --sides 32x25.6")
    return read_quantity(area, "m2", "--area").value if area else read_shape(sides).area_m2


def read_shape(sides: str) -> Shape:
    """Read what a tape gives of a shape.

    Parameters
    ----------
    sides : str
        ``32x25.6`` for an oblong, ``12x9x8`` for a triangle, ``8 across`` for a circle,
        ``12x8 across`` for an ellipse, or
        ``0, 4.2, 5.6, 0 every 2`` for offsets from a base line; bare numbers are metres.

    Raises
    ------
    BadInputError
        If it cannot be read.
    """
    text = re.sub(r"^(?:oblong|triangle)\s+", "", sides.strip().casefold())
    if across := re.fullmatch(r"(.+?)\s*across", text):
        widths = [_metres(part) for part in re.split(_TIMES, across[1])]
        if len(widths) <= 2:
            area = ellipse(*widths) if len(widths) == 2 else circle(widths[0])
            return Shape(area, oval(widths[0], widths[-1]))
    if offsets := re.fullmatch(r"(.+?)\s*every\s+(.+)", text):
        return _between(offsets[1].strip(), _metres(offsets[2]), sides)
    lengths = [_metres(part) for part in re.split(_TIMES, text)]
    if len(lengths) == 2:
        long, short = lengths
        return Shape(oblong(long, short), ((0.0, 0.0), (long, 0.0), (long, short), (0.0, short)))
    if len(lengths) == 3:
        return Shape(triangle(*lengths), triangle_corners(*lengths))
    raise BadInputError(
        "--sides", sides,
        "two lengths in metres such as 32x25.6, three for a triangle, '8 across' or"
        " '0, 4.2, 5.6, 0 every 2'",
    )  # fmt: skip


def _between(text: str, every: float, sides: str) -> Shape:
    parts = re.split(r"\s*;\s*|\s*,\s+", text)
    parts = parts if len(parts) > 1 else text.split()
    if any(part.count(",") > 1 for part in parts):
        such_as = "'0, 4.2, 5.6, 0 every 2'"
        raise BadInputError("--sides", sides, f"a space after each comma, as in {such_as}")
    off = [_metres(each) for each in parts]
    area = between_offsets(off, every)
    edge = [(n * every, each) for n, each in reversed(list(enumerate(off))) if each > 0]
    return Shape(area, ((0.0, 0.0), ((len(off) - 1) * every, 0.0), *edge))


def _metres(text: str) -> float:
    return read_quantity(text, "m", "--sides").value / 1000
