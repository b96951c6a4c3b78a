"""How a figure was reached: the plan's, the counts', a lot's, or a number of the handbook."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from swardbook.book.comparing import zone_review
from swardbook.book.counts import show_counts
from swardbook.book.opening import Book
from swardbook.book.plan import FIGURES, plan_workings
from swardbook.book.route_workings import route_workings
from swardbook.book.seed import mixture_workings, question_of_lot, work_out
from swardbook.book.side_workings import lesson_workings, side_workings
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.foundation.provenance import Sourced
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameters
from swardbook.handbook.sources import source
from swardbook.handbook.species import find_species
from swardbook.observations.samples import Smallest

FIGURE_NAMES: Mapping[str, str] = {
    "clock": "days in hand on the seeding clock",
    "fit": "whether a job is fit today (--job)",
    "sow": "go, wait or too late to sow",
    "water": "what a seedbed needs today",
    "feed": "nitrogen due",
    "pull": "hours and plants of a pass",
    "count": "the latest counts of a kind (--kind)",
    "compare": "better or worse, and against the honest squares (--kind)",
    "trial": "mixtures of a trial side by side (--kind)",
    "lesson": "what a trial teaches the model of its ground",
    "route": "mend or start again, and what each route takes",
    "lot": "seeds of a lot that can come up (--lot)",
}


def workings(
    book: Book, figure: str, zone: str = "", *, job: str = "", kind: str = "", lot: str = ""
) -> tuple[Workings, ...]:
    """Show how a figure was reached.

    Parameters
    ----------
    book : Book
        The opened book.
    figure : str
        One of `FIGURE_NAMES`.
    zone : str
        Name of the zone, where the figure belongs to one.
    job, kind, lot : str
        The job for ``fit``, the weed for ``count`` and ``compare``, the lot for ``lot``.

    Raises
    ------
    UnknownNameError
        If there is no such figure, zone, job, kind or lot.
    BadInputError
        If a zone or lot is needed and none is given.
    NotEnoughDataError
        If there is nothing to work from.
    """
    if figure not in FIGURE_NAMES:
        raise UnknownNameError("figure", figure, [*FIGURE_NAMES, *parameters()])
    if figure == "lot":
        return (_of_lot(book, lot),)
    if figure == "trial":
        return side_workings(book, zone, kind)
    if figure == "lesson":
        return lesson_workings(book, zone)
    if not zone:
        raise BadInputError(
            "the zone", "none", "the name of a zone", f"swardbook workings {figure} --zone NAME"
        )
    if figure == "route":
        return route_workings(book, zone)
    if figure in FIGURES:
        return (plan_workings(book, figure, zone, job),)
    wanted = find_species(kind or "annual meadow-grass").key
    return _COUNTED[figure](book, zone, wanted)


def number_workings(key: str) -> Workings | None:
    """Show one number of the handbook: value, range, grade, source and place; None if unknown."""
    number = parameters().get(key)
    return None if number is None else _of_number(number)


def _of_number(number: Sourced) -> Workings:
    work = source(number.source)
    told = " ".join(part for part in (work.authors, work.year, work.title) if part)
    spread = "exact" if number.low == number.high else f"{number.low:g} to {number.high:g}"
    lines = [f"range {spread} {number.unit}", f"grade: {number.grade}", f"source: {told}"]
    lines += [f"read as: {work.how_read}"] if work.how_read else []
    lines += [f"place: {number.where}"] if number.where else []
    return Workings(
        question=number.key.replace("_", " "),
        answer=f"{number.value:g} {number.unit}",
        inputs=(Input.of(number.key, number),),
        arithmetic=tuple(lines),
        assumptions=(number.note,) if number.note else (),
    )


def _of_lot(book: Book, code: str) -> Workings:
    if not code:
        known = ", ".join(lot.code for lot in book.ground().lots) or "none yet"
        raise BadInputError("the lot", "none", f"a lot number; there are: {known}")
    return mixture_workings(work_out(question_of_lot(book, code)[1]))


def _of_counts(book: Book, zone: str, kind: str) -> tuple[Workings, ...]:
    shown = show_counts(book, zone, kind)
    last = max((each.day for each in shown), default=None)
    found = tuple(
        each.estimate.workings
        for occasion in shown
        if occasion.day == last
        for each in occasion.estimates
        if each.estimate is not None
    )
    if not found:
        raise NotEnoughDataError(f"a figure of {kind} in {zone}", "a count of it", "none")
    return found


def _of_comparison(book: Book, zone: str, kind: str) -> tuple[Workings, ...]:
    review = zone_review(book, zone, kind, Smallest.customary())
    made = [pair.made for pair in review.pairs]
    if review.honest is not None:
        made.append(review.honest.compared.comparison)
    found = tuple(each.workings for each in made if each is not None)
    if not found:
        raise NotEnoughDataError(
            f"better or worse in {zone}", "two counts in the same season", "no such pair"
        )
    return found


_COUNTED: Mapping[str, Callable[[Book, str, str], tuple[Workings, ...]]] = {
    "count": _of_counts,
    "compare": _of_comparison,
}
