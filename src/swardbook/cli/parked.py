"""``swardbook parked``: rows that could not be taken in, and how they are put right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.telling import short_id
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.husbandry.diary import DiaryEntry


@click.group()
def command() -> None:
    """Show rows that could not be taken in, and take them in once they are put right."""


@command.command()
@click.option("--zone", "-z", default="", help="Only this zone.")
@door_options
def show(door: Door, zone: str) -> None:
    """Show every row that waits: where it stood, what was read, what is understood there."""
    from swardbook.book.parking import parked_rows

    book = door.book()
    rows = parked_rows(book, zone)
    lines = [*parked_lines(rows), *(_cells(each) for each in rows)] if rows else ["None parked."]
    door.show({"parked": [parked_payload(each) for each in rows]}, lines, book)


@command.command(name="take-in", short_help="Put a parked row right and take it in.")
@click.argument("row")
@click.option(
    "--set",
    "-s",
    "pairs",
    multiple=True,
    metavar="COLUMN=VALUE",
    help="A column and its right value; also when, zone, counter, method and looked.",
)
@click.option("--reason", required=True, help="What was wrong; kept with the entry.")
@door_options
def take_in(door: Door, row: str, pairs: tuple[str, ...], reason: str) -> None:
    """Put a parked ROW right by its id, and take it in; the row as it came is kept."""
    from swardbook.book.fields import read_pairs
    from swardbook.book.taking_in import take_in as taken
    from swardbook.cli.keeping import answer

    book = door.book()
    fresh, asked = taken(book, row, read_pairs(pairs), reason)
    told = f"The row as it came is kept: {str(fresh.corrects)[:8]}."
    answer(door, book, fresh, asked, [told], {"corrects": str(fresh.corrects)})


def parked_lines(rows: Sequence[DiaryEntry]) -> list[str]:
    """Say of each parked row what was read, what is understood, and the ways out."""
    from swardbook.book.parking import ways_out

    lines = []
    for each in rows:
        lines += under("", f"Parked {short_id(each)}: {getattr(each.what, 'words', '')}", 2)
        lines += [f"  {way}" for way in ways_out(each)]
    return lines


def parked_payload(row: DiaryEntry) -> dict[str, Any]:
    """Give a parked row with its ways out."""
    from swardbook.book.parking import ways_out
    from swardbook.husbandry.codec import plain_entry

    return {**plain_entry(row), "short_id": short_id(row), "fixes": list(ways_out(row))}


def _cells(row: DiaryEntry) -> str:
    cells = getattr(row.what, "cells", {})
    told = "; ".join(f"{name}: {text}" for name, text in cells.items() if text)
    return f"{short_id(row)} as it came: {told}."
