"""Small books of the made-up ground for tests."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import Cut, Happening
from swardbook.records.files import make_private_folder
from swardbook.records.opening import create_store, open_store
from swardbook.records.store import Store
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.settings import Settings
from tests.support.databases import SERVER, place

TODAY = date(2011, 10, 8)
SITE = Site("Fennowick Croquet Club", 52.0, 62.0, weekly_hours=9, hose_l_min=14)
MAIN = Zone(
    "Main court", 819.2, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0, soil="silty clay loam"
)
SHORT = Zone("Short court", 460.8, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0)
LOT = SeedLot(
    "BB-0417",
    "Bobbin",
    (LotPart("chewings fescue", 0.8, germination=0.85), LotPart("browntop bent", 0.2)),
    bought_g=40_000,
    price_per_kg="9.80",
)


def filled(store: Store) -> Store:
    """Put the small ground into an empty store."""
    store.save_site(SITE)
    for zone in (MAIN, SHORT):
        store.save_zone(zone)
    for name in ("P1", "P2"):
        store.save_peg(Peg(name, MAIN.name, "4.2 m from the post"))
    store.save_lot(LOT)
    return store


def small_book(home: Path, today: date = TODAY) -> Book:
    """Make a small book for a day: a copy of one that is made once for all tests of a process."""
    settings = Settings(home)
    make_private_folder(home)
    shutil.copyfile(_small_file(), settings.book_file)
    settings.book_file.chmod(0o600)
    return Book(settings, open_store(settings), today, today, False)


@cache
def _small_file() -> Path:
    folder = tempfile.mkdtemp(prefix="small-book-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    settings = Settings(Path(folder) / "book")
    filled(create_store(settings)).close()
    return settings.book_file


def entry(
    number: int,
    what: Happening | None = None,
    day: date = TODAY,
    zone: str = MAIN.name,
    **more: Any,
) -> DiaryEntry:
    """Make an entry whose id is a number."""
    return DiaryEntry(UUID(int=number), When.on(day), what or Cut(8.0, True), zone=zone, **more)


@contextmanager
def standing_on_made_up_ground(home: Path) -> Iterator[Path]:
    """Let commands find the made-up book in a folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWARDBOOK_HOME", str(home))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        put_made_up_ground(home)
        if SERVER:
            patch.setenv("SWARDBOOK_DATABASE", _on_server(home).database)
        yield home


def put_made_up_ground(home: Path) -> None:
    """Lay the made-up book into a folder, without its morning look, which takes longest."""
    home.mkdir(parents=True, exist_ok=True)
    home.chmod(0o700)
    for held in _made_up_ground().iterdir():
        shutil.copy2(held, home) if held.is_file() else shutil.copytree(held, home / held.name)


def _on_server(home: Path) -> Settings:
    """Move the made-up book to a database of its own."""
    from swardbook.records.moving import moving

    target = place(home)
    with moving(Settings(home), target, TODAY):
        pass
    return target


@cache
def _made_up_ground() -> Path:
    """Build the made-up book once for all tests of a process."""
    from swardbook.demo.build import build

    folder = tempfile.mkdtemp(prefix="made-up-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    home = Path(folder) / "book"
    build(Settings(home), lambda: TODAY, tell=lambda _: None).book.store.close()
    return home
