"""What an owner sees: better or worse, the letter, the waterproof page, coming back."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from swardbook.book.better_or_worse import NOTHING_PROMISED, GroundYear, ground_year
from swardbook.book.catch_up import CaughtUp, caught_up
from swardbook.book.comparing import DaysCompared, compare_days
from swardbook.book.count_sheet import read_kind
from swardbook.book.letter import (
    LEAVE_OUT,
    Letter,
    LetterAsked,
    letter_paper,
    write_letter,
)
from swardbook.book.opening import Book
from swardbook.book.pictures import draw_comparison
from swardbook.book.waterproof import WaterproofPage, waterproof_page, waterproof_paper
from swardbook.book.who_did_what import LETTER, tell_done
from swardbook.figures.picture import Picture
from swardbook.foundation.dates import read_day
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, SwardbookError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.observations.samples import Smallest
from swardbook.web.answering import show
from swardbook.web.at_hand import zone_names
from swardbook.web.guarding import status_of
from swardbook.web.opened import the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import PATIENCE, remembered, soon


@dataclass(frozen=True, slots=True)
class ZoneShown:
    """One zone's year with its picture, if there is enough to draw."""

    year: GroundYear
    picture: Picture | None


@require_safe
def years(request: HttpRequest) -> HttpResponse:
    """Say of every zone whether its year was better or worse."""
    kind = read_kind(request.GET.get("species", "") or ANNUAL_MEADOW_GRASS)
    found = remembered(f"years {kind}", lambda book: ground_year(book, kind, Smallest.customary()))
    return show(request, "pages/years.html", {"year": found, "note": NOTHING_PROMISED})


@require_safe
def zone_year(request: HttpRequest, zone: str) -> HttpResponse:
    """Show one zone's year: every count, the picture, and two days of one's own choice."""
    kind = read_kind(request.GET.get("species", "") or ANNUAL_MEADOW_GRASS)
    shown = remembered(f"year {kind} {zone}", lambda book: _zone_year(book, zone, kind))
    first, last = request.GET.get("from", ""), request.GET.get("to", "")
    about = {"shown": shown, "each": shown.year.zones[0], "note": NOTHING_PROMISED,
             "first": first, "last": last}  # fmt: skip
    if not (first or last):
        return show(request, "pages/zone_year.html", about)
    try:
        compared = _two_days(zone, kind, first, last)
    except SwardbookError as refusal:
        said = {**about, "said": str(refusal)}
        return show(request, "pages/zone_year.html", said, status_of(refusal))
    return show(request, "pages/zone_year.html", {**about, "compared": compared})


def _zone_year(book: Book, zone: str, kind: str) -> ZoneShown:
    year = ground_year(book, kind, Smallest.customary(), zone)
    try:
        return ZoneShown(year, draw_comparison(book, zone, kind, Smallest.customary()))
    except NotEnoughDataError:
        return ZoneShown(year, None)


def _two_days(zone: str, kind: str, first: str, last: str) -> DaysCompared:
    if not (first and last):
        raise BadInputError("the days", first or last, "two days that were counted")
    book = the_book()
    one, two = sorted(read_day(each, book.today) for each in (first, last))
    return compare_days(book, zone, kind, Smallest.customary(), one, two)


@require_safe
def letter(request: HttpRequest) -> HttpResponse:
    """Show the letter, with what it leaves out to be chosen."""
    asked = _asked(request)
    try:
        found = soon(
            _letter_question(asked), lambda book: write_letter(book, asked),
            gettext("The letter"), 8, patience=PATIENCE,
        )  # fmt: skip
    except SwardbookError as refusal:
        said = {"parts": _parts(asked), "since": asked.since, "said": str(refusal)}
        return show(request, "pages/letter.html", said, status_of(refusal))
    about = {"letter": found, "parts": _parts(asked), "since": asked.since,
             "asked": request.GET.urlencode()}  # fmt: skip
    return show(request, "pages/letter.html", about)


@require_safe
def letter_file(request: HttpRequest) -> HttpResponse:
    """Give the letter as a PDF of two sides at most."""
    asked = _asked(request)
    found: Letter = remembered(_letter_question(asked), lambda book: write_letter(book, asked))
    tell_done(the_book(), LETTER)
    return _paper(letter_paper(found), f"letter-{found.last.isoformat()}.pdf")


def _letter_question(asked: LetterAsked) -> str:
    return f"letter {sorted(asked.leave_out)} {asked.since}"


def _asked(request: HttpRequest) -> LetterAsked:
    return LetterAsked(tuple(request.GET.getlist("leave_out")), request.GET.get("since", ""))


def _parts(asked: LetterAsked) -> list[tuple[str, str, bool]]:
    return [(word, says, word in asked.leave_out) for word, says in LEAVE_OUT.items()]


@require_safe
def waterproof(request: HttpRequest, zone: str) -> HttpResponse:
    """Show what stands on the waterproof page of a zone."""
    found: WaterproofPage = remembered(
        f"waterproof {zone}", lambda book: waterproof_page(book, zone)
    )
    return show(request, "pages/waterproof.html", {"page": found})


@require_safe
def waterproof_file(request: HttpRequest, zone: str) -> HttpResponse:
    """Give the waterproof page of a zone as one A5 sheet."""
    del request
    found: WaterproofPage = remembered(
        f"waterproof {zone}", lambda book: waterproof_page(book, zone)
    )
    name = "-".join(found.zone.casefold().split())
    return _paper(waterproof_paper(found), f"waterproof-page-{name}.pdf")


@require_safe
def papers(request: HttpRequest) -> HttpResponse:
    """List what can be printed."""
    return show(request, "pages/papers.html", {"zone_names": zone_names()})


@require_safe
def coming_back(request: HttpRequest) -> HttpResponse:
    """Say in five lines what changed, what lapsed and what can no longer be done."""
    zone, since = request.GET.get("zone", ""), request.GET.get("since", "")
    about = {"zone_names": zone_names(), "zone": zone, "since": since}
    try:
        found: CaughtUp = remembered(
            f"coming back {zone} {since}", lambda book: caught_up(book, zone, since)
        )
    except SwardbookError as refusal:
        said = {**about, "said": str(refusal)}
        return show(request, "pages/coming_back.html", said, status_of(refusal))
    return show(request, "pages/coming_back.html", {**about, "found": found})


def _paper(held: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(held, content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


PAGES = (
    Page("better-or-worse/", years, "years", Role.READER, title="Better or worse?",
         shelf=Shelf.SEASON, offline=True, says="Each zone's year in a sentence, with its range."),
    Page("better-or-worse/<str:zone>/", zone_year, "zone-year", Role.READER,
         example={"zone": "Short court"}),
    Page("letter/", letter, "letter", Role.READER, title="The letter", shelf=Shelf.BOOK,
         is_slow=True, says="Two sides of paper for an owner, in plain words."),
    Page("letter/paper/", letter_file, "file-letter", Role.READER),
    Page("waterproof/", papers, "papers", Role.READER, title="On paper", shelf=Shelf.LAWN,
         says="One sheet of a zone for a wet pocket, and what else can be printed."),
    Page("waterproof/<str:zone>/", waterproof, "waterproof", Role.READER,
         example={"zone": "Main court"}),
    Page("waterproof/<str:zone>/paper/", waterproof_file, "file-waterproof", Role.READER,
         example={"zone": "Main court"}),
    Page("coming-back/", coming_back, "coming-back", Role.READER, title="Coming back",
         shelf=Shelf.SEASON, offline=True,
         says="After a time away: what changed, lapsed and can no longer be done."),
)  # fmt: skip
