"""Settle sealed guesses whose count has come."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.guess_words import (
    calibration_lines,
    calibration_payload,
    name_of,
    settled_lines,
    short,
    shown_payload,
)
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.figures.picture import Picture


@click.command()
@click.argument("what", default="")
@picture_option("the guesses beside what was found, and of how all guesses have done")
@door_options
def command(door: Door, what: str, picture: Path | None) -> None:
    """Settle guesses whose count has come, and say how all guesses have done.

    WHAT is a zone, or the beginning of a guess's id; none: all. A guess is settled once, by the
    first count of its season that is like it. What was missed is kept and shown like what was hit.
    """
    from swardbook.book.calibration import calibration
    from swardbook.book.sealed import settle

    check_places(picture)
    book = door.book()
    done, how = settle(book, what), calibration(book)
    payload = {
        "settled_now": [shown_payload(each) for each in done.now],
        "others": [shown_payload(each) for each in done.others],
        "how_they_have_done": calibration_payload(how),
    }
    lines = [] if done.now else ["Nothing to settle now.", ""]
    for each in done.now:
        lines += [*settled_lines(each), ""]
    for each in done.others:
        if each.settled is None:
            lines += [*under(short(each.guess), f"{name_of(each.guess)}. {each.waits}", 0), ""]
    before = sum(each.settled is not None for each in done.others)
    if before:
        lines += [f"Settled before: {before}. All of them: swardbook seal --list.", ""]

    def draw() -> Picture:
        from swardbook.book.guess_pictures import draw_guesses

        return draw_guesses(book, (*done.now, *done.others))

    door.show(*with_picture(picture, draw, payload, [*lines, *calibration_lines(how)]), book)
