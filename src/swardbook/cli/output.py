"""Tables, lines and JSON on the terminal; the only module that prints."""

from __future__ import annotations

import codecs
import errno
import os
import re
import sys
from collections.abc import Sequence
from contextlib import contextmanager, suppress
from io import TextIOWrapper
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import chosen, in_chosen
from swardbook.cli.collecting import Laid, collected
from swardbook.cli.wrapping import is_narrow, rewrapped, width
from swardbook.foundation.errors import SwardbookError
from swardbook.foundation.unit_words import column, without_marks

if TYPE_CHECKING:
    from collections.abc import Iterator

_PLAIN = {
    "✓": "+", "✗": "x", "☐": "[ ]", "●": "(*)", "○": "( )", "◷": "(~)", "⊘": "(/)", "■": "[#]",
    "◧": "[/]", "□": "[ ]", "“": '"', "”": '"', "’": "'", "‘": "'", "−": "-", "–": "-", "·": "-",
    "×": "x", "₂": "2", "₅": "5", "²": "2", "³": "3", "°": "deg ", "…": "...", "≥": ">=",
    "≤": "<=", "±": "+/-", "\N{NO-BREAK SPACE}": " ",
}  # fmt: skip
_CONTROL = {
    **{code: 0x2400 + code for code in range(32) if chr(code) not in "\t\n"},
    **dict.fromkeys(range(127, 160), 0xFFFD),
}


class AnswerLostError(SwardbookError):
    """The answer could not be written out."""

    def __str__(self) -> str:
        """Say why, and that the book is not the worse for it."""
        return (
            f"The answer could not be written out: {self.args[0]}."
            " What the command had to do in the book is done."
        )


def prepare_streams() -> None:
    """Let a terminal that lacks a mark show a plain one in its stead, each mark another."""
    codecs.register_error("plain_marks", _plain)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="plain_marks")


def print_json(payload: dict[str, Any]) -> None:
    """Print one object; the same question prints the same bytes."""
    import json

    told = json.dumps(payload, ensure_ascii=not _takes_unicode(), indent=1, allow_nan=False)
    with _written():
        click.echo(told)


def print_lines(lines: Sequence[str]) -> None:
    """Print lines of text, on a narrow terminal each wrapped under its own beginning."""
    with _written():
        for line in shown([in_chosen(each) for each in lines]):
            click.echo(line)


def shown(lines: Sequence[str]) -> list[str]:
    """Give lines as they are printed: no control letters, none wider than a terminal."""
    clean = [
        part if not n else " " * (len(line) - len(line.lstrip())) + part
        for line in lines
        for n, part in enumerate(without_marks(line).translate(_CONTROL).split("\n"))
    ]
    if not is_narrow():
        return clean
    return [part for line in clean for part in rewrapped(line)]


def table(
    heads: Sequence[str], rows: Sequence[Sequence[str]], units: Sequence[str] = ()
) -> list[str]:
    """Lay out rows under heads, each column as wide as its widest cell, in the units chosen.

    Where that is wider than there is room, each row becomes its first cell and a line of the
    others, each after its head. `units` are those of columns whose heads do not say them.
    """
    heads, rows = _in_chosen(heads, rows, units)
    if collected() is not None:
        return [Laid(heads, rows)]
    widths = [max(len(without_marks(row[n])) for row in (heads, *rows)) for n in range(len(heads))]
    ruled = [heads, ["-" * each for each in widths], *rows]
    laid = [
        "  ".join(_padded(cell, each) for cell, each in zip(row, widths, strict=True)).rstrip()
        for row in ruled
    ]
    return laid if max(map(len, laid)) <= width() else _as_lines(heads, rows)


def _in_chosen(
    heads: Sequence[str], rows: Sequence[Sequence[str]], units: Sequence[str]
) -> tuple[Sequence[str], Sequence[Sequence[str]]]:
    if chosen().is_plain:
        return heads, rows
    said = [*units, *[""] * (len(heads) - len(units))]
    made = [
        column(head, [row[n] for row in rows], chosen(), said[n]) for n, head in enumerate(heads)
    ]
    return [head for head, _ in made], [[cells[n] for _, cells in made] for n in range(len(rows))]


def _padded(cell: str, wide: int) -> str:
    return cell + " " * (wide - len(without_marks(cell)))


def _as_lines(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    told = []
    for row in rows:
        rest = [
            f"{head}: {cell}" if head else cell
            for head, cell in zip(heads[1:], row[1:], strict=True) if cell
        ]  # fmt: skip
        told += [row[0], *rewrapped(f"  {'; '.join(rest)}")]
    return told


def _plain(slip: UnicodeError) -> tuple[str, int]:
    if not isinstance(slip, UnicodeEncodeError):
        raise slip
    return "".join(_PLAIN.get(each, "?") for each in slip.object[slip.start : slip.end]), slip.end


def _takes_unicode() -> bool:
    encoding = (getattr(sys.stdout, "encoding", None) or "utf-8").lower()
    return bool(re.match(r"utf|ascii|ansi_x3|us-ascii|646", encoding))


@contextmanager
def _written() -> Iterator[None]:
    try:
        yield
    except OSError as slip:
        if slip.errno == errno.EPIPE:
            raise
        _drop_what_waits()
        raise AnswerLostError(slip.strerror or str(slip)) from slip


def _drop_what_waits() -> None:
    """Let what could not be written go, or Python tries it again on its way out."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
