"""Drawings as part of a page, so that a page kept on a phone holds its pictures."""

from __future__ import annotations

import re
from urllib.parse import quote

_PLAIN = " ='/:;,()?&!*+@$-_.~"
"""Signs that an address in double quotes may hold as they are."""


def as_address(svg: str) -> str:
    """Write a drawing into an address.

    Parameters
    ----------
    svg : str
        The drawing.
    """
    return f"data:image/svg+xml,{quote(svg, safe=_PLAIN)}"


def size_of(svg: str) -> dict[str, int]:
    """Read the width and height that a drawing states [px]; nothing where it states none."""
    head = svg[: svg.find(">", svg.find("<svg"))]
    found = {name: re.search(rf'\b{name}="([0-9.]+)(?:px)?"', head) for name in ("width", "height")}
    return {name: round(float(each[1])) for name, each in found.items() if each}
