"""The plan of a trial as a picture, and its papers to print."""

from __future__ import annotations

from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.set_out import TrialSetOut
from swardbook.figures.picture import Picture
from swardbook.figures.trial_plan import PlanDrawn, picture_of_plan
from swardbook.foundation.errors import NotEnoughDataError


def draw_plan(book: Book, found: TrialSetOut) -> Picture:
    """Draw the plan of a trial.

    Raises
    ------
    NotEnoughDataError
        If the book does not know where its plots lie.
    """
    if found.laid is None:
        raise NotEnoughDataError(
            "a plan on the ground", "a trial kept with `swardbook set-out --keep`", "plots alone"
        )
    drawn = PlanDrawn(
        found.title, found.laid, found.drawn.seed, found.drawn.is_shuffled, found.facts.ends,
        found.facts.sides, frozenset(e.name for e in found.entries.values() if e.is_control),
    )  # fmt: skip
    return picture_of_plan(drawn, note_of(book))
