"""Pages for the desk: a zone's season, the diary, the seed shed, numbers with their sources."""

from __future__ import annotations

import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_http_methods, require_safe

from swardbook.book import diary as book_diary
from swardbook.book.archive import export_book
from swardbook.book.check_up_machine import how_copies_stand
from swardbook.book.counts import show_counts
from swardbook.book.ground import show_zones
from swardbook.book.kept import kept_in
from swardbook.book.lots import LotCard, lot_card, lot_cards
from swardbook.book.opening import Book, is_for_others
from swardbook.book.pictures import draw_counts, draw_mixture, draw_seeds, draw_weather
from swardbook.book.seed import question_of_lot, work_out
from swardbook.book.units import choose_units
from swardbook.book.who_did_what import EXPORTED, tell_done
from swardbook.cli.telling import short_id, tell, tell_what, tell_when
from swardbook.figures.picture import Picture
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.units import COMMA, POINT, System
from swardbook.handbook.parameters import parameters
from swardbook.handbook.sources import sources
from swardbook.husbandry.happenings import Sow
from swardbook.web.answering import show, show_all
from swardbook.web.at_hand import the_ground, zone_names
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import PATIENCE, remembered, soon

PER_PAGE = 60
LATEST = 12
"""Entries of the diary that a zone's page shows."""
SYSTEMS = {
    System.METRIC: _("Metric"), System.IMPERIAL: _("Imperial"), System.US: _("United States"),
}  # fmt: skip
FIRST = ("annual meadow-grass", "Yorkshire fog", "bare")
"""Kinds whose counts are drawn first; the others follow by how often they were counted."""
MOST_DRAWN = 4
QUESTIONS = (
    "look-ahead", "better-or-worse", "cut/plan", "verticut/plan", "feed/plan", "water/plan",
    "count/show", "count/plan", "mixture/choose", "sow/when", "sow/watch", "survey/show",
    "route/compare", "what-is-wrong", "workings",
)  # fmt: skip
"""Questions that a zone's page offers."""


@require_safe
def season(request: HttpRequest, zone: str) -> HttpResponse:
    """Show a zone's counts over time, what was sown, answers kept and what was done lately."""
    about = soon(f"season {zone}", lambda book: _season(book, zone), zone, 10, patience=PATIENCE)
    return show_all(request, "pages/season.html", about)


def _season(book: Book, name: str) -> dict[str, Any]:
    from swardbook.web.asking.questions import questions

    (shown,) = show_zones(book, name)
    entries = [each.entry for each in book_diary.show(book, zone=name)]
    sowings = [each for each in entries if isinstance(each.what, Sow) and each.zone]
    asked = [questions()[tuple(path.split("/"))] for path in QUESTIONS]
    return {
        "shown": shown,
        "pictures": [
            drawn for kind in _counted(book, name) if (drawn := _counts(book, name, kind))
        ],
        "sowings": [
            (each, tell_when(each.when), tell_what(each.what)) for each in reversed(sowings)
        ],
        "kept": kept_in(book, name),
        "latest": [(short_id(each), tell(each), each) for each in reversed(entries[-LATEST:])],
        "questions": asked,
    }


def _counted(book: Book, zone: str) -> list[str]:
    """List the kinds that were counted in a zone, those that matter first."""
    times = Counter(est.kind for shown in show_counts(book, zone) for est in shown.estimates)
    rest = [kind for kind, _times in times.most_common() if kind not in FIRST]
    return [*(kind for kind in FIRST if kind in times), *rest][:MOST_DRAWN]


def _counts(book: Book, zone: str, kind: str) -> Picture | None:
    try:
        return draw_counts(book, zone, kind)
    except NotEnoughDataError:
        return None


@require_safe
def diary(request: HttpRequest) -> HttpResponse:
    """Show what was done and seen, the latest first."""
    zone, kind = request.GET.get("zone", ""), request.GET.get("kind", "")
    is_all, looks = "all" in request.GET, "looks" in request.GET
    found = remembered(
        f"diary {zone}, {kind}, {is_all}, {looks}",
        lambda book: [
            (short_id(each.entry), tell(each.entry), each)
            for each in reversed(
                book_diary.show(
                    book, zone=zone, kind=kind, with_corrected=is_all, only_to_look_at=looks
                )
            )
        ],
    )
    kinds = remembered("kinds", lambda book: sorted({e.what.kind for e in book.ground().diary}))
    about = {
        "page": Paginator(found, PER_PAGE).get_page(request.GET.get("page")),
        "zones": zone_names(),
        "pager_query": _without_page(request), "kinds": kinds, "zone": zone, "kind": kind,
        "is_all": is_all, "looks": looks,
    }  # fmt: skip
    return show(request, "pages/diary.html", about)


@require_safe
def shed(request: HttpRequest) -> HttpResponse:
    """List the lots of seed."""
    return show(request, "pages/shed.html", {"cards": remembered("shed", _cards)})


def _cards(book: Book) -> list[LotCard]:
    return list(lot_cards(book))


@require_safe
def lot(request: HttpRequest, code: str) -> HttpResponse:
    """Show one lot: by weight and by number, its seeds true to size, and where it went."""
    about = soon(f"lot {code}", lambda book: _lot(book, code), code, 5, patience=PATIENCE)
    return show_all(request, "pages/lot.html", about)


def _lot(book: Book, code: str) -> dict[str, Any]:
    found, asked = question_of_lot(book, code)
    card = lot_card(book.ground(), code, book)
    pictures = []
    if card.mixture is not None:
        answer = work_out(asked)
        pictures = [
            draw_seeds(answer, found.mixture, book),
            draw_mixture(answer, found.mixture, book),
        ]
    went = [(tell_when(each.entry.when), each.entry.zone, each.grams) for each in card.uses]
    return {"card": card, "pictures": pictures, "went": went}


@require_safe
def weather(request: HttpRequest) -> HttpResponse:
    """Show the season's weather against past years."""
    return show(
        request,
        "pages/weather.html",
        {"picture": soon("weather", draw_weather, gettext("The weather"), 5, patience=PATIENCE)},
    )


@require_safe
def in_and_out(request: HttpRequest) -> HttpResponse:
    """Show how everything goes out, and what can come in."""
    return show(request, "pages/in_and_out.html", {})


@require_safe
def archive(request: HttpRequest) -> HttpResponseBase:
    """Give the whole book as one archive of open files."""
    del request
    book = the_book()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"swardbook-{book.today.isoformat()}.zip"
        export_book(book, path, to_others=is_for_others())
        tell_done(book, EXPORTED)
        answer = HttpResponse(path.read_bytes(), content_type="application/zip")
    answer.headers["Content-Disposition"] = f'attachment; filename="{path.name}"'
    return answer


@require_http_methods(["GET", "HEAD", "POST"])
def settings(request: HttpRequest) -> HttpResponseBase:
    """Show the site's facts and units; units are chosen here."""
    book = the_book()
    if request.method == "POST":
        choose_units(book, request.POST.get("units", ""), request.POST.get("decimal_mark", ""))
        return redirect("settings")
    site, now = the_ground().site, clock_now().astimezone()
    about = {
        "site": site, "systems": list(SYSTEMS.items()),
        "decimal_marks": (POINT, COMMA),
        "is_set_outside": bool(book.settings.units),
        "copies": how_copies_stand(book.settings, now, site.made_up_today is not None),
    }  # fmt: skip
    return show(request, "pages/settings.html", about)


@require_safe
def numbers(request: HttpRequest) -> HttpResponse:
    """List the handbook's numbers that a word is in, each with its range, grade and source."""
    asked = request.GET.get("q", "").strip()[:80]
    word = asked.casefold()
    found = [
        (key, each, sources().get(each.source))
        for key, each in parameters().items()
        if not word or word in f"{key} {each.note} {each.source} {each.grade.value}".casefold()
    ]
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    return show(request, "pages/numbers.html", {"page": page, "asked": asked,
                                                "pager_query": _without_page(request)})  # fmt: skip


def _without_page(request: HttpRequest) -> str:
    """Write what was asked but for the part of the list, ready to be added to."""
    asked = request.GET.copy()
    asked.pop("page", None)
    return f"{asked.urlencode()}&" if asked else ""


PAGES = (
    Page("ground/<str:zone>/season/", season, "season", Role.READER, sees="the diary",
         example={"zone": "Main court"}),
    Page("diary/", diary, "diary", Role.READER, title="Diary", shelf=Shelf.BOOK,
         sees="the diary",
         says="What was done and seen, the latest first; put right what is wrong."),
    Page("seed/", shed, "shed", Role.READER, title="Seed shed", shelf=Shelf.SEED,
         says="Every lot with its state, what is left and what its label or test says."),
    Page("seed/<str:code>/", lot, "lot", Role.READER, example={"code": "BB-0417"}),
    Page("weather/", weather, "weather", Role.READER, title="Weather", shelf=Shelf.GROUND,
         says="The last twelve months against past years."),
    Page("in-and-out/", in_and_out, "in-and-out", Role.READER, title="In and out", shelf=Shelf.BOOK,
         says="Take everything with you as open files; bring old records and weather in."),
    Page("in-and-out/book.zip", archive, "file-archive", Role.OWNER),
    Page("settings/", settings, "settings", Role.OWNER, ("GET", "POST"), title="Settings",
         shelf=Shelf.BOOK, says="Units and decimal mark, and the facts of the site."),
    Page("numbers/", numbers, "numbers", Role.READER, title="Numbers and their sources",
         shelf=Shelf.BOOK, says="Every threshold and range, with its grade and where it is from."),
)  # fmt: skip
