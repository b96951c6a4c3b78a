"""Copies of one ground, written to apart and brought together in any order, lose nothing.

A desk, a laptop and somebody else's book hold the same ground, and a phone's outbox sends to any
of them. What is written, what is brought where, and what comes of it is drawn at random; a short
list of what each copy was told is what it must hold.
"""

from __future__ import annotations

import re
import shutil
from collections import Counter
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from hashlib import sha256
from itertools import combinations, permutations
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, ClassVar
from uuid import UUID, uuid4, uuid5

import pytest
from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from swardbook.book.archive import export_book
from swardbook.book.bring_together import OTHERWISE, bring_together
from swardbook.book.checking import check_book
from swardbook.book.diary import put_right, show, withdraw, write
from swardbook.book.opening import Book, open_book
from swardbook.book.parking import park
from swardbook.book.photo_files import TO_SHARE, keep_whole
from swardbook.book.sent import read_sent, take_in
from swardbook.foundation.dates import When
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Peg
from swardbook.husbandry.happenings import Count, Cut, Happening, Refill
from swardbook.husbandry.parked import Parked
from swardbook.observations.counts import Method, PlaceCount
from swardbook.records.chain import canonical
from swardbook.settings import Settings
from tests.support.books import LOT, MAIN, TODAY, entry, small_book

NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
"""Each try fills three books: to shrink one would take minutes."""
COPIES = ("desk", "laptop", "other")
ORDERS = list(permutations(COPIES))
ROW = {"date": "31 Sept", "job": "cut"}
FIRST_DAY = date(2011, 9, 1)
FROM_PHONES = UUID("3d5d3d3e-5f0f-4e2b-9f64-2d8fd2a9a1b5")
copies = st.sampled_from(COPIES)
pairs = st.sampled_from(list(permutations(COPIES, 2)))
days = st.integers(0, 2)
which = st.integers(0, 4)


@dataclass
class Copy:
    """One copy: its folder, its book, and what must be in it."""

    home: Path
    book: Book
    entries: Counter[str] = field(default_factory=Counter)
    beside: set[str] = field(default_factory=set)
    """Pieces of ground, results and pictures."""

    def on(self, ago: int) -> Book:
        """Give the book on a day some days ago."""
        day = TODAY - timedelta(days=ago)
        return replace(self.book, today=day, written_on=day)

    def diary(self) -> tuple[DiaryEntry, ...]:
        return self.book.store.whole_diary()

    def one(self, which: int) -> DiaryEntry:
        """Choose an entry of work, the newest first."""
        found = [each for each in self.diary() if is_work(each)]
        return found[-1 - which % len(found)]


def opened(home: Path) -> Book:
    return open_book(Settings(home), lambda: TODAY)


def is_work(each: DiaryEntry) -> bool:
    return each.what.kind not in {"changed", "attachment"}


def named(each: DiaryEntry) -> str:
    """Name an entry by the last mark in it, as the test wrote it; a parked row by who has it."""
    words = f"{getattr(each.what, 'text', '')} {getattr(each.what, 'reason', '')} {each.note}"
    marks = re.findall(r"<\d+>", words)
    return str(marks[-1]) if marks else f"the row that {each.who} has"


def said(diary: tuple[DiaryEntry, ...]) -> dict[UUID, str]:
    """Say each entry without ids: what it corrects or belongs to by what that says."""
    told: dict[UUID, str] = {}
    for each in sorted(diary, key=lambda one: isinstance(one.what, Attachment)):
        what = each.what
        about = sorted(told[gone] for gone in each.replaces)
        if isinstance(what, Attachment) and what.of is not None:
            about.append(told[what.of])
            what = replace(what, of=None)
        bare = replace(each, id=UUID(int=0), what=what, corrects=None, also_corrects=(),
                       needs_a_look="")  # fmt: skip
        told[each.id] = f"{bare} about {about}"
    return told


def held(copy: Copy) -> tuple[object, ...]:
    """Give all that a copy holds, whatever the order it came in and the ids it came under."""
    ground, told = copy.book.store.ground(), said(copy.diary())
    pieces = (ground.site, *ground.zones, *ground.pegs, *ground.lots)
    kept = sorted(
        f"{kind} {name} {canonical(of)}" for kind, name, of in copy.book.store.all_kept()
        if kind != OTHERWISE  # what gave way is told where books meet
    )  # fmt: skip
    pictures = sorted(each.name for each in (copy.home / "pictures" / TO_SHARE).glob("*"))
    return (
        sorted(told.values()), sorted(told[each.id] for each in ground.diary), kept, pictures,
        sorted(canonical(to_plain(each)) for each in pieces),
    )  # fmt: skip


class Copies(RuleBasedStateMachine):
    """Three books of one ground and a phone's outbox."""

    lives: ClassVar[list[int]] = []
    """How many things were written in each of its lives that came to their end."""

    def __init__(self) -> None:
        super().__init__()
        self.folders = ExitStack()
        self.folder = Path(self.folders.enter_context(TemporaryDirectory()))
        base = small_book(self.folder / "base")
        base.store.add([entry(50, Cut(50.0), day=FIRST_DAY, note="<0>")])
        base.store.close()
        self.copies: dict[str, Copy] = {}
        for name in COPIES:
            home = self.folder / name
            shutil.copytree(self.folder / "base", home)
            self.copies[name] = Copy(home, opened(home), Counter({"<0>": 1}))
        self.outbox: list[tuple[str, dict[str, Any]]] = []
        self.touched: set[str] = set()
        self.number = 0

    def teardown(self) -> None:
        try:
            self.all_meet()
            self.lives.append(self.number)
        finally:
            for copy in self.copies.values():
                copy.book.store.close()
            self.folders.close()

    def mark(self) -> str:
        self.number += 1
        return f"<{self.number}>"

    def wrote(self, name: str, kept: DiaryEntry) -> None:
        """Remember what was acknowledged; the same thing again is the same thing."""
        self.copies[name].entries[named(kept)] = 1
        self.touched.add(name)

    # what is written

    @rule(name=copies, ago=days, kind=st.sampled_from(["cut", "refill", "count"]))
    def log(self, name: str, ago: int, kind: str) -> None:
        book, place = self.copies[name].on(ago), PlaceCount("P1", Method.POINTS, {"sown": 20}, 25)
        kinds: dict[str, Happening] = {
            "cut": Cut(8.0, True), "refill": Refill(LOT.code, holes=4), "count": Count((place,)),
        }  # fmt: skip
        day = When.on(book.today)
        self.wrote(name, write(book, kinds[kind], day, zone=MAIN.name, note=self.mark()))

    @rule(name=copies, ago=days, who=st.sampled_from(["Ines", "Odalys"]))
    def park_the_row_that_each_has(self, name: str, ago: int, who: str) -> None:
        row = Parked("history", "old.csv", 1, "date", "31 Sept", "a day", "", ROW)
        [kept] = park(self.copies[name].on(0), [row], When.on(TODAY), MAIN.name, who)
        self.wrote(name, kept)

    @rule(name=copies, ago=days, which=which, is_struck=st.booleans())
    def put_right(self, name: str, ago: int, which: int, is_struck: bool) -> None:
        copy = self.copies[name]
        book, old = copy.on(ago), copy.one(which)
        if is_struck:
            kept = withdraw(book, old.id, self.mark())
        else:
            kept = put_right(book, old.id, {"hours": f"{which}"}, self.mark())
        self.wrote(name, kept)
        assert kept in copy.book.store.ground().diary, "what was put right last stands"

    @rule(pair=pairs, agos=st.tuples(days, days), which=which)
    def put_the_same_right_in_two(
        self, pair: tuple[str, str], agos: tuple[int, int], which: int
    ) -> None:
        both = self.copies[pair[0]].entries & self.copies[pair[1]].entries
        for name, ago in zip(pair, agos, strict=True):
            copy = self.copies[name]
            known = [each for each in copy.diary() if named(each) in both and is_work(each)]
            old = known[-1 - which % len(known)]
            self.wrote(name, put_right(copy.on(ago), old.id, {"hours": f"{ago}"}, self.mark()))

    @rule(name=copies, is_height=st.booleans())
    def set_something_of_a_zone(self, name: str, is_height: bool) -> None:
        """Change one of two fields, each time to something new and on a day of its own."""
        store, mark = self.copies[name].book.store, self.mark()
        zone, fresh = store.ground().zone(MAIN.name), 4 + self.number / 100
        zone = (
            replace(zone, height_of_cut_mm=fresh) if is_height else replace(zone, sun_hours=fresh)
        )
        store.save_zone(zone, on=FIRST_DAY + timedelta(days=self.number), reason=mark)
        self.wrote(name, self.copies[name].diary()[-1])

    @rule(name=copies, peg=st.integers(3, 4))
    def set_a_peg(self, name: str, peg: int) -> None:
        copy = self.copies[name]
        if any(each.name == f"P{peg}" for each in copy.book.store.ground().pegs):
            return
        copy.book.store.save_peg(Peg(f"P{peg}", MAIN.name, f"as the {name} has it"))
        copy.beside.add(f"peg {peg} of {name}")
        self.touched.add(name)

    @rule(name=copies, number=st.integers(1, 2))
    def keep_a_result(self, name: str, number: int) -> None:
        copy = self.copies[name]
        if f"result {number}" not in copy.beside:
            copy.book.store.keep("worked out", "share", {"share": number})
            copy.beside.add(f"result {number}")
            self.touched.add(name)

    @rule(name=copies, which=which)
    def keep_a_picture(self, name: str, which: int) -> None:
        copy, mark = self.copies[name], self.mark()
        file = sha256(mark.encode()).hexdigest()
        keep_whole(copy.book.settings.pictures / TO_SHARE / f"{file}.jpg", mark.encode())
        what = Attachment(file=file, ending="jpg", of=copy.one(which).id)
        self.wrote(name, write(copy.on(0), what, When.on(TODAY), note=mark))
        copy.beside.add(f"picture {mark}")

    # the phone

    @rule(is_other=st.booleans())
    def type_on_the_phone(self, is_other: bool) -> None:
        sent = {"id": str(uuid5(FROM_PHONES, f"{self.number}")), "kind": "cut", "zone": MAIN.name,
                "fields": {"boxed": "yes"}, "said_on": TODAY.isoformat()}  # fmt: skip
        if is_other and self.outbox:
            sent["id"] = self.outbox[-1][1]["id"]
        mark = self.mark()
        self.outbox.append((mark, {**sent, "note": mark}))

    @precondition(lambda self: self.outbox)
    @rule(name=copies, which=which, is_lost=st.booleans())
    def send(self, name: str, which: int, is_lost: bool) -> None:
        """Send something; where the answer is lost, the phone sends it again later."""
        typed = self.outbox[-1 - which % len(self.outbox)]
        taken = take_in(self.copies[name].book, read_sent(typed[1]))
        assert named(taken.entry) == typed[0]
        assert taken.was_there == (typed[0] in self.copies[name].entries)
        self.wrote(name, taken.entry)
        if not is_lost:
            self.outbox.remove(typed)

    @rule(pair=pairs, is_put_right=st.booleans())
    def send_two_contents_under_one_id(self, pair: tuple[str, str], is_put_right: bool) -> None:
        made = str(uuid4())
        for name in pair:
            sent = {"id": made, "kind": "cut", "zone": MAIN.name, "note": self.mark(), "fields": {}}
            kept = take_in(self.copies[name].book, read_sent(sent)).entry
            self.wrote(name, kept)
        if is_put_right:
            self.wrote(name, put_right(self.copies[name].on(0), kept.id, {}, self.mark()))

    # bringing together

    @rule(pair=pairs)
    def bring_to_and_fro(self, pair: tuple[str, str]) -> None:
        self.bring_one(*pair)
        self.bring_one(*reversed(pair))

    @rule(pair=pairs, is_packed=st.booleans())
    def bring(self, pair: tuple[str, str], is_packed: bool) -> None:
        self.bring_one(*pair, is_packed=is_packed)

    def bring_one(self, into: str, other: str, *, is_packed: bool = False) -> None:
        here, there = self.copies[into], self.copies[other]
        source = there.home
        if is_packed:
            source = self.folder / f"{self.mark()}.zip"
            export_book(there.book, source)
        parted = clashing(here)
        came = bring_together(here.book, source)
        assert came.entries == len((here.entries | there.entries) - here.entries)
        assert came.there == len(there.diary()) - came.entries
        here.entries |= there.entries
        here.beside |= there.beside
        now = clashing(here)
        assert len(came.clashes) >= len(now - parted)
        assert now <= {each.entry.id for each in show(here.book, only_to_look_at=True)}
        self.touched.add(into)

    @rule(name=copies)
    def close_and_open(self, name: str) -> None:
        copy = self.copies[name]
        copy.book.store.close()
        copy.book = opened(copy.home)
        self.touched.add(name)

    def all_meet(self) -> None:
        """Bring each to each on the way around, in one of the orders, until all must hold all."""
        first, second, third = ORDERS[self.number % len(ORDERS)]
        for into, other in ((second, first), (third, second), (first, third), (second, third)):
            self.bring_one(into, other)
        self.what_was_acknowledged_is_there_once()
        whole = [told_of(copy) for copy in self.copies.values()]
        assert whole == whole[:1] * len(COPIES)
        self.copies_that_were_told_the_same_hold_the_same()
        for copy in self.copies.values():
            assert check_book(copy.book).damage == ()

    # what holds

    @invariant()
    def what_was_acknowledged_is_there_once(self) -> None:
        for name in self.touched:
            copy = self.copies[name]
            assert Counter(map(named, copy.diary())) == copy.entries

    @invariant()
    def copies_that_were_told_the_same_hold_the_same(self) -> None:
        """Compare what was written to with what was told the same; the rest was compared before."""
        for one, other in combinations(COPIES, 2):
            mine, others = self.copies[one], self.copies[other]
            if {one, other} & self.touched and told_of(mine) == told_of(others):
                assert held(mine) == held(others)
        self.touched.clear()


def told_of(copy: Copy) -> tuple[Counter[str], set[str]]:
    return copy.entries, copy.beside


def clashing(copy: Copy) -> set[UUID]:
    """Give the standing entries that were put right by two who did not know of each other."""
    diary = copy.diary()
    about: dict[UUID, UUID] = {}
    for each in diary:
        about[each.id] = about[each.corrects] if each.corrects else each.id
    replaced = {gone for each in diary for gone in each.replaces}
    many = Counter(about[each.id] for each in diary if each.id not in replaced)
    stand = {about[each.id]: each.id for each in copy.book.store.ground().diary}
    return {stand[root] for root, ends in many.items() if ends > 1}


def run(examples: int, steps: int, *, is_random: bool) -> list[int]:
    """Live so many random lives; give how many things were written in each."""
    Copies.lives.clear()
    run_state_machine_as_test(
        Copies,
        settings=settings(
            max_examples=examples, stateful_step_count=steps, deadline=None, phases=NO_SHRINKING,
            derandomize=not is_random,
        ),
    )  # fmt: skip
    return Copies.lives


def test_copies_brought_together_in_any_order_lose_nothing_and_hold_the_same() -> None:
    lives = run(6, 12, is_random=False)
    assert len(lives) >= 6
    assert max(lives) > 0


@pytest.mark.long
def test_many_more_copies_brought_together_in_any_order_hold_the_same() -> None:
    lives = run(120, 30, is_random=True)
    assert len(lives) >= 120
    assert max(lives) > 0
