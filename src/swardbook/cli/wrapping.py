"""Wrap text to the room there is, with a hanging indent under a mark."""

from __future__ import annotations

import os
import re
import shutil
import sys
from textwrap import wrap

from swardbook.cli.chosen import in_chosen
from swardbook.foundation.unit_words import kept_over_lines

WIDTH = 80
NARROWEST = 30
_LEAD = re.compile(r"\s*(?:[-✓✗?☐●○◷⊘■◧□] +)?(?:\d+\. )?(?:[0-9a-f]{8}  )?")
_TO_COPY = ("swardbook ", "export ", "unset ")


def width() -> int:
    """Give the columns there are: the terminal's; 80 where the answer goes elsewhere."""
    if os.environ.get("COLUMNS", "").isdecimal() or _is_terminal():
        return max(NARROWEST, shutil.get_terminal_size((WIDTH, 24)).columns)
    return WIDTH


def is_narrow() -> bool:
    """Tell whether lines are wrapped to the room there is; what goes into a pipe is not."""
    return bool(os.environ.get("COLUMNS")) or _is_terminal()


def text_width() -> int:
    """Give the columns of running text: 80 at most."""
    return min(WIDTH, width())


def under(mark: str, text: str, indent: int = 2) -> list[str]:
    """Wrap text behind a mark; the next lines stand under its first word."""
    lead = " " * indent + (f"{mark} " if mark else "")
    lines = wrap(
        in_chosen(text), text_width(), initial_indent=lead, subsequent_indent=" " * len(lead),
        break_on_hyphens=False,
    )  # fmt: skip
    return kept_over_lines(lines) or [lead.rstrip()]


def heading(text: str) -> list[str]:
    """Write a heading over a rule as long as itself."""
    return [text, "-" * min(len(text), text_width())]


def rewrapped(line: str) -> list[str]:
    """Wrap one line that is too wide under its own beginning; a command stays in one piece."""
    room = width()
    if len(line) <= room or line.lstrip().startswith(_TO_COPY):
        return [line]
    lead = _LEAD.match(line)
    indent = min(len(lead[0]) if lead else 0, room // 3)
    return wrap(
        line, min(room, max(WIDTH, indent + 1)), subsequent_indent=" " * indent,
        break_long_words=False, break_on_hyphens=False,
    ) or [line]  # fmt: skip


def _is_terminal() -> bool:
    return sys.stdout is not None and sys.stdout.isatty()
