"""Build the book of the made-up ground, and keep it if somebody has written in it."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from hashlib import sha256

from swardbook.book.opening import Book, Clock, new_book, open_book
from swardbook.demo.scenario import made_up_entries, made_up_ground
from swardbook.demo.weather import WHERE_FROM, made_up_weather
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.settings import Settings

FOLDER = "made-up"
_KEPT = "made-up ground"
_BOOK_FILES = ("", "-wal", "-shm")

Tell = Callable[[str], None]


class Outcome(StrEnum):
    """What became of the made-up book."""

    BUILT = "built"
    AS_BUILT = "as built"
    WRITTEN_IN = "written in"


@dataclass(frozen=True, slots=True)
class Built:
    """The made-up book, opened.

    Parameters
    ----------
    book : Book
        The book, on its own today.
    outcome : Outcome
        Whether it was built now, stood as built, or holds somebody's own entries and was kept.
    """

    book: Book
    outcome: Outcome


def settings_for(settings: Settings, home_is_given: bool, clock: Clock) -> Settings:
    """Choose where the made-up book lives: never in the place of somebody's own book.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    home_is_given : bool
        Whether the folder of the book was set by hand; then a folder without a book is used as
        it is.
    clock : Clock
        The day.
    """
    alone = replace(settings, database="", ground="")
    if home_is_given and (not alone.book_file.exists() or _is_ours(alone, clock)):
        return alone
    return replace(alone, home=alone.home / FOLDER)


def build(settings: Settings, clock: Clock, *, fresh: bool = False, tell: Tell = print) -> Built:
    """Build the made-up book, or open the one that is there.

    Parameters
    ----------
    settings : Settings
        Where it lives; see `settings_for`.
    clock : Clock
        The day, kept with later entries.
    fresh : bool
        Whether to throw away what was written in it and build it anew.
    tell : function of str
        Told each step.

    Raises
    ------
    BadInputError
        If the folder holds somebody's own book.
    """
    if not settings.book_file.exists():
        return _built(new_book(settings, clock), tell)
    book = open_book(settings, clock)
    if not book.is_made_up:
        return _filled_if_empty(book, tell)
    was_built_as, now = _kept_mark(book), fingerprint(book.store.whole_diary(), book.store.ground())
    if not fresh and (now != was_built_as or _holds_guesses(book)):
        return Built(book, Outcome.WRITTEN_IN)
    if not fresh and now == fingerprint(made_up_entries(), made_up_ground()):
        return Built(book, Outcome.AS_BUILT)
    book.store.close()
    for end in _BOOK_FILES:
        file = settings.book_file.with_name(settings.book_file.name + end)
        file.unlink(missing_ok=True)
    return _built(new_book(settings, clock), tell)


def fingerprint(diary: Sequence[DiaryEntry], ground: Ground) -> str:
    """Give a mark that changes with any entry and any piece of the ground."""
    pieces = [ground.site, *ground.zones, *ground.pegs, *ground.squares, *ground.plots]
    marks = [json.dumps(to_plain(each), sort_keys=True) for each in (*pieces, *ground.lots, *diary)]
    return sha256("\n".join(sorted(marks)).encode()).hexdigest()


def _is_ours(settings: Settings, clock: Clock) -> bool:
    book = open_book(settings, clock)
    try:
        return book.is_made_up
    finally:
        book.store.close()


def _kept_mark(book: Book) -> str:
    return next((str(kept["fingerprint"]) for _, kept in book.store.kept(_KEPT)), "")


def _holds_guesses(book: Book) -> bool:
    return any(kind != _KEPT for kind, _, _ in book.store.all_kept())


def _filled_if_empty(book: Book, tell: Tell) -> Built:
    """Fill a book that was begun and never got a site; refuse anybody's own."""
    try:
        book.store.ground()
    except BadInputError:
        return _built(book, tell)
    where = str(book.settings.book_file)
    book.store.close()
    raise BadInputError(
        "the folder", where, "a folder without a book of your own",
        "Set SWARDBOOK_HOME to another folder for the made-up ground.",
    )  # fmt: skip


def _built(empty: Book, tell: Tell) -> Built:
    ground, store = made_up_ground(), empty.store
    with store.together():
        tell("Zones, pegs, plots and seed lots")
        store.save_site(ground.site)
        for zone in ground.zones:
            store.save_zone(zone)
        for peg in ground.pegs:
            store.save_peg(peg)
        for square in ground.squares:
            store.save_square(square)
        for plot in ground.plots:
            store.save_plot(plot)
        for lot in ground.lots:
            store.save_lot(lot)
        tell("Weather, 1991 to 2021")
        store.save_weather(made_up_weather(), WHERE_FROM)
        tell(f"Diary, {len(made_up_entries())} entries")
        store.add(made_up_entries())
        mark = fingerprint(store.whole_diary(), store.ground())
        store.keep(_KEPT, "as built", {"fingerprint": mark})
    today = ground.site.made_up_today or empty.today
    return Built(replace(empty, today=today, is_made_up=True), Outcome.BUILT)
