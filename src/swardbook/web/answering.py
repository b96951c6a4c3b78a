"""A page, or word that what it needs is being worked out."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from swardbook.web.remembering import Working


def show(
    request: HttpRequest, template: str, about: dict[str, Any], status: int = 200
) -> HttpResponse:
    """Show a page, or that what it needs is being worked out.

    Parameters
    ----------
    request : HttpRequest
        What was asked.
    template : str
        Name of the page's template.
    about : dict
        What it shows; where a value is `Working`, the page says so and comes by itself later.
    status : int
        Status of the page itself.

    Returns
    -------
    HttpResponse
        With status 202 while something is being worked out.
    """
    waits = [each for each in about.values() if isinstance(each, Working)]
    if waits:
        return render(request, "pages/working.html", {"works": waits}, status=202)
    return render(request, template, about, status=status)


def show_all(request: HttpRequest, template: str, about: dict[str, Any] | Working) -> HttpResponse:
    """Show a page of which everything is worked out together, or that it is being worked out.

    Parameters
    ----------
    request : HttpRequest
        What was asked.
    template : str
        Name of the page's template.
    about : dict or Working
        What it shows.
    """
    return show(request, template, {"all": about} if isinstance(about, Working) else about)
