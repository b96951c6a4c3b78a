"""Room for words: a chart is made wide enough that none of its words is cut off at an edge."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import cos, radians, sin
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_REGULAR = {
    222: "ijl’'|", 278: " !,./:;I[]ft\\", 333: "()-`r²³·“”{}\"", 389: "*°", 500: "Jcksvxyz^",
    556: "#$0123456789?L_abdeghnopqu–±≤≥", 584: "+<=>~−×", 611: "FTZ", 667: "&ABEKPSVXY",
    722: "CDHNRUw", 778: "GOQ", 833: "Mm", 889: "%", 944: "W", 1000: "…@",
}  # fmt: skip
"""Widths of letters in thousandths of their size: Liberation Sans, which is as wide as Arial."""
_WIDE = {letter: width / 1000 for width, letters in _REGULAR.items() for letter in letters}
_OTHER, _BOLD = 0.6, 1.07
OTHER_LETTERS = 1.15
"""A phone without such letters takes others, which may be so much wider: DejaVu Sans is."""
_ABOVE, _BELOW = 0.75, 0.21
"""How far letters reach above and below the line they stand on, in shares of their size."""
_LEAST = 0.5
"""Less than this is not seen. [px]"""
_MOVED = re.compile(r"translate\(([-\d.e]+)[ ,]+([-\d.e]+)\)")
_TURNED = re.compile(r"rotate\(([-\d.e]+)\)")
_Box = tuple[float, float, float, float]


def wide(words: str, size: float, *, is_bold: bool = False) -> float:
    """Tell how wide words are drawn [px], of letters so large [px]."""
    own = sum(_WIDE.get(letter, _OTHER) for letter in words)
    return own * size * (_BOLD if is_bold else 1.0)


def give_room(drawing: Element, spare: float = 1.0) -> None:
    """Make a drawing larger where words would be cut off at its edge; others stay as they are.

    Parameters
    ----------
    drawing : Element
        The SVG as the renderer made it; its size and what it shows are changed in place.
    spare : float
        By how much wider letters may come out than those it was drawn with. [-]
    """
    left, top, across, down = (float(each) for each in drawing.attrib["viewBox"].split())
    seen = (left, top, left + across, top + down)
    sides = list(zip(seen, *_boxes(drawing, (0.0, 0.0), spare), strict=True))
    ends = (min(sides[0]), min(sides[1]), max(sides[2]), max(sides[3]))
    over = (left - ends[0], top - ends[1], ends[2] - left - across, ends[3] - top - down)
    more = [round(each + 1, 1) if each > _LEAST else 0.0 for each in over]
    if not any(more):
        return
    size = (across + more[0] + more[2], down + more[1] + more[3])
    at = {"width": f"{size[0]:g}", "height": f"{size[1]:g}"}
    drawing.attrib.update(at)
    drawing.attrib["viewBox"] = f"{left - more[0]:g} {top - more[1]:g} {size[0]:g} {size[1]:g}"
    ground = next((each for each in drawing if each.tag.endswith("}rect")), None)
    if ground is not None:
        ground.attrib.update({**at, "x": f"{left - more[0]:g}", "y": f"{top - more[1]:g}"})


def _boxes(part: Element, at: tuple[float, float], spare: float) -> Iterator[_Box]:
    """Find where words stand; words that are hidden, as labels that overlap are, take no room."""
    moved = _MOVED.search(part.attrib.get("transform", ""))
    if moved:
        at = (at[0] + float(moved[1]), at[1] + float(moved[2]))
    if part.tag.endswith("}text") and part.attrib.get("opacity") != "0":
        yield from _lines(part, at, spare)
        return
    for each in part:
        yield from _boxes(each, at, spare)


def _lines(text: Element, at: tuple[float, float], spare: float) -> Iterator[_Box]:
    size = float(text.attrib.get("font-size", "12").removesuffix("px"))
    is_bold = text.attrib.get("font-weight") == "bold"
    turned = _TURNED.search(text.attrib.get("transform", ""))
    angle = radians(float(turned[1])) if turned else 0.0
    down = 0.0
    for words, step in [(text.text, 0.0), *((x.text, float(x.get("dy", "0"))) for x in text)]:
        down += step
        if not words:
            continue
        long = wide(words, size, is_bold=is_bold) * spare
        first = {"middle": -long / 2, "end": -long}.get(text.attrib.get("text-anchor", ""), 0.0)
        corners = [(x, down + y) for x in (first, first + long)
                   for y in (-_ABOVE * size, _BELOW * size)]  # fmt: skip
        xs = [at[0] + x * cos(angle) - y * sin(angle) for x, y in corners]
        ys = [at[1] + x * sin(angle) + y * cos(angle) for x, y in corners]
        yield min(xs), min(ys), max(xs), max(ys)
