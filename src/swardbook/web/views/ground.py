"""The zones of the ground: each with its stage, its clock, what is fit and what is due."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from swardbook.book import plan
from swardbook.book.ground import ZoneShown, show_zones
from swardbook.book.lawns_standing import stands_for_both
from swardbook.book.opening import Book
from swardbook.planning.clock import SeedingClock
from swardbook.planning.states import Overall
from swardbook.web.answering import show
from swardbook.web.asker import who_asks
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import remembered


@require_safe
def zones(request: HttpRequest) -> HttpResponse:
    """List the zones."""
    both = remembered("stands for both", stands_for_both)
    is_owner = who_asks(request).role >= Role.OWNER
    about = {"zones": remembered("zones", _zones), "both": both, "is_owner": is_owner}
    return show(request, "pages/ground.html", about)


def _zones(book: Book) -> list[tuple[ZoneShown, SeedingClock | None]]:
    clocks = {each.zone: each for each in plan.clocks(book)}
    return [(each, clocks.get(each.zone.name)) for each in show_zones(book)]


@require_safe
def zone(request: HttpRequest, zone: str) -> HttpResponse:
    """Show one zone."""
    return show(
        request, "pages/zone.html", remembered(f"zone {zone}", lambda book: _zone(book, zone))
    )


def _zone(book: Book, name: str) -> dict[str, Any]:
    (shown,) = show_zones(book, name)
    found = plan.fits(book, name)
    return {
        "shown": shown,
        "clock": plan.clocks(book, name)[0],
        "fits": [(word, [fit for fit in found if fit.overall is word]) for word in Overall],
        "week": plan.week(book, name),
    }


@require_safe
def fit(request: HttpRequest, zone: str, job: str) -> HttpResponse:
    """Show one job in one zone, condition by condition."""
    (found,) = remembered(f"fit {zone}, {job}", lambda book: plan.fits(book, zone, job))
    return show(request, "pages/fit.html", {"fit": found})


PAGES = (
    Page("ground/", zones, "ground", Role.READER, title="Zones", shelf=Shelf.GROUND, offline=True,
         says="Every zone with its stage and its seeding clock."),
    Page("ground/<str:zone>/", zone, "zone", Role.READER, example={"zone": "Main court"},
         offline=True),
    Page("ground/<str:zone>/fit/<str:job>/", fit, "fit", Role.READER,
         example={"zone": "Main court", "job": "verticut"}),
)  # fmt: skip
