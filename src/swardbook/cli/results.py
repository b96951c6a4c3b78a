"""Answer a question that can be kept: show it, and with ``--keep`` write it in the diary."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

import click

from swardbook.cli.chosen import with_typed
from swardbook.cli.telling import short_id

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.book.worked_out import Answer
    from swardbook.cli.doors import Door

Command = TypeVar("Command", bound=Callable[..., Any])


def keep_options(command: Command) -> Command:
    """Give a command ``--keep`` and what goes with it; it receives `keeping`, a dict."""
    from functools import wraps

    @click.option("--zone", "-z", default="", help="Zone, by name; none: the whole site.")
    @click.option("--keep", "is_kept", is_flag=True, help="Keep the answer in the diary.")
    @click.option("--when", "-w", default="today", show_default=True, metavar="DAY",
                  help="The day the answer holds from, if it is kept.")  # fmt: skip
    @click.option("--who", default="", help="Who worked it out, if it is kept.")
    @click.option("--note", default="", help="Anything else to keep with it.")
    @wraps(command)
    def with_keeping(
        *args: Any, zone: str, is_kept: bool, when: str, who: str, note: str, **kwargs: Any
    ) -> Any:
        said = {"when": when, "who": who, "note": with_typed(note) if is_kept else note}
        return command(*args, zone=zone, keeping=said if is_kept else None, **kwargs)

    return with_keeping  # type: ignore[return-value]


def show_answer(
    door: Door,
    book: Book,
    answer: Answer,
    payload: dict[str, Any],
    lines: Sequence[str],
    *,
    zone: str = "",
    keeping: dict[str, Any] | None = None,
) -> None:
    """Show an answer; keep it first where that was asked, and say under which id."""
    told = dict(payload)
    said = list(lines)
    if keeping is not None:
        from swardbook.book.worked_out import keep_answer

        entry = keep_answer(book, answer, zone=zone, **keeping)
        told["kept_as"] = short_id(entry)
        said += ["", f"Kept {short_id(entry)}: {answer.about}, {entry.zone or 'whole site'}."]
        if entry.needs_a_look:
            said.append(f"Needs a look: {entry.needs_a_look}")
    door.show(told, said, book)
