"""The morning look and the week."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from swardbook.book import plan
from swardbook.book.opening import Book
from swardbook.planning.week import Week
from swardbook.web.answering import show
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import remembered, soon


@require_safe
def morning(request: HttpRequest) -> HttpResponse:
    """Show what stops you today, what is drying, what is due, and what is held off and why."""
    return show(request, "pages/morning.html", {"look": remembered("morning", plan.morning)})


@require_safe
def week(request: HttpRequest) -> HttpResponse:
    """Show this week's tasks with their reasons; with ``?worth`` also what each is worth."""
    shows_worth = "worth" in request.GET
    found = (
        soon("week with worth", _with_worth, gettext("What each task is worth"), 60)
        if shows_worth
        else remembered("week", plan.week)
    )
    return show(request, "pages/week.html", {"week": found, "shows_worth": shows_worth})


def _with_worth(book: Book) -> Week:
    from swardbook.book.worth import worth_of

    return plan.week(book, worth=worth_of(book))


PAGES = (
    Page("", morning, "morning", Role.READER, title="Morning look", shelf=Shelf.LAWN, offline=True,
         says="What stops you today, what is drying, what is due, what is held off and why."),
    Page("week/", week, "week", Role.READER, title="This week", shelf=Shelf.LAWN, offline=True,
         says="Each task with its reason, its hours and what would make it wrong."),
)  # fmt: skip
