"""Notes about a lot written into files, and the list as an open table."""

from __future__ import annotations

from pathlib import Path

from swardbook.book.archive_tables import csv_text, guarded_text
from swardbook.book.lot_trace import LotTrace
from swardbook.foundation.errors import BadInputError
from swardbook.records.guard import guarded

HEADS = ("ground", "name", "zone", "kind", "day", "area_m2", "grams", "plots", "seen_since")


def trace_table(found: LotTrace) -> str:
    """Write where a lot went as a table, a row for each sowing."""
    rows = [
        [
            each.slug, guarded_text(each.ground), guarded_text(each.zone), each.kind,
            each.day.isoformat(), "" if each.area_m2 is None else f"{each.area_m2:g}",
            "" if each.grams is None else f"{each.grams:g}", guarded_text("; ".join(each.plots)),
            guarded_text("; ".join(f"{seen.day}: {seen.words}" for seen in each.seen)),
        ]
        for each in found.sown
    ]  # fmt: skip
    return csv_text(HEADS, rows)


def save_notes(folder: Path, found: LotTrace) -> list[Path]:
    """Write each owner's note and the table into a folder; nothing is written over.

    Raises
    ------
    BadInputError
        If a file of that name is there.
    StorageError
        If the disk would not take it.
    """
    texts = {f"{slug}.txt": f"{note}\n" for slug, _, note in found.notes}
    texts["sown.csv"] = trace_table(found)
    paths = [folder / name for name in texts]
    for path in paths:
        if path.exists():
            raise BadInputError("the notes", str(path), "a folder without files of these names")
    with guarded(str(folder)):
        folder.mkdir(parents=True, exist_ok=True)
        for path, text in zip(paths, texts.values(), strict=True):
            path.write_text(text, encoding="utf-8", newline="")
    return paths
