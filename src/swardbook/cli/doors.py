"""What every command shares: opening the book, common options, and how refusals end."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar

import click

from swardbook.cli.chosen import as_read, choose_as_set, in_chosen
from swardbook.cli.collecting import collected
from swardbook.cli.output import print_json, print_lines, shown
from swardbook.foundation.dates import When, read_day, say
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    OutOfRangeError,
    SwardbookError,
    UnknownNameError,
    plain_number,
)

if TYPE_CHECKING:
    from swardbook.book.opening import Book

Command = TypeVar("Command", bound=Callable[..., Any])


def clock_today() -> date:
    """Read the clock; the only place that does, with `clock_now`."""
    return datetime.now().astimezone().date()


def clock_now() -> datetime:
    """Read the clock to the second, with its zone; beside `clock_today` the only place."""
    return datetime.now().astimezone()


def exit_code(refusal: SwardbookError) -> int:
    """Choose the exit code: 0 not enough data, 2 wrong use, 1 refused for another reason."""
    if isinstance(refusal, NotEnoughDataError):
        return 0
    wrong_use = (BadInputError, OutOfRangeError, UnknownNameError)
    return 2 if isinstance(refusal, wrong_use) else 1


def refuse(refusal: SwardbookError, as_json: bool = False) -> int:
    """Print a refusal where it belongs and give its exit code; too little data is an answer."""
    code = exit_code(refusal)
    if as_json and isinstance(refusal, NotEnoughDataError):
        told = {"question": refusal.question, "needs": refusal.needed, "there_is": refusal.found}
        print_json({"not_enough_data": told, "refusals": [str(refusal)]})
    else:
        for line in shown([_in_words(refusal)]):
            click.echo(line, err=code != 0)
    return code


def _in_words(refusal: SwardbookError) -> str:
    """Say a refusal as it is, for it speaks of what was typed; a range also in chosen units."""
    if isinstance(refusal, NotEnoughDataError):
        return in_chosen(str(refusal))
    if not isinstance(refusal, OutOfRangeError) or not isinstance(refusal.value, float | int):
        return str(refusal)
    told = f"{plain_number(refusal.value)} {refusal.unit}, {refusal.allowed} {refusal.unit}"
    here = in_chosen(told)
    return str(refusal) if here == told else f"{refusal} Here: {here}."


@dataclass(frozen=True)
class Door:
    """What one command was asked: for which day and ground, and printed how."""

    on: str
    as_json: bool
    ground: str = ""
    """The ground as named; empty: the one in the settings, or the only one."""
    opened: list[Book] = field(default_factory=list, compare=False)
    """The book, once it is opened."""

    def book(self) -> Book:
        """Open the book for the day asked, or for its own today."""
        from swardbook.book.opening import open_book
        from swardbook.settings import read_settings

        day = read_day(self.on, clock_today()) if self.on else None
        if (page := collected()) is not None:
            self.opened.append(page.on(day))
            choose_as_set(page.book)
            return self.opened[-1]
        book = open_book(read_settings(os.environ), clock_today, day, self.ground or None)
        return self._opened(book)

    def any_book(self) -> Book:
        """Open the book for what is asked of all its grounds."""
        from swardbook.book.opening import open_any_book
        from swardbook.settings import read_settings

        day = read_day(self.on, clock_today()) if self.on else None
        return self._opened(open_any_book(read_settings(os.environ), clock_today, day))

    def _opened(self, book: Book) -> Book:
        if (context := click.get_current_context(silent=True)) is not None:
            context.call_on_close(book.store.close)
            if len(book.store.grounds()) > 1:
                context.call_on_close(partial(_remember_lawn, book, book.store.writes()))
        self.opened.append(book)
        if book.store.damage:
            from swardbook.book.checking import only_read

            for line in shown([only_read(book)]):
                click.echo(line, err=True)
        choose_as_set(book)
        return book

    def when(self, words: str, book: Book) -> When:
        """Read when something happened, against the book's today; the future is refused.

        Raises
        ------
        BadInputError
            If the day is after the book's today.
        """
        from swardbook.book.diary import read_past

        return read_past(words, book.today)

    def show(self, payload: dict[str, Any], lines: list[str], book: Book | None = None) -> None:
        """Print the one object, or the lines; a made-up book says so and states its today."""
        if (page := collected()) is not None:
            page.payload, page.lines = payload, list(lines)
            return
        if book is not None:
            payload = {"today": book.today.isoformat(), "made_up": book.is_made_up, **payload}
            if book.is_made_up:
                lines = [f"Made-up ground; today is {say(book.today)}.", "", *lines]
        if self.as_json:
            print_json(payload)
        else:
            print_lines(lines)


def _remember_lawn(book: Book, before: int) -> None:
    """Keep the listing of all lawns up to what was written; if it cannot be, it says so itself."""
    if book.store.writes() == before:
        return
    from swardbook.book.all_lawns import remember_if_written

    with suppress(SwardbookError):
        remember_if_written(book, before)


def door_options(command: Command) -> Command:
    """Give a command ``--on``, ``--ground`` and ``--json``; it receives `door`."""
    from functools import wraps

    @click.option(
        "--on", default="", metavar="DAY", help="The day to answer for, such as 'last saturday'."
    )
    @click.option(
        "--ground", default="", metavar="NAME", help="Which ground, where the book holds several."
    )
    @click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
    @wraps(command)
    def with_door(*args: Any, on: str, ground: str, as_json: bool, **kwargs: Any) -> Any:
        door = Door(on, as_json, ground)
        try:
            choose_as_set()
            return command(*args, door=door, **as_read(kwargs))
        except NotEnoughDataError as refusal:
            if collected() is not None:
                raise _with_missing_days(refusal, door) from refusal
            raise SystemExit(refuse(_with_missing_days(refusal, door), as_json)) from refusal
        except SwardbookError as refusal:
            if collected() is not None:
                raise
            raise SystemExit(refuse(refusal, as_json)) from refusal

    return with_door  # type: ignore[return-value]


def _with_missing_days(refusal: NotEnoughDataError, door: Door) -> NotEnoughDataError:
    from swardbook.book.missing_days import with_missing_days

    return with_missing_days(refusal, door.opened[-1]) if door.opened else refusal


def entry_options(command: Command) -> Command:
    """Give a command what any diary entry can carry: zone, when, who, hours, money, note."""
    for option in reversed(
        (
            click.option("--zone", "-z", default="", help="Zone, by name; none: the whole site."),
            click.option("--when", "-w", default="today", show_default=True, metavar="DAY",
                         help="Day it happened: 'last saturday', '3 May', or 'about mid-July'."),
            click.option("--number", default=1, show_default=True, type=click.IntRange(1, 100),
                         help="How many alike, for undated ones ('about five in mid-July')."),
            click.option("--who", default="", help="Who did or saw it."),
            click.option("--hours", type=float, default=None, help="Hours, all people together."),
            click.option("--money", default="", help="What it cost."),
            click.option("--note", default="", help="Anything else; kept as typed."),
            click.option("--private", is_flag=True, expose_value=False, callback=_privately,
                         help="Its words are for owners and workers alone."),
        )
    ):  # fmt: skip
        command = option(command)
    return command


def _privately(context: click.Context, option: click.Parameter, value: bool) -> None:
    """Mark what the command writes as private, until it ends."""
    del option
    if value:
        from swardbook.book.opening import privately

        context.with_resource(privately())


def at_option(command: Command) -> Command:
    """Give an entry ``--at``: where in its zone; it goes with what `entry_options` gives."""
    return click.option(
        "--at", default="", metavar="WHERE",
        help="Where in its zone: '4.2, 3.1' east and north of its south-west corner, or"
        " 'tape 12.4 gate post, 8.2 shed'.",
    )(command)  # fmt: skip


def zone_told(words: str) -> Callable[[Command], Command]:
    """Say in the help of ``--zone`` what holds for a command without one.

    Goes above `entry_options` or ``keep_options``, which give the option.
    """

    def with_words(command: Command) -> Command:
        for option in getattr(command, "__click_params__", ()):
            if option.name == "zone":
                option.help = f"Zone, by name; {words}."
        return command

    return with_words
