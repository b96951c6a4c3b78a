"""Two books of the same ground made one: nothing is lost, nothing is doubled, clashes are named."""

from __future__ import annotations

import zipfile
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from swardbook.book.archive import import_book
from swardbook.book.one_piece import one_of
from swardbook.book.opening import Book
from swardbook.book.photo_files import TO_SHARE, keep_whole
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Plot, Site, Zone
from swardbook.husbandry.happenings import Changed
from swardbook.records.chain import canonical
from swardbook.records.copies import copy_another
from swardbook.records.opening import open_store
from swardbook.records.standing import parted
from swardbook.records.store import Store
from swardbook.seed.lot import SeedLot
from swardbook.settings import Settings

Piece = Site | Zone | Peg | HonestSquare | Plot | SeedLot
OTHERWISE = "otherwise in another book"
"""Kind of result under which the values that gave way are kept."""
_KINDS: dict[str, type[Piece]] = {
    "site": Site, "zone": Zone, "peg": Peg, "square": HonestSquare, "plot": Plot, "lot": SeedLot,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Clash:
    """Something that the two books have differently; both are kept.

    Parameters
    ----------
    what : str
        The entry or the piece of ground.
    words : str
        How it was settled.
    """

    what: str
    words: str


@dataclass(frozen=True, slots=True)
class BroughtTogether:
    """What came of bringing two books together.

    Parameters
    ----------
    site : str
        Name of the site.
    entries : int
        Diary entries that came.
    there : int
        Diary entries of the other book that were there already.
    pieces, results, pictures : int
        Pieces of ground, kept results, and pictures and voice notes that came.
    clashes : tuple of Clash
        What the books have differently.
    """

    site: str
    entries: int
    there: int
    pieces: int
    results: int
    pictures: int
    clashes: tuple[Clash, ...]


def bring_together(book: Book, other: Path) -> BroughtTogether:
    """Bring what another book of the same ground holds into this one.

    Entries are told apart by their ids, pieces of ground by their names. Of a piece that the books
    have differently each field stands as it was changed last by the diaries of both, and the other
    value is kept beside it. Books brought together in any order hold the same. The weather is not
    touched: it comes from its file.

    Parameters
    ----------
    book : Book
        The opened book, which is written to.
    other : Path
        An archive made by export, or the folder or file of another book; it is only read.

    Raises
    ------
    BadInputError
        If there is no book there, or it is about another ground.
    DamagedBookError
        If the other book is damaged; nothing was changed.
    """
    with _other_book(book, other) as (theirs, pictures):
        ours, their_ground = book.store.ground(), theirs.ground()
        if ours.site.name.strip().casefold() != their_ground.site.name.strip().casefold():
            raise BadInputError(
                "the other book", their_ground.site.name, f"a book about {ours.site.name}",
                "Another ground has a book of its own: bring it in with `swardbook import`.",
            )  # fmt: skip
        with book.store.together():
            fresh, there, clashes = _entries(book.store, theirs)
            pieces, of_pieces = _pieces(book.store, ours, their_ground)
            results = _results(book.store, theirs.all_kept())
        came = _pictures(book.settings, pictures)
    return BroughtTogether(
        ours.site.name, fresh, there, pieces, results, came, (*clashes, *of_pieces)
    )


def _entries(store: Store, theirs: Store) -> tuple[int, int, list[Clash]]:
    before = {each.id for each in store.whole_diary()}
    sent = theirs.whole_diary()
    kept = store.add(sent)
    clashes = [
        Clash(f"entry {str(one.id)[:8]}, {one.what.kind}",
              f"the same id held another entry; this one is kept as {str(other.id)[:8]}")
        for one, other in zip(sent, kept, strict=True)
        if one.id != other.id and other.id not in before
    ]  # fmt: skip
    for stands, *beside in parted(store.whole_diary()):
        if not before.issuperset(each.id for each in (stands, *beside)):
            told = (
                f"it was put right in both; {_shorts(beside)} is kept beside this one, which stands"
            )
            clashes.append(Clash(f"entry {_shorts([stands])}, {stands.what.kind}", told))
    fresh = len({each.id for each in kept} - before)
    return fresh, len(sent) - fresh, clashes


def _shorts(entries: Iterable[DiaryEntry]) -> str:
    return ", ".join(str(each.id)[:8] for each in entries)


def _pieces(store: Store, ours: Ground, theirs: Ground) -> tuple[int, list[Clash]]:
    mine, other = _named(ours), _named(theirs)
    changes = [(each.when.first, each.what) for each in store.whole_diary()
               if isinstance(each.what, Changed)]  # fmt: skip
    fresh, clashes = 0, []
    for (kind, name), piece in other.items():
        there = mine.get((kind, name))
        if there is None:
            store.settle(piece)
            fresh += 1
            continue
        if to_plain(there) == to_plain(piece):
            continue
        thing = f"{kind} {_own_name(piece)}".strip()
        own = [each for each in changes if each[1].thing.casefold() == thing.casefold()]
        one = one_of(to_plain(there), to_plain(piece), own)
        if one.stands != to_plain(there):
            store.settle(from_plain(_KINDS[kind], dict(one.stands), thing))
        for gave_way in one.gave_way:
            _results(store, [(OTHERWISE, thing, gave_way)])
            clashes.append(Clash(thing, _differs(one.stands, gave_way)))
    return fresh, clashes


def _differs(stands: Mapping[str, Any], gave_way: Mapping[str, Any]) -> str:
    names = [name for name in {**stands, **gave_way} if stands.get(name) != gave_way.get(name)]
    told = "; ".join(f"{name} {stands.get(name)!r}, not {gave_way.get(name)!r}" for name in names)
    return f"{told}. The value changed last stands; the other is kept too"


def _named(ground: Ground) -> dict[tuple[str, str], Piece]:
    every: tuple[Piece, ...] = (
        ground.site, *ground.zones, *ground.pegs, *ground.squares, *ground.plots, *ground.lots,
    )  # fmt: skip
    kinds = {made: kind for kind, made in _KINDS.items()}
    return {(kinds[type(each)], _own_name(each).strip().casefold()): each for each in every}


def _own_name(piece: Piece) -> str:
    if isinstance(piece, Site):
        return ""
    if isinstance(piece, SeedLot):
        return piece.code
    return f"{piece.zone}/{piece.name}" if isinstance(piece, Plot) else piece.name


def _results(store: Store, sent: Iterable[tuple[str, str, Mapping[str, Any]]]) -> int:
    """Keep results as often as the book that has them most often; gives how many came."""
    there = Counter(_result(*each) for each in store.all_kept())
    fresh = 0
    for each in sent:
        if there[_result(*each)] > 0:
            there[_result(*each)] -= 1
            continue
        store.keep(*each)
        fresh += 1
    return fresh


def _result(kind: str, name: str, payload: Mapping[str, Any]) -> tuple[str, str, str]:
    return kind, name, canonical(dict(payload))


def _pictures(settings: Settings, folder: Path) -> int:
    fresh = 0
    for part in ("", TO_SHARE):
        found = sorted((folder / part).iterdir()) if (folder / part).is_dir() else []
        for each in found:
            wanted = settings.pictures / part / each.name
            if each.is_file() and not each.is_symlink() and not wanted.exists():
                keep_whole(wanted, each.read_bytes())
                fresh += part == TO_SHARE
    return fresh


@contextmanager
def _other_book(book: Book, other: Path) -> Iterator[tuple[Store, Path]]:
    """Open the other book from a copy of its own, so that nothing in it is changed."""
    with TemporaryDirectory(prefix="swardbook-") as made:
        home = Path(made)
        settings = replace(book.settings, home=home, database="", ground="")
        folder = home / "pictures"
        if other.is_file() and zipfile.is_zipfile(other):
            import_book(settings, other)
        else:
            held = other / "book.sqlite3" if other.is_dir() else other
            if not held.is_file():
                raise BadInputError(
                    "the other book", str(other), "an archive, or the folder or file of a book"
                )
            if not book.settings.database and held.samefile(book.settings.book_file):
                raise BadInputError("the other book", str(other), "another book", "This is it.")
            copy_another(held, settings.book_file)
            folder = held.parent / "pictures"
        theirs = _same_ground(settings, book)
        try:
            yield theirs, folder
        finally:
            theirs.close()


def _same_ground(settings: Settings, book: Book) -> Store:
    name = book.store.ground().site.name
    try:
        return open_store(settings)
    except BadInputError:
        return open_store(settings, name)  # several grounds: the one of the same name


def kept_otherwise(book: Book) -> tuple[tuple[str, Piece], ...]:
    """Give the values that gave way when books were brought together.

    Parameters
    ----------
    book : Book
        The opened book.

    Returns
    -------
    tuple of (str, piece)
        What it is, and how another book had it.
    """
    return tuple(
        (name, from_plain(_KINDS[name.partition(" ")[0]], payload, name))
        for name, payload in book.store.kept(OTHERWISE)
    )
