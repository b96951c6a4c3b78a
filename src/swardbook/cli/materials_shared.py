"""What the commands of ``swardbook materials`` share."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door
from swardbook.cli.results import show_answer
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.book.worked_out import Answer

AREA = click.option("--area", default="", help="Area; bare is m². None: the zone's own.")


def book_if(door: Door, *wanted: object) -> Book | None:
    """Open the book where a zone, a lot or keeping asks for one."""
    return door.book() if any(wanted) else None


def answer(
    door: Door, book: Book | None, kept: Answer, payload: dict[str, Any], lines: list[str],
    zone: str, keeping: dict[str, str] | None, job: str = "",
) -> None:  # fmt: skip
    """Show an answer, with a book or without; in a zone also whether its job is fit today."""
    if book is not None and zone and job:
        from swardbook.book.plan import fits

        today = fits(book, zone, job)[0]
        payload = {**payload, "fit_today": today.overall.value}
        why = "; ".join(f"{each.name}, {each.because}" for each in today.deciding)
        told = f"{job} today: {today.overall.value}{f': {why}' if why else ''}."
        lines = [*lines, *under(today.overall.shape, told, 0)]
    if book is None:
        door.show(payload, lines)
    else:
        show_answer(door, book, kept, payload, lines, zone=zone, keeping=keeping)
