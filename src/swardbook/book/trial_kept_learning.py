"""What a trial taught, kept in the cache under all that it rests on."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import fields
from hashlib import blake2b
from pathlib import Path
from typing import TypeVar

from swardbook.book.kept_learning import READS
from swardbook.book.kept_worth import program
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import from_plain, to_plain

Kept = TypeVar("Kept")
MOST_KEPT = 40
"""Files kept; the oldest go first."""


def kept_or_made(
    book: Book, zone: str, kernel: str, kind: type[Kept], make: Callable[[], Kept]
) -> Kept:
    """Read what a trial taught if it was worked out before from the same; else work it out.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial.
    kernel : str
        Identity of the compiled model.
    kind : type
        The dataclass that is kept.
    make : callable
        Works it out.
    """
    mark = _rests_on(book, zone, kernel)
    path = book.settings.cache / "trials" / f"{mark}.json"
    with suppress(OSError, ValueError, KeyError, TypeError, BadInputError):
        return from_plain(kind, json.loads(path.read_text(encoding="utf-8")), "a trial's lesson")
    made = make()
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        draft = path.with_name(f"draft-{os.getpid()}-{path.name}")
        draft.write_text(json.dumps(to_plain(made), ensure_ascii=False), encoding="utf-8")
        os.replace(draft, path)
        _tidy(path.parent)
    return made


def _rests_on(book: Book, zone: str, kernel: str) -> str:
    """Fingerprint of the trial, of the weather up to the last thing noted there, and the model."""
    ground, weather = book.ground(), book.weather()
    entries = ground.entries(zone)
    last = max((entry.day for entry in entries), default=book.today)
    packages = (*READS, "trials", "review", "book")
    held = [
        to_plain(ground.site), to_plain(ground.zone(zone)),
        [to_plain(plot) for plot in ground.plots if plot.zone == zone],
        [to_plain(lot) for lot in ground.lots],
        [to_plain(entry.what) | {"day": entry.when.first.isoformat(), "zone": entry.zone}
         for entry in entries],
        last.isoformat(), kernel, program(packages),
    ]  # fmt: skip
    whole = blake2b(json.dumps(held, sort_keys=True, default=str).encode(), digest_size=20)
    if weather is not None:
        known = weather.until(max(last, weather.first))
        for entry in fields(known):
            series = getattr(known, entry.name)
            whole.update(entry.name.encode())
            whole.update(b"" if series is None else series.tobytes())
    return whole.hexdigest()


def _tidy(folder: Path) -> None:
    found = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime_ns)
    for path in found[:-MOST_KEPT]:
        path.unlink(missing_ok=True)
