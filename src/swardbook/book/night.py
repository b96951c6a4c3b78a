"""One lawn's night: all that the morning asks of it, worked out without a database.

A task carries the whole ground as its book holds it; what comes back is told, and written by
whoever sent it. The same task has the same bits on every machine of one kind.
"""

from __future__ import annotations

import os
import pickle
import sys
import time
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from swardbook.book.lawn_summary import summary_of
from swardbook.book.look_ahead import ZoneLookAhead, look_ahead_of
from swardbook.book.machine_kind import MachineKind, machine_kind
from swardbook.book.opening import Book
from swardbook.foundation.errors import NotEnoughDataError, SwardbookError
from swardbook.model.past import live_through
from swardbook.model.prospects import Range
from swardbook.records.chain import canonical
from swardbook.records.extract import Extract, store_of
from swardbook.records.taking_out import extract_of
from swardbook.settings import Settings

MEASURES = ("annual_meadow_grass_cover", "annual_meadow_grass_plants", "sown_cover", "bare")
"""What of a look-ahead is kept for the morning."""


@dataclass(frozen=True, slots=True)
class NightTask:
    """What one lawn's night is worked out from.

    Parameters
    ----------
    extract : Extract
        The ground, taken out of its book.
    today, written_on : date
        The day it is for, and the clock's.
    draws : int
        Draws of the look-ahead; 0: there is to be none.
    strict : bool
        Whether the model rounds alike on all processors.
    kind : MachineKind
        The kind of machine whose bits are wanted.
    cache : Path or None
        Folder for compiled code, where the worker is on the same machine; None: the worker's own.
    """

    extract: Extract
    today: date
    written_on: date
    draws: int
    strict: bool
    kind: MachineKind
    cache: Path | None = None


@dataclass(frozen=True, slots=True)
class NightTold:
    """What came of one lawn's night.

    Parameters
    ----------
    text : str
        The answer, as the one JSON text that has these values; the same on each machine of a kind.
    unlike : tuple of str
        In what the machine is of another kind; nothing was worked out then.
    seconds, cpu_seconds : float
        What it took. [s]
    memory : int
        Memory of the process afterwards; 0 where it cannot be told. [byte]
    process : str
        Which process did it.
    """

    text: str
    unlike: tuple[str, ...]
    seconds: float
    cpu_seconds: float
    memory: int
    process: str


def task_of(book: Book, draws: int) -> NightTask:
    """Give the task of one ground, to be worked out right here.

    Parameters
    ----------
    book : Book
        The opened book, at the ground.
    draws : int
        Draws of the look-ahead; 0: there is to be none.
    """
    settings = book.settings
    return NightTask(
        extract_of(book.store), book.today, book.written_on, draws, settings.strict,
        machine_kind(settings.strict), settings.cache,
    )  # fmt: skip


def packed(task: NightTask) -> bytes:
    """Write a task as bytes; made small only where it goes to another machine."""
    return zlib.compress(pickle.dumps(task, protocol=5), 0 if task.cache else 1)


def night_work(content: bytes) -> bytes:
    """Do a task: bytes in, bytes out; what workers are given to do."""
    begun, spent = time.perf_counter(), time.process_time()
    task: NightTask = pickle.loads(zlib.decompress(content))
    unlike = task.kind.unlike(machine_kind(task.strict))
    text = "" if unlike else canonical(night_of(task))
    told = NightTold(
        text, unlike, time.perf_counter() - begun, time.process_time() - spent, _memory(),
        f"{os.uname().nodename if hasattr(os, 'uname') else ''} {os.getpid()}",
    )  # fmt: skip
    return pickle.dumps(told, protocol=5)


def read_told(result: bytes) -> NightTold:
    """Read what a worker gave back."""
    told: NightTold = pickle.loads(result)
    return told


def night_of(task: NightTask) -> dict[str, Any]:
    """Work out one lawn's night.

    Returns
    -------
    dict
        ``look``: what the listing of all lawns remembers; ``ahead``: each zone's look-ahead, or
        why it has none; None where none was asked for.
    """
    settings = Settings(
        Path("no book here"), "taken out of its book", draws=task.draws or 64, threads=1,
        strict=task.strict, cache_folder=task.cache or _own_cache(),
    )  # fmt: skip
    store = store_of(task.extract)
    book = Book(settings, store, task.today, task.written_on, task.extract.is_made_up)
    look = _look(book)
    ahead = None
    if task.draws and "fault" not in look:
        ahead = {zone.name: _ahead(book, zone.name) for zone in book.ground().zones}
    return {"look": look, "ahead": ahead}


def _look(book: Book) -> dict[str, Any]:
    try:
        return summary_of(book)
    except SwardbookError as slip:
        return {"fault": str(slip)}


def _ahead(book: Book, zone: str) -> dict[str, Any]:
    try:
        found = look_ahead_of(book, zone, learn=live_through)
    except NotEnoughDataError as short:
        return {"not_enough_data": str(short)}
    except SwardbookError as slip:
        return {"fault": str(slip)}
    return told_ahead(found)


def told_ahead(found: ZoneLookAhead) -> dict[str, Any]:
    """Tell of a look-ahead what the morning asks."""
    led = found.look.leading
    return {
        "label": found.label,
        "why_not_full": found.why_not_full,
        "effective_draws": float(found.look.effective_draws),
        "now": _ranges(found.look.now),
        "year": found.years[found.look.prospects[0].programme.key].value,
        "leaves_least": list(led.group) if led else [],
        "verdict": led.verdict.value if led else None,
        "programmes": {
            each.programme.key: {
                "year": found.years[each.programme.key].value,
                "at": {key: _ranges(at) for key, at in each.at.items()},
                "hours_year": _range(each.hours_year),
            }
            for each in found.look.prospects
        },
    }


def _ranges(ranges: Mapping[str, Range]) -> dict[str, list[float]]:
    return {name: _range(ranges[name]) for name in MEASURES if name in ranges}


def _range(told: Range) -> list[float]:
    return [float(told.at80.low), float(told.median), float(told.at80.high)]


def _own_cache() -> Path:
    from swardbook.settings import read_settings

    return read_settings(os.environ).cache


def _memory() -> int:
    """Tell how much memory this process has now, where the system says it."""
    if sys.platform != "linux":
        return 0
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE")
