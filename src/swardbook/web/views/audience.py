"""Open day: big letters for an audience, guesses before the reveal, a shuffle to watch."""

from __future__ import annotations

import json
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from swardbook.book.open_day import (
    BlocksShown,
    Measured,
    OpenDay,
    Reveal,
    ShuffleShown,
    blocks_shown,
    measures,
    open_day,
    plan_shown,
    reveal,
    shuffle_shown,
)
from swardbook.book.open_day_guesses import OTHER, keep_guesses
from swardbook.book.open_day_told import Tellings
from swardbook.book.opening import Book
from swardbook.figures.picture import Picture
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.web.answering import show
from swardbook.web.opened import the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import PATIENCE, soon

SHUFFLES = 20


@dataclass(frozen=True, slots=True)
class Asked:
    """One question of the day: what was measured, and the reveal once all have guessed."""

    measured: Measured
    reveal: Reveal | None


@dataclass(frozen=True, slots=True)
class Shown:
    """Everything an audience sees."""

    day: OpenDay
    asked: tuple[Asked, ...]
    shuffle: ShuffleShown | None
    dealt: str
    blocks: BlocksShown | None
    plan: Picture | None


@require_safe
def audience(request: HttpRequest) -> HttpResponse:
    """Ask the audience first; what was measured stays shut until they have guessed."""
    if not the_book().ground().plots:
        return show(request, "pages/open_day.html", {"needs_a_trial": True})
    try:
        shown = soon("open day", _shown, gettext("The open day"), 10, patience=PATIENCE)
    except NotEnoughDataError as lack:
        return show(request, "pages/open_day.html", {"said": str(lack)})
    return show(request, "pages/open_day.html", {"shown": shown, "other": OTHER})


@require_POST
def guessed(request: HttpRequest) -> HttpResponse:
    """Write down how many guessed what: numbers and nothing else."""
    question = request.POST.get("question", "")
    numbers = {
        name.removeprefix("n "): int(told)
        for name, told in request.POST.items()
        if name.startswith("n ") and isinstance(told, str) and told.isdecimal() and int(told)
    }
    keep_guesses(the_book(), "", question, numbers)
    return redirect("open-day")


def _shown(book: Book) -> Shown:
    tellings = Tellings(book)
    day = open_day(book)
    asked = tuple(
        Asked(each, reveal(tellings, each.question) if each.question in day.guessed else None)
        for each in measures(tellings)
    )
    try:
        shuffle: ShuffleShown | None = shuffle_shown(tellings, SHUFFLES)
        blocks: BlocksShown | None = blocks_shown(tellings)
    except NotEnoughDataError:
        shuffle = blocks = None
    try:
        plan: Picture | None = plan_shown(tellings)
    except NotEnoughDataError:
        plan = None
    return Shown(day, asked, shuffle, _dealt(shuffle), blocks, plan)


def _dealt(found: ShuffleShown | None) -> str:
    if found is None:
        return "[]"
    rows = [
        {"entries": each.entries, "best": each.best, "gap": round(each.gap)}
        for each in (found.real, *found.dealt)
    ]
    return json.dumps({"plots": found.plots, "dealt": rows}, ensure_ascii=False)


PAGES = (
    Page("open-day/", audience, "open-day", Role.READER, title="Open day", shelf=Shelf.TRIALS,
         offline=True, is_slow=True,
         says="An audience guesses first; then the counts, and a shuffle to watch."),
    Page("open-day/guessed/", guessed, "open-day-guessed", Role.WORKER, ("POST",)),
)  # fmt: skip
