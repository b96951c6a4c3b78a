"""Books brought together in any order hold the same: all of each, nothing twice."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import permutations
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import UUID

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from swardbook.book.bring_together import bring_together
from swardbook.book.opening import Book, open_book
from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Peg
from swardbook.husbandry.happenings import Cut
from swardbook.records.chain import canonical
from swardbook.settings import Settings
from tests.support.books import MAIN, TODAY, entry, small_book

NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
"""Each try fills seven books: to shrink one would take minutes."""
DONE = st.lists(
    st.tuples(st.sampled_from(["cut", "own cut", "put right", "height", "peg", "result"]),
              st.integers(1, 3), st.integers(0, 9)),
    max_size=5,
)  # fmt: skip


def opened(home: Path) -> Book:
    return open_book(Settings(home), lambda: TODAY)


def act(book: Book, number: int, done: Sequence[tuple[str, int, int]]) -> None:
    """Write into one book what was done with it alone; ids of ``cut`` are those of every book."""
    store, own = book.store, 100 * number
    for what, which, ago in done:
        day = TODAY - timedelta(days=ago)
        if what == "cut":
            store.add([entry(which, Cut(float(10 * number)), day=day)])
        elif what == "own cut":
            store.add([entry(own + which, Cut(float(which)), day=day)])
        elif what == "put right":
            if any(each.id == UUID(int=50) for each in store.whole_diary()):
                right = entry(own + 10 + which, Cut(float(own + which)), corrects=UUID(int=50))
                store.add([replace(right, written_on=day)])
        elif what == "height":
            fresh = replace(MAIN, height_of_cut_mm=float(3 + 40 * (number - 1) + 10 * which + ago))
            store.save_zone(fresh, on=day)
        elif what == "peg":
            store.save_peg(Peg(f"P{which + 2}", MAIN.name, f"{number} m from the post"), on=day)
        else:
            store.keep("guess", f"{which}", {"share": number if which > 1 else 0})


def content(each: DiaryEntry) -> str:
    return str(replace(each, id=UUID(int=0), needs_a_look="", written_on=None))


def holdings(home: Path) -> tuple[object, ...]:
    """Give all that a book holds, whatever the order it came in."""
    book = opened(home)
    ground = book.store.ground()
    pieces = (ground.site, *ground.zones, *ground.pegs, *ground.lots)
    diary, stands = book.store.whole_diary(), ground.diary
    kept = sorted(f"{kind} {name} {canonical(held)}" for kind, name, held in book.store.all_kept())
    assert book.store.check() == ()
    book.store.close()
    return (
        Counter(map(content, diary)), Counter(map(content, stands)), kept,
        sorted(canonical(to_plain(each)) for each in pieces),
    )  # fmt: skip


def brought(homes: Sequence[Path], into: Path) -> tuple[object, ...]:
    shutil.copytree(homes[0], into)
    book = opened(into)
    for other in homes[1:]:
        bring_together(book, other)
    again = bring_together(book, homes[-1])
    assert (again.entries, again.pieces, again.results) == (0, 0, 0)
    book.store.close()
    return holdings(into)


@settings(max_examples=8, deadline=None, phases=NO_SHRINKING)
@given(DONE, DONE, DONE)
def test_three_books_brought_together_in_any_order_hold_the_same(
    first: list[tuple[str, int, int]], second: list[tuple[str, int, int]],
    third: list[tuple[str, int, int]],
) -> None:  # fmt: skip
    with TemporaryDirectory() as made:
        folder = Path(made)
        base = small_book(folder / "base")
        base.store.add([entry(50, Cut(50.0), day=date(2011, 9, 1))])
        base.store.close()
        homes = []
        for number, done in enumerate((first, second, third), 1):
            homes.append(folder / f"{number}")
            shutil.copytree(folder / "base", homes[-1])
            book = opened(homes[-1])
            act(book, number, done)
            book.store.close()
        orders = list(permutations(homes))
        held = [brought(order, folder / f"in {at}") for at, order in enumerate(orders[:4])]
        assert all(each == held[0] for each in held[1:])
        pairwise = folder / "pair"
        brought(homes[1:], pairwise)
        assert brought([homes[0], pairwise], folder / "with the pair") == held[0]
