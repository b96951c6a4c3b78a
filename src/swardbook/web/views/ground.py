"""The zones of the ground: each with its stage, its clock, what is fit and what is due."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from swardbook.book import plan
from swardbook.book.ground import show_zones
from swardbook.planning.states import Overall
from swardbook.web.opened import the_book


@require_safe
def zones(request: HttpRequest) -> HttpResponse:
    """List the zones."""
    book = the_book()
    clocks = {each.zone: each for each in plan.clocks(book)}
    shown = [(each, clocks.get(each.zone.name)) for each in show_zones(book)]
    return render(request, "pages/ground.html", {"zones": shown})


@require_safe
def zone(request: HttpRequest, zone: str) -> HttpResponse:
    """Show one zone."""
    book = the_book()
    (shown,) = show_zones(book, zone)
    found = plan.fits(book, zone)
    about = {
        "shown": shown,
        "clock": plan.clocks(book, zone)[0],
        "fits": [(word, [fit for fit in found if fit.overall is word]) for word in Overall],
        "week": plan.week(book, zone),
    }
    return render(request, "pages/zone.html", about)


@require_safe
def fit(request: HttpRequest, zone: str, job: str) -> HttpResponse:
    """Show one job in one zone, condition by condition."""
    (found,) = plan.fits(the_book(), zone, job)
    return render(request, "pages/fit.html", {"fit": found})
