"""Seal a guess of what a count will find: the look-ahead's, or a person's own."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.guess_words import (
    calibration_lines,
    calibration_payload,
    guess_payload,
    list_lines,
    name_of,
    said,
    short,
    shown_payload,
)
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.wrapping import under
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.guesses import Guess
    from swardbook.book.opening import Book
    from swardbook.figures.picture import Picture


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name.")
@click.option("--who", default="", help="Who guesses; none: the look-ahead.")
@click.option(
    "--cover", default="", metavar="PERCENT", help="Your guess: a range, '8-14', or one figure."
)
@click.option(
    "--plants", default="", metavar="A_M2", help="Your guess in plants a m²: '1-3', or one figure."
)
@click.option(
    "--for",
    "horizon",
    type=click.Choice(["spring", "autumn", "far"]),
    default="autumn",
    show_default=True,
    help="Which count: next spring's, next October's, or October after three years.",
)
@click.option(
    "--species", default="annual meadow-grass", show_default=True, help="What will be counted."
)
@click.option(
    "--programme",
    "-p",
    default="",
    metavar="NAME",
    help="For the look-ahead: which way of working; none: as recorded.",
)
@click.option(
    "--draws",
    type=click.IntRange(min=64),
    default=None,
    help="Draws of the look-ahead, a multiple of 64; 4096 if not said.",
)
@click.option("--list", "is_list", is_flag=True, help="List every guess, and how they have done.")
@picture_option("the guess among the counts so far; with --list, all guesses and how they did")
@door_options
def command(door: Door, zone: str, is_list: bool, picture: Path | None, **asked: Any) -> None:
    """Seal a guess of what a count will find; it is settled when the count comes.

    A sealed guess cannot be changed or taken back. The look-ahead's is sealed only where it is
    learned from the zone's own counts; a person's own always. Figures stay out of every list
    until the guess is opened or settled.
    """
    check_places(picture)
    book = door.book()
    if is_list:
        _show_list(door, book, zone, picture)
        return
    if not zone:
        raise click.UsageError("Say which zone: --zone NAME.")
    guess, new = _sealed(book, zone, asked)
    payload = {"guess": guess_payload(guess, figures=guess.is_own), "is_new": new}

    def draw() -> Picture:
        from swardbook.book.guess_pictures import draw_guess

        return draw_guess(book, guess, is_told=guess.is_own)

    door.show(*with_picture(picture, draw, payload, _lines(guess, new)), book)


def _sealed(book: Book, zone: str, asked: dict[str, Any]) -> tuple[Guess, bool]:
    from swardbook.book.guesses import read_said
    from swardbook.book.sealed import seal, seal_own

    horizon, kind = asked["horizon"], asked["species"]
    if asked["cover"] and asked["plants"]:
        raise click.UsageError("A guess is in cover or in plants: one of --cover and --plants.")
    by_plants = bool(asked["plants"])
    if by_plants or asked["cover"]:
        option = "--plants" if by_plants else "--cover"
        ends = read_said(option, asked["plants"] or asked["cover"])
        return seal_own(
            book, zone, asked["who"], ends, by_plants=by_plants, horizon=horizon, kind=kind
        )
    if asked["who"]:
        raise click.UsageError("Say what you guess: --cover 8-14, or --plants 1-3.")

    def tell(words: str) -> None:
        click.echo(f"{words[0].upper()}{words[1:].rstrip('.')} ...", err=True)

    return seal(book, zone, horizon, asked["programme"], asked["draws"], kind=kind, tell=tell)


def _lines(guess: Guess, new: bool) -> list[str]:
    from swardbook.book.settling import window

    first, last = window(guess)
    lines = under(
        "", f"{'Sealed' if new else 'Sealed already'} {short(guess)}: {name_of(guess)}.", 0
    )
    if guess.is_own:
        meant = "one figure" if guess.range80 is None else "to hold four times in five"
        lines += under("", f"You said {said(guess)}, {meant}.", 0)
    return [
        *lines,
        *under("", f"A count between {say(first)} and {say(last)} settles it. It cannot be changed"
               " or taken back.", 0),
        f"To open it: swardbook unseal {short(guess)}. Before its day, that is kept too.",
    ]  # fmt: skip


def _show_list(door: Door, book: Book, zone: str, picture: Path | None) -> None:
    from swardbook.book.calibration import calibrate
    from swardbook.book.sealed import READY, guesses

    shown = guesses(book, zone)
    how = calibrate(shown)
    payload = {
        "guesses": [shown_payload(each) for each in shown],
        "how_they_have_done": calibration_payload(how),
    }
    lines = [*list_lines(shown), *calibration_lines(how)] or ["No guess is sealed yet."]
    if any(each.state == READY for each in shown):
        lines += ["", "Counted and not settled yet: swardbook settle."]

    def draw() -> Picture:
        from swardbook.book.guess_pictures import draw_guesses

        return draw_guesses(book, shown)

    door.show(*with_picture(picture, draw, payload, lines), book)
