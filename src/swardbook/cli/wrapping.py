"""Wrap text to the room there is, with a hanging indent under a mark."""

from __future__ import annotations

import os
import re
from textwrap import wrap

from swardbook.cli.chosen import in_chosen
from swardbook.cli.collecting import ROOM, Heading, Marked, collected
from swardbook.cli.room import WIDTH, columns, is_terminal
from swardbook.foundation.unit_words import kept_over_lines

_LEAD = re.compile(r"\s*(?:[-✓✗?☐●○◷⊘■◧□] +)?(?:\d+\. )?(?:[0-9a-f]{8}  )?")
_TO_COPY = ("swardbook ", "export ", "unset ")
_NEXT = re.compile(r"(\s*)(Next: )(swardbook .*)")
_JOINED = "\ue003"
_UNIT = (
    r"(?:%|‰|°[CF]?|[mck]?m[²³]?|km/h|m/s|k?g|t|L|ml|mol|MJ|kW?|V|dS/m|h|s|min|oz|lb|in|ft|yd²?|ac"
    r"|mph|gal|points?|GBP|EUR|USD|£|€)"
)
_BEFORE_UNIT = re.compile(
    rf"(?<=\d) (?={_UNIT}(?:[/·]\S|[^\w/]|$))|(?<=\d g) (?=N/)|(?<=°C) (?=d\b)"
    r"|(?<=±) (?=\d)|(?<=[£€≈]) (?=\d)"
)


def width() -> int:
    """Give the columns there are: the terminal's; 80 where the answer goes elsewhere."""
    return ROOM if collected() is not None else columns()


def is_narrow() -> bool:
    """Tell whether lines are wrapped to the room there is; what goes into a pipe is not."""
    return bool(os.environ.get("COLUMNS")) or is_terminal()


def text_width() -> int:
    """Give the columns of running text: 80 at most."""
    return ROOM if collected() is not None else min(WIDTH, width())


def under(mark: str, text: str, indent: int = 2) -> list[str]:
    """Wrap text behind a mark; the next lines stand under its first word."""
    if collected() is not None:
        return [Marked(in_chosen(text), mark, indent)]
    lead = " " * indent + (f"{mark} " if mark else "")
    lines = _wrapped(
        in_chosen(text), text_width(), initial_indent=lead, subsequent_indent=" " * len(lead)
    )
    return kept_over_lines(lines) or [lead.rstrip()]


def heading(text: str) -> list[str]:
    """Write a heading over a rule as long as itself."""
    if collected() is not None:
        return [Heading(text)]
    return [text, "-" * min(len(text), text_width())]


def rewrapped(line: str) -> list[str]:
    """Wrap one line that is too wide under its own beginning; a command stays in one piece."""
    room = width()
    if len(line) <= room or line.lstrip().startswith(_TO_COPY):
        return [line]
    if step := _NEXT.fullmatch(line):
        return [f"{step[1]}Next:", f"{step[1]}  {step[3]}"]
    lead = _LEAD.match(line)
    indent = min(len(lead[0]) if lead else 0, room // 3)
    return _wrapped(
        line, min(room, max(WIDTH, indent + 1)), subsequent_indent=" " * indent,
        break_long_words=False,
    ) or [line]  # fmt: skip


def _wrapped(
    text: str, room: int, *, initial_indent: str = "", subsequent_indent: str = "",
    break_long_words: bool = True,
) -> list[str]:  # fmt: skip
    """Wrap text; a number and its unit, or its %, always stand on one line."""
    lines = wrap(
        _BEFORE_UNIT.sub(_JOINED, text), room, initial_indent=initial_indent,
        subsequent_indent=subsequent_indent, break_long_words=break_long_words,
        break_on_hyphens=False,
    )  # fmt: skip
    return [line.replace(_JOINED, " ") for line in lines]
