"""The list of all pages."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from swardbook.web.asker import who_asks
from swardbook.web.asking.questions import questions
from swardbook.web.page import Page, Role, Shelf, every_page


@require_safe
def more(request: HttpRequest) -> HttpResponse:
    """List all pages that whoever asks may see, shelf by shelf."""
    role = who_asks(request).role
    theirs = [page for page in every_page() if page.title and page.role <= role]
    asked = [each for each in questions().values() if each.role <= role]
    shelves = [
        (
            shelf.value,
            [page for page in theirs if page.shelf is shelf],
            [each for each in asked if each.shelf is shelf],
        )
        for shelf in Shelf
    ]
    about = {"shelves": [each for each in shelves if each[1] or each[2]]}
    return render(request, "pages/more.html", about)


PAGES = (Page("more/", more, "more", Role.READER, offline=True),)
