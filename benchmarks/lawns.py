"""Many lawns: one lawn of three hundred must cost what it costs among three.

Run: ``python -m benchmarks lawns``. Nothing here is asserted.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial
from itertools import count
from pathlib import Path
from uuid import UUID

from benchmarks._measuring import Row, cpu, medians
from swardbook.book.all_lawns import all_lawns, remember_lawn
from swardbook.book.opening import Book, at_ground, open_any_book, open_book
from swardbook.book.plan import week
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.settings import Settings

FEW, MANY, YEARS = 3, 300, 3
LAWN = "1-plover-row"
"""The same lawn in both books."""
TIMES = 15
SAMPLE = 20
MOST = 1.3
"""Cost among many against cost among few that is still called the same."""
_NUMBERS = count(1)


def clock() -> date:
    """Give the made-up day."""
    return TODAY


def run() -> list[Row]:
    """Write both books, and take each question in turn on one and the other."""
    with tempfile.TemporaryDirectory() as folder:
        homes = {many: Path(folder) / str(many) for many in (FEW, MANY)}
        taken = {many: cpu(partial(_write, home, many)) for many, home in homes.items()}
        books = {many: open_any_book(Settings(home), clock) for many, home in homes.items()}
        entries = sum(each.entries for each in all_lawns(books[MANY]).lawns)
        size = (homes[MANY] / "book.sqlite3").stat().st_size / 1e6
        rows = [
            Row(
                f"Writing a book of {MANY} lawns by {YEARS} years: {entries:,} entries,"
                f" {size:.0f} MB", f"{taken[MANY]:.0f} s", "≤ 60 s", taken[MANY] <= 60,
            ),
            *_compared(books, homes),
            *_questions(books),
            *_listing(books),
        ]  # fmt: skip
        for book in books.values():
            book.store.close()
        return rows


def _write(home: Path, many: int) -> None:
    write_firm(Settings(home), Firm(lawns=many, years=YEARS))


def _compared(books: dict[int, Book], homes: dict[int, Path]) -> list[Row]:
    """Compare each question about one lawn among few and among many."""
    asked: dict[str, Callable[[int], object]] = {
        "`book.ground()`, nothing read before": lambda many: _the_lawn(books[many]).ground(),
        "`store.whole_diary()`, nothing read before": (
            lambda many: _the_lawn(books[many]).store.whole_diary()
        ),
        "`book.weather()`": lambda many: _the_lawn(books[many]).weather(),
        "The week of one lawn": lambda many: week(_the_lawn(books[many])),
        "Adding one entry": lambda many: _add_one(_the_lawn(books[many])),
    }
    opened = {"Opening the book at one lawn": lambda many: _opened(homes[many])}
    return [_ratio(name, ask, MOST) for name, ask in asked.items()] + [
        _ratio(name, ask, None) for name, ask in opened.items()
    ]


def _ratio(name: str, ask: Callable[[int], object], most: float | None) -> Row:
    found = medians({str(many): partial(ask, many) for many in (FEW, MANY)}, TIMES)
    few, many = found[str(FEW)], found[str(MANY)]
    return Row(
        f"{name}: p50 among {MANY} lawns against {FEW}",
        f"{many / few:.2f} times ({1000 * few:.1f} and {1000 * many:.1f} ms)",
        f"≤ {most} times" if most else "none set",
        None if most is None else many <= most * few,
    )


def _the_lawn(book: Book) -> Book:
    return at_ground(book, LAWN, clock)


def _opened(home: Path) -> None:
    open_book(Settings(home), clock, ground=LAWN).store.close()


def _add_one(lawn: Book) -> None:
    """Write the last entry again under another id."""
    last = lawn.ground().diary[-1]
    lawn.store.add([replace(last, id=UUID(int=next(_NUMBERS)), corrects=None)])


def _questions(books: dict[int, Book]) -> list[Row]:
    """Count what is asked of the database, which must not grow with the lawns."""
    asked: dict[str, Callable[[Book], object]] = {
        "`book.ground()`": lambda book: _the_lawn(book).ground(),
        "The week of one lawn": lambda book: week(_the_lawn(book)),
        "`all_lawns`": all_lawns,
    }
    rows = []
    for name, ask in asked.items():
        few, many = (_queries(books[each], ask) for each in (FEW, MANY))
        told = f"{few} and {many}"
        rows.append(Row(f"{name}: questions to the database with {FEW} and {MANY} lawns", told,
                        "the same", few == many))  # fmt: skip
    return rows


def _queries(book: Book, ask: Callable[[Book], object]) -> int:
    from django.db import connections
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connections[book.store._rows.alias]) as caught:
        ask(book)
    return len(caught)


def _listing(books: dict[int, Book]) -> list[Row]:
    """Time the listing of all lawns, and the look that it remembers."""
    book = books[MANY]
    lawns = [at_ground(book, each.slug, clock) for each in all_lawns(book).lawns[:SAMPLE]]
    look = sum(cpu(partial(remember_lawn, lawn)) for lawn in lawns) / SAMPLE
    listed = medians({"listed": partial(all_lawns, book)}, TIMES)["listed"]
    return [
        Row(f"`all_lawns`, {MANY} lawns", f"{1000 * listed:.0f} ms", "≤ 100 ms", listed <= 0.1),
        Row(f"Looking one lawn over for it, mean of {SAMPLE}", f"{1000 * look:.0f} ms"),
    ]
