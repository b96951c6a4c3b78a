"""Drawings as part of a page: kept on a phone with it, in its letters, and heard."""

from __future__ import annotations

import re
from hashlib import sha256
from urllib.parse import quote

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

_PLAIN = " ='/:;,()?&!*+@$-_.~"
"""Signs that an address in double quotes may hold as they are."""
_FORBIDDEN = re.compile(
    r"<(?:script|style|foreignObject|a)\b|\s(?:style|on\w+|href)=", re.IGNORECASE
)
"""What the pages' policy would not run or show, or what would lead away."""
_NAMED = re.compile(r'\b(id="|url\(#|aria-labelledby="|aria-describedby="|href="#)([^")]+)')


def as_part_of_page(svg: str) -> SafeString:
    """Write a drawing of ours into a page; one that the policy would not show, into an address.

    Parameters
    ----------
    svg : str
        The drawing, as `swardbook.figures` made it.
    """
    drawn = svg[svg.index("<svg") :]
    if _FORBIDDEN.search(drawn):
        return format_html('<img src="{}" alt="">', as_address(svg))
    mark = sha256(drawn.encode()).hexdigest()[:8]
    named = _NAMED.sub(rf"\g<1>{mark}-\g<2>", drawn)
    return mark_safe(named)  # drawn by us, and looked through above


def as_address(svg: str) -> str:
    """Write a drawing into an address.

    Parameters
    ----------
    svg : str
        The drawing.
    """
    return f"data:image/svg+xml,{quote(svg, safe=_PLAIN)}"
