"""The morning look and the week."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from swardbook.book import plan
from swardbook.web.opened import the_book


@require_safe
def morning(request: HttpRequest) -> HttpResponse:
    """Show what stops you today, what is drying, what is due, and what is held off and why."""
    return render(request, "pages/morning.html", {"look": plan.morning(the_book())})


@require_safe
def week(request: HttpRequest) -> HttpResponse:
    """Show this week's tasks with their reasons; with ``?worth`` also what each is worth."""
    from swardbook.book.worth import worth_of

    book, shows_worth = the_book(), "worth" in request.GET
    found = plan.week(book, worth=worth_of(book)) if shows_worth else plan.week(book)
    return render(request, "pages/week.html", {"week": found, "shows_worth": shows_worth})
