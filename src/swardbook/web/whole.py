"""A number and its unit stay on one line, and a share is written in one way, on every page.

Sentences come from many rooms, for terminals, JSON and pages alike, with an ordinary space before
the unit. A narrow screen would break a line there. So the pages are gone through where they leave.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

Answer = Callable[[HttpRequest], HttpResponse]
FIRM = "\N{NO-BREAK SPACE}"
_AS_IT_IS = re.compile(
    r"(<(?:script|style|svg)\b.*?</(?:script|style|svg)>"
    r"|<(?:textarea|pre|code|option|template)\b.*?</(?:textarea|pre|code|option|template)>)",
    re.DOTALL,
)
"""What is run, drawn, typed over or copied."""
_UNITS = (
    r"(?:%|°[CF]?|m[²³]?|mm|cm|km|kg|g|t|L|h|min|d|ha|in|ft[²³]?|yd[²³]?|oz|lb|(?:U[KS] )?gal|mph)"
    r"(?![\w²³])"
)
_BREAK = re.compile(
    rf"[ %](?:(?<=\d )(?={_UNITS})|(?<=\d%)(?!\w)|(?<=°[CF] )(?=d\b)|(?<= g )(?=N\b)"
    r"|(?<=U[KS] )(?=gal\b))(?=[^<>]*(?:<|\Z))"
)


def kept_whole(page: str) -> str:
    """Keep each number and its unit together.

    Parameters
    ----------
    page : str
        A page as it is sent.

    Returns
    -------
    str
        The same with no-break spaces; attributes, forms' own words and what is copied stay.
    """
    parts = _AS_IT_IS.split(page)
    parts[::2] = [_BREAK.sub(_firmly, part) for part in parts[::2]]
    return "".join(parts)


def with_whole_units(answer: Answer) -> Answer:
    """Keep numbers and units together on what people read."""

    def kept(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        is_page = response.headers.get("Content-Type", "").startswith("text/html")
        if is_page and not response.streaming:
            response.content = kept_whole(response.content.decode()).encode()
        return response

    return kept


def _firmly(found: re.Match[str]) -> str:
    return FIRM if found[0] == " " else f"{FIRM}%"
