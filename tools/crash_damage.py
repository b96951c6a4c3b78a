"""One damaged copy of a book: what was altered, and whether that was found and named."""

from __future__ import annotations

import json
import os
import random
import shutil
from hashlib import sha256
from pathlib import Path

from swardbook.book.checking import check_book
from swardbook.book.opening import open_book
from swardbook.foundation.errors import DamagedBookError, SwardbookError
from swardbook.settings import Settings
from tools.crash_page import KINDS
from tools.crash_writing import today

PAGE = 4096


def damage_once(settings: Settings, seed: int) -> dict[str, int]:
    """Damage the file of a book, open it, and compare what it says with what was written.

    Parameters
    ----------
    settings : Settings
        Where a copy of a book is, which is damaged.
    seed : int
        Where and how.

    Returns
    -------
    dict
        Counts: ``crashes`` 1, and what became of it.

    Raises
    ------
    AssertionError
        If an entry is altered and nobody says so, or the file was changed by being looked at.
    """
    before = answered(settings)
    kept = Path(f"{settings.book_file}.kept")
    shutil.copy(settings.book_file, kept)
    how = spoil(settings.book_file, random.Random(seed))
    spoilt = sha256(settings.book_file.read_bytes()).hexdigest()
    after = answered(settings)
    if sha256(settings.book_file.read_bytes()).hexdigest() != spoilt:
        raise AssertionError(f"{how} {seed}: the damaged file was changed by looking at it")
    is_altered = after.get("texts") != before["texts"]
    is_named = bool(after["named"])
    if is_altered and not is_named:
        raise AssertionError(f"{how} {seed}: an entry is altered and nobody says so")
    os.replace(kept, settings.book_file)
    if answered(settings) != before:
        raise AssertionError(f"{how} {seed}: the kept copy does not bring everything back")
    return {
        "crashes": 1, how: 1, "altered": int(is_altered), "altered_and_named": int(is_altered),
        "named": int(is_named), "read_only": int(bool(after["read_only"])),
        "unreadable": int(after.get("texts") is None),
        "harmless": int(not is_altered and not is_named),
    }  # fmt: skip


def spoil(file: Path, chance: random.Random) -> str:
    """Flip bits, blank half a page, tear the end off or swap two pages; says which."""
    held = bytearray(file.read_bytes())
    how = chance.choice(KINDS)
    pages = len(held) // PAGE
    if how == "bit flipped":
        held[chance.randrange(len(held))] ^= 1 << chance.randrange(8)
    elif how == "bits flipped":
        start = chance.randrange(len(held) - 64)
        for place in range(start, start + 64):
            held[place] ^= chance.randrange(256)
    elif how == "page torn":
        start = chance.randrange(pages) * PAGE
        half = start + chance.choice((0, 512, 2048))
        held[half : start + PAGE] = bytes(start + PAGE - half)
    elif how == "end torn off":
        del held[chance.randrange(len(held) // 2, len(held)) :]
    else:
        one, other = sorted(chance.sample(range(pages), 2))
        a, b = slice(one * PAGE, (one + 1) * PAGE), slice(other * PAGE, (other + 1) * PAGE)
        held[a], held[b] = held[b], held[a]
    file.write_bytes(held)
    return how


def answered(settings: Settings) -> dict[str, object]:
    """Ask a book in a child what its entries are, what its check names, and whether it writes."""
    reads, writes = os.pipe()
    process = os.fork()
    if not process:
        code = 1
        try:
            os.close(reads)
            with os.fdopen(writes, "w") as pipe:
                json.dump(_answered(settings), pipe)
            code = 0
        finally:
            os._exit(code)
    os.close(writes)
    with os.fdopen(reads) as pipe:
        told = pipe.read()
    _, status = os.waitpid(process, 0)
    if status:
        raise AssertionError(f"the program broke down over a damaged file ({status})")
    found: dict[str, object] = json.loads(told)
    return found


def _answered(settings: Settings) -> dict[str, object]:
    named: list[str] = []
    told: dict[str, object] = {"texts": None, "read_only": False}
    try:
        book = open_book(settings, today)
    except DamagedBookError as slip:
        return {**told, "named": [str(slip)]}
    except SwardbookError as slip:
        return {**told, "named": [f"{type(slip).__name__}: {slip}"]}
    try:
        named = [f"{each.where}: {each.found}" for each in check_book(book).damage]
    except SwardbookError as slip:
        named = [str(slip)]
    try:
        told["texts"] = [[link.id, link.text] for link in book.store.chain()]
    except SwardbookError as slip:
        named.append(str(slip))
    told["read_only"] = bool(book.store.damage)
    if named and not told["read_only"]:
        told["read_only"] = _opens_to_read(settings)
    book.store.close()
    return {**told, "named": named}


def _opens_to_read(settings: Settings) -> bool:
    book = open_book(settings, today)
    try:
        return bool(book.store.damage)
    finally:
        book.store.close()
