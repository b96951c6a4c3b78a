"""Tables, lines and JSON on the terminal; the only module that prints."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import click


def print_json(payload: dict[str, Any]) -> None:
    """Print one object; the same question prints the same bytes."""
    click.echo(json.dumps(payload, ensure_ascii=False, indent=1, allow_nan=False))


def print_lines(lines: Sequence[str]) -> None:
    """Print lines of text."""
    for line in lines:
        click.echo(line)


def table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Lay out rows under heads, each column as wide as its widest cell."""
    widths = [max(len(row[n]) for row in (heads, *rows)) for n in range(len(heads))]
    ruled = [heads, ["-" * width for width in widths], *rows]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in ruled
    ]
