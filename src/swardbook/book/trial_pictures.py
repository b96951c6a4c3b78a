"""The plan of a trial as a picture, and its papers to print."""

from __future__ import annotations

from pathlib import Path

from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.set_out import TrialSetOut
from swardbook.book.units import shown_in
from swardbook.feeds.picture_file import check_paper_path, save_pdf
from swardbook.figures.picture import Picture
from swardbook.figures.trial_plan import PlanDrawn, picture_of_plan
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.species import in_words
from swardbook.trials.spoils import Answer

KINDS = ("sown", "annual meadow-grass", "yorkshire fog", "broad-leaved", "moss", "bare")
TRAITS = ("quality", "colour", "fineness", "closeness", "height mm")
"""Columns of the sheets to fill in; a kind has its own."""


def check_papers(path: Path) -> None:
    """Refuse a place where no papers should go; see `save_papers`."""
    check_paper_path(path)


def save_papers(book: Book, found: TrialSetOut, path: Path) -> None:
    """Write peg plan, bag list, tally sheets, ratings and labels as one PDF.

    Raises
    ------
    BadInputError
        If no PDF should go there.
    NotEnoughDataError
        If the book does not know where plots lie.
    StorageError
        If the disk would not take it.
    """
    from swardbook.figures.trial_sheets import Papers, papers_pdf

    if found.laid is None:
        raise _no_plan()
    drawn = found.drawn
    mind = tuple(
        f"{look.words} {look.mend}".strip() for look in found.looks
        if look.answer in {Answer.SPOILS, Answer.MIND}
    )  # fmt: skip
    kind = found.measure.kind
    kinds = KINDS if not kind or kind in KINDS else (KINDS[0], kind, *KINDS[1:])
    papers = Papers(
        found.title, found.zone, drawn.order_words, note_of(book), found.facts.ends,
        found.facts.sides,
        found.laid, found.bags, found.weighed, mind, tuple(map(in_words, kinds)), TRAITS,
        shown_in(book.settings, book),
    )  # fmt: skip
    save_pdf(path, papers_pdf(papers))


def draw_plan(book: Book, found: TrialSetOut) -> Picture:
    """Draw the plan of a trial.

    Raises
    ------
    NotEnoughDataError
        If the book does not know where its plots lie.
    """
    if found.laid is None:
        raise _no_plan()
    drawn = PlanDrawn(
        found.title, found.laid, found.drawn.order_words, found.facts.ends, found.facts.sides,
        frozenset(e.name for e in found.entries.values() if e.is_control),
    )  # fmt: skip
    return picture_of_plan(drawn, note_of(book), shown_in(book.settings, book))


def _no_plan() -> NotEnoughDataError:
    return NotEnoughDataError(
        "a plan on the ground", "a trial kept with `swardbook set-out --keep`", "plots alone"
    )
