"""What a crash run writes into a book, and what must be in it afterwards.

A child writes; the parent holds what the child was told is kept. Each line of the pipe is one
acknowledged write: its sort and its name.
"""

from __future__ import annotations

import json
import os
import random
import signal
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from uuid import UUID

from PIL import Image

from swardbook.book.checking import check_book
from swardbook.book.diary import write
from swardbook.book.opening import Book, new_book, open_book
from swardbook.book.pictures_in import AboutSent
from swardbook.book.pictures_in import take_in as take_picture_in
from swardbook.book.sent import Sent
from swardbook.book.sent import take_in as take_sent_in
from swardbook.foundation.dates import When
from swardbook.husbandry.ground import Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import Cut, Note
from swardbook.settings import Settings

TODAY = date(2011, 10, 8)
ZONES = ("Main court", "Short court")
READY = b"ready\n"
Acknowledge = Callable[[str, str], None]


@dataclass(frozen=True, slots=True)
class Held:
    """What a book holds, read anew.

    Parameters
    ----------
    entries, kept, pictures : frozenset of str
        Ids of entries, names of kept results, marks of picture files.
    pegs : dict of str to str
        Each peg and where it stands.
    damage : tuple of str
        What the check of the whole book names.
    """

    entries: frozenset[str]
    kept: frozenset[str]
    pictures: frozenset[str]
    pegs: dict[str, str]
    damage: tuple[str, ...]


def today() -> date:
    """Give the day of the made-up ground."""
    return TODAY


def make_book(settings: Settings) -> None:
    """Make the book that runs begin from: a ground with some hundred entries."""
    book = new_book(settings, today)
    book.store.save_site(Site("Fennowick Croquet Club", 52.0, 62.0))
    for name in ZONES:
        book.store.save_zone(Zone(name, 400.0, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0))
    for number in range(4):
        book.store.save_peg(Peg(f"P{number}", ZONES[0], "first place"))
    for number in range(120):
        day = When.on(TODAY - timedelta(days=number))
        write(book, Cut(8.0, number % 2 == 0), day, zone=ZONES[number % 2], note=f"Cut {number}")
    book.store.close()


def write_mixed(settings: Settings, seed: int, acknowledge: Acknowledge, most: int = 10**9) -> None:
    """Write entries, whole groups, changes of the ground, pictures and what phones send.

    Parameters
    ----------
    settings : Settings
        Where the book is.
    seed : int
        What is written follows from it.
    acknowledge : callable
        Is told each write when the book has said that it is kept.
    most : int
        How many writes at most.
    """
    book = open_book(settings, today)
    chance = random.Random(seed)
    ways = (one_entry, one_entry, a_group, a_change, a_result, a_picture, a_phone, a_phone)
    for number in range(most):
        chance.choice(ways)(book, chance, number, acknowledge)
    book.store.close()


def one_entry(book: Book, chance: random.Random, number: int, tell: Acknowledge) -> None:
    """Write one entry, as a command does."""
    said = f"{number} " + "x" * chance.randrange(400)
    kept = write(book, Cut(8.0, True), When.on(TODAY), zone=chance.choice(ZONES), note=said)
    tell("entry", str(kept.id))


def a_group(book: Book, chance: random.Random, number: int, tell: Acknowledge) -> None:
    """Write several entries as one: all or none."""
    with book.store.together():
        made = [
            write(book, Note(f"{number}, part {part} of a group"), When.on(TODAY), zone=ZONES[0])
            for part in range(chance.randrange(2, 12))
        ]
    tell("group", " ".join(str(each.id) for each in made))


def a_change(book: Book, chance: random.Random, number: int, tell: Acknowledge) -> None:
    """Move a peg, which writes the ground and an entry together."""
    name, where = f"P{chance.randrange(4)}", f"place {chance.getrandbits(60)} of {number}"
    book.store.save_peg(Peg(name, ZONES[0], where), on=TODAY, who="IM")
    tell("peg", f"{name} {where}")


def a_result(book: Book, chance: random.Random, number: int, tell: Acknowledge) -> None:
    """Keep a result."""
    name = f"{chance.getrandbits(60)}-{number}"
    book.store.keep("crash run", name, {"number": number, "words": "y" * chance.randrange(2000)})
    tell("kept", name)


def a_picture(book: Book, chance: random.Random, number: int, tell: Acknowledge) -> None:
    """Take in a picture: files beside the book, and an entry."""
    colour = (chance.randrange(256), chance.randrange(256), number % 256)
    held = BytesIO()
    Image.new("RGB", (64, 48), colour).save(held, "JPEG")
    about = AboutSent(id=UUID(int=chance.getrandbits(128), version=4), zone=ZONES[0])
    found = take_picture_in(book, held.getvalue(), "a.jpg", about)
    if found.entry is None:
        raise AssertionError(found)
    tell("picture", f"{found.entry.id} {found.entry.what.file}")  # type: ignore[union-attr]


def a_phone(book: Book, chance: random.Random, number: int, tell: Acknowledge) -> None:
    """Take in what a phone sends, twice, as after a lost reply."""
    sent = Sent(
        UUID(int=chance.getrandbits(128), version=4), "cut", {"height_of_cut_mm": "8"},
        ZONES[1], note=f"from the lawn, {number}",
    )  # fmt: skip
    take_sent_in(book, sent)
    tell("entry", str(sent.id))
    if not take_sent_in(book, sent).was_there:
        raise AssertionError("kept twice")


def child(
    settings: Settings, seed: int, before: Callable[[], None] = lambda: None
) -> tuple[int, int]:
    """Fork a child that writes; gives its process and the end of the pipe to read from."""
    reads, writes = os.pipe()
    process = os.fork()
    if process:
        os.close(writes)
        return process, reads
    try:
        os.close(reads)
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        before()
        os.write(writes, READY)
        write_mixed(
            settings, seed, lambda sort, name: void(os.write(writes, f"{sort} {name}\n".encode()))
        )
        os._exit(0)
    except Exception as slip:
        os.write(writes, f"slip {type(slip).__name__}: {' '.join(str(slip).split())}\n".encode())
        os._exit(3)
    finally:
        os._exit(4)


def void(_: object) -> None:
    """Give nothing."""


def wait_for(reads: int, acknowledged: int) -> bytes:
    """Read the pipe until so many writes were acknowledged, or it ends."""
    told = b""
    while told.count(b"\n") <= acknowledged and (more := os.read(reads, 1 << 16)):
        told += more
    return told


def read_all(reads: int, told: bytes = b"") -> list[str]:
    """Read the pipe to its end; a torn last line was no acknowledgement."""
    with os.fdopen(reads, "rb") as pipe:
        told += pipe.read()
    whole = told[: told.rfind(b"\n") + 1]
    return [line for line in whole.decode().splitlines() if line != READY.decode().strip()]


def look(settings: Settings) -> Held:
    """Open the book and read what it holds, in a child that leaves nothing open."""
    reads, writes = os.pipe()
    process = os.fork()
    if not process:
        code = 1
        try:
            os.close(reads)
            with os.fdopen(writes, "w") as pipe:
                json.dump(_looked(settings), pipe)
            code = 0
        finally:
            os._exit(code)
    os.close(writes)
    with os.fdopen(reads) as pipe:
        told = pipe.read()
    _, status = os.waitpid(process, 0)
    if status:
        raise AssertionError(f"the book could not be read after it ({status})")
    found = json.loads(told)
    return Held(
        frozenset(found["entries"]), frozenset(found["kept"]), frozenset(found["pictures"]),
        found["pegs"], tuple(found["damage"]),
    )  # fmt: skip


def _looked(settings: Settings) -> dict[str, object]:
    book = open_book(settings, today)
    try:
        return {
            "entries": [str(each.id) for each in book.store.whole_diary()],
            "kept": [name for name, _ in book.store.kept("crash run")],
            "pictures": marks_of_files(settings.pictures),
            "pegs": {each.name: each.sketch for each in book.store.ground().pegs},
            "damage": [f"{each.where}: {each.found}" for each in check_book(book).damage],
        }
    finally:
        book.store.close()


def marks_of_files(folder: Path) -> list[str]:
    """Give the names of the picture files whose content is whole: they are named by content."""
    originals = folder / "originals"
    if not originals.is_dir():
        return []
    return [
        file.stem for file in originals.iterdir()
        if sha256(file.read_bytes()).hexdigest() == file.stem
    ]  # fmt: skip


def lost(told: list[str], held: Held) -> list[str]:
    """Name each acknowledged write that is not in the book."""
    missing = []
    last_peg: dict[str, str] = {}
    for line in told:
        sort, _, rest = line.partition(" ")
        if sort == "slip":
            continue
        if sort == "peg":
            name, _, where = rest.partition(" ")
            last_peg[name] = where
            continue
        if sort == "kept":
            missing += [line] * (rest not in held.kept)
            continue
        ids = rest.split()
        if sort == "picture":
            missing += [line] * (ids.pop() not in held.pictures)
        missing += [line for each in ids if each not in held.entries]
    for name, where in last_peg.items():
        unknown = held.pegs.get(name, "").startswith("place ")  # a later one, not acknowledged
        if held.pegs.get(name) != where and not unknown:
            missing.append(f"peg {name} {where}")
    return missing


def with_home(settings: Settings, home: Path) -> Settings:
    """Give the same settings with another folder."""
    return replace(settings, home=home)
