"""A small firm's book for tests: lawns with places, a yard, and who comes where."""

from __future__ import annotations

import random
import shutil
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from swardbook.book.all_lawns import look_over_lawns
from swardbook.book.firm import name_yard, say_who_comes, set_worker
from swardbook.book.opening import Book, at_ground, begin_book, open_any_book
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.husbandry.ground import Site
from swardbook.husbandry.where import SitePlan
from swardbook.settings import Settings

__all__ = ["LAWNS", "PLACELESS", "TODAY", "WHO", "YARD", "at", "clock", "firm_book"]
LAWNS = 6
WHO = ("Ines", "Bram")
YARD = "the-yard"
PLACELESS = "1-gravelside"


def clock() -> date:
    return TODAY


def firm_book(home: Path) -> Book:
    """Open a copy of the firm's book: eight lawns, a yard, two who go out."""
    home.mkdir(parents=True, exist_ok=True)
    shutil.copy2(_made() / "book.sqlite3", home)
    return open_any_book(Settings(home), clock)


def at(book: Book, slug: str) -> Book:
    """Give a lawn of the book."""
    return at_ground(book, slug, clock)


@cache
def _made() -> Path:
    home = Path(mkdtemp(prefix="firm-"))
    slugs = write_firm(Settings(home), Firm(lawns=LAWNS, years=1))
    yard = Site(
        "The yard", 52.0, 20, made_up_today=TODAY, plan=SitePlan(latitude=52.0, longitude=0.1)
    )
    begin_book(Settings(home), clock, yard).store.close()
    book = open_any_book(Settings(home), clock)
    name_yard(at(book, YARD), "7:30")
    set_worker(at(book, YARD), "Ines", "7.5")
    set_worker(at(book, YARD), "Bram", "6", "mon, wed, fri")
    chance = random.Random(7)
    for n, slug in enumerate(slugs):
        lawn = at(book, slug)
        site = lawn.ground().site
        plan = SitePlan(latitude=site.latitude, longitude=round(0.1 + chance.uniform(-0.2, 0.2), 4))
        if n != LAWNS - 1:
            lawn.store.save_site(replace(site, plan=plan), on=TODAY)
        say_who_comes(lawn, WHO[n % 2] if n != 2 else "")
    look_over_lawns(book, clock, all_anew=True)
    book.store.close()
    return home
