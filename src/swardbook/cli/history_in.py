"""``swardbook history-in``: an old spreadsheet or notebook, row by row, before it is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import as_typed
from swardbook.cli.doors import Door, door_options
from swardbook.cli.telling import short_id, tell
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.history_in import HistoryIn, HistoryRow

_MARKS = {"understood": "✓", "guessed": "?", "parked": "✗", "in the diary already": "-"}


@click.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--zone", "-z", default="", help="The zone of rows that name none.")
@click.option("--keep", is_flag=True, help="Write it in the diary; without it nothing is written.")
@door_options
def command(door: Door, file: Path, zone: str, keep: bool) -> None:
    """Read an old spreadsheet (CSV) or a notebook (text) of sowings, cuts and counts.

    Shows row by row what was understood, what was guessed and what was not. With --keep good
    rows go into the diary and the others are parked; the same file twice adds nothing.
    """
    from swardbook.book.history_in import history_in

    book = door.book()
    done = history_in(book, file, zone, keep)
    door.show(_payload(done), _lines(done, str(file)), book)


def _lines(done: HistoryIn, file: str) -> list[str]:
    lines = [note for each in done.notes for note in under("", each, 0)] + [""]
    for row in done.rows:
        lines += _row_lines(row)
    counts = [f"{len(done.of(state))} {state}" for state in _MARKS if done.of(state)]
    lines += ["", f"{len(done.rows)} rows: {', '.join(counts)}."]
    if done.is_kept:
        lines += ["Kept. What waits to be put right: swardbook parked show"]
    else:
        lines += ["Nothing is written yet. If it reads right:", f"  {_again(file)} --keep"]
    return lines


def _again(file: str) -> str:
    import shlex

    return f"swardbook history-in {shlex.quote(file)}"


def _row_lines(row: HistoryRow) -> list[str]:
    mark = _MARKS[row.state]
    entry = row.entry
    if row.state == "parked" and entry is not None:
        lines = under(mark, f"line {row.line}: {as_typed(row.as_it_came.strip())}", 0)
        return lines + under("-", getattr(entry.what, "words", ""), 4)
    told = tell(entry) if entry is not None else as_typed(row.as_it_came)
    lines = under(mark, f"line {row.line}: {told}", 0)
    if row.state == "in the diary already":
        return [*lines, "    - In the diary already; not added again."]
    for place in getattr(entry.what, "places", ()) if entry is not None else ():
        found = ", ".join(f"{kind} {number:g}" for kind, number in place.found.items())
        looked = f"{place.looked:g} m²" if place.method.value == "plants" else place.method.value
        lines += under("-", f"{place.place}, {looked}: {found}.", 4)
    for guess in row.guessed:
        lines += under("-", f"Guessed: {guess}.", 4)
    if entry is not None and entry.needs_a_look:
        lines += under("-", f"Needs a look: {entry.needs_a_look}", 4)
    return lines


def _payload(done: HistoryIn) -> dict[str, Any]:
    return {
        "file": done.name,
        "kept": done.is_kept,
        "notes": list(done.notes),
        "counts": {state.replace(" ", "_"): len(done.of(state)) for state in _MARKS},
        "rows": [_row(each, done.is_kept) for each in done.rows],
    }


def _row(row: HistoryRow, is_kept: bool) -> dict[str, Any]:
    from swardbook.husbandry.codec import plain_entry

    entry = None if row.entry is None else plain_entry(row.entry)
    has_id = row.entry is not None and (is_kept or row.state != "parked")
    if entry is not None and not has_id:
        entry.pop("id")
    return {
        "line": row.line,
        "as_it_came": row.as_it_came,
        "state": row.state,
        "guessed": list(row.guessed),
        "entry": entry,
        "short_id": short_id(row.entry) if row.entry is not None and has_id else None,
    }
