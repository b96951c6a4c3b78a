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
_AS_IT_IS = re.compile(r"<(script|style|svg|textarea|pre|code|select|datalist|template)\b")
"""What is run, drawn, typed over or copied."""
_UNITS = (
    r"(?:%|°[CF]?|m[²³]?|mm|cm|km|kg|g|t|L|h|min|d|ha|in|ft[²³]?|yd[²³]?|oz|lb|(?:U[KS] )?gal|mph)"
    r"(?![\w²³])"
)
_BREAK = re.compile(
    r"[ %](?<=[\dCFgKS][ %])"  # most spaces of a page are let go of here
    rf"(?:(?<=\d )(?={_UNITS})|(?<=\d%)(?!\w)|(?<=°[CF] )(?=d\b)|(?<= g )(?=N\b)"
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
    parts, begin = [], 0
    while opened := _AS_IT_IS.search(page, begin):
        closing = f"</{opened[1]}>"
        closed = page.find(closing, opened.end())
        end = closed + len(closing) if closed >= 0 else len(page)
        parts += [_BREAK.sub(_firmly, page[begin : opened.start()]), page[opened.start() : end]]
        begin = end
    return "".join([*parts, _BREAK.sub(_firmly, page[begin:])])


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
