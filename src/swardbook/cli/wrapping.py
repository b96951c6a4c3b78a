"""Wrap text to 80 columns, with a hanging indent under a mark."""

from __future__ import annotations

from textwrap import wrap

WIDTH = 80


def under(mark: str, text: str, indent: int = 2) -> list[str]:
    """Wrap text behind a mark; the next lines stand under its first word."""
    lead = " " * indent + (f"{mark} " if mark else "")
    return wrap(
        text, WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead),
        break_on_hyphens=False,
    ) or [lead.rstrip()]  # fmt: skip


def heading(text: str) -> list[str]:
    """Write a heading over a rule as long as itself."""
    return [text, "-" * len(text)]
