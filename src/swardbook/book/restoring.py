"""From a copy back to a book: gone through before and after; what was there is set aside."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from swardbook.book.archive import export_book
from swardbook.book.copying import (
    ABOUT,
    FILE,
    Copy,
    Picture,
    copies_of,
    pool_of,
    read_copy,
    require_whole,
)
from swardbook.book.moving import copy_whole, mark_of
from swardbook.book.opening import Book
from swardbook.foundation.errors import (
    BadInputError,
    DamagedBookError,
    RefusedError,
    StorageError,
    UnknownNameError,
)
from swardbook.records.contents import Contents, contents_of
from swardbook.records.copies import is_open_elsewhere, sync_folder
from swardbook.records.files import BESIDE, make_private_folder, put_in_place
from swardbook.records.moving import moving
from swardbook.records.opening import open_first_store
from swardbook.settings import Settings

if TYPE_CHECKING:
    from swardbook.records.store import Store

NEWEST = "newest"
_REMEDY = "Take an earlier copy; `swardbook copy --list` shows them."


@dataclass(frozen=True, slots=True)
class Restored:
    """What came back.

    Parameters
    ----------
    name : str
        The copy.
    made_at : datetime or None
        When it was made; None where that is not written down.
    grounds : tuple of str
        Short names of its grounds.
    entries : int
        Entries of all its diaries.
    pictures : int
        Files of pictures and voice notes that came back; those that were whole stayed.
    set_aside : Path or None
        Where the book went that was there; None where there was none.
    compared : tuple of str
        Archives whose bytes an export of the restored book gave again.
    """

    name: str
    made_at: datetime | None
    grounds: tuple[str, ...]
    entries: int
    pictures: int
    set_aside: Path | None
    compared: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Source:
    """A file to come back, and what else belongs to it."""

    name: str
    file: Path
    contents: Contents
    copy: Copy | None


def restore(
    settings: Settings, asked: str, now: datetime, against: tuple[Path, ...] = ()
) -> Restored:
    """Bring a copy back; the book that is there, whole or not, is set aside and never deleted.

    The copy is gone through before anything is touched, and the book afterwards: its entries, its
    chains, its pictures.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    asked : str
        ``newest``, the name of a copy, the folder of one, or a SQLite file of a book.
    now : datetime
        The time.
    against : tuple of Path
        Archives made by export: an export of the restored book must give the same bytes.

    Raises
    ------
    UnknownNameError
        If there is no such copy.
    DamagedBookError
        If the copy does not hold; nothing was touched. Or if the restored book is not what an
        archive says; it stays, and so does what was set aside.
    RefusedError
        If another program has the book open.
    StorageError
        If the disk would not take it.
    """
    for path in against:
        if not path.is_file():
            raise BadInputError("--against", str(path), "an archive that is there")
    source = _source(settings, asked)
    aside = _onto_server(settings, source) if settings.database else _onto_file(
        settings, source, now
    )  # fmt: skip
    pictures = _bring_pictures(settings, source.copy)
    store = open_first_store(settings)
    try:
        _require_same(store, source)
        compared = tuple(_compared(settings, store, path, now.date()) for path in against)
        names = tuple(each.slug for each in store.grounds())
    finally:
        store.close()
    made_at = source.copy.made_at if source.copy else None
    return Restored(source.name, made_at, names, source.contents.entries, pictures, aside, compared)


def _source(settings: Settings, asked: str) -> _Source:
    copies = copies_of(settings)
    path = Path(asked).expanduser()
    if asked == NEWEST:
        if not copies:
            raise UnknownNameError("copy", asked, [])
        copy = copies[-1]
    elif asked in {each.name for each in copies}:
        copy = next(each for each in copies if each.name == asked)
    elif (path / ABOUT).is_file():
        copy = read_copy(path.absolute())
    elif path.is_file():
        found = contents_of(path)
        if found.damage:
            raise DamagedBookError(str(path), "; ".join(found.damage[:3]), _REMEDY)
        return _Source(path.name, path, found, None)
    else:
        raise UnknownNameError("copy", asked, [each.name for each in copies])
    return _Source(copy.name, copy.file, require_whole(copy), copy)


def _onto_file(settings: Settings, source: _Source, now: datetime) -> Path | None:
    """Put the copy's file in the place of the book's; gives where that went."""
    book = settings.book_file
    if book.exists() and is_open_elsewhere(book):
        raise RefusedError(
            "Nothing was restored", "another program has the book open.",
            "Stop `swardbook serve` and whatever else uses it, then restore again.",
        )  # fmt: skip
    with _storing(settings.home):
        make_private_folder(settings.home)
        made = book.with_name(f".{book.name}.restored")
        made.unlink(missing_ok=True)
        copy_whole(source.file, made)
        if contents_of(made) != source.contents:
            raise StorageError(str(made), "it is not what the copy holds")
        aside = _set_aside(settings, now)
        put_in_place(made, book)
        sync_folder(settings.home)
    return aside


def _set_aside(settings: Settings, now: datetime) -> Path | None:
    """Put the book that is there into a folder beside, with what SQLite keeps beside its file."""
    book = settings.book_file
    logs = [each for end in BESIDE if (each := book.with_name(book.name + end)).exists()]
    if not book.exists() and not logs:
        return None
    folder = settings.home / f"set-aside-{now:%Y-%m-%d-%H%M%S}"
    make_private_folder(folder)
    # Stopped anywhere in between, what was written lies together in one of the two folders.
    for each in logs:
        copy_whole(each, folder / each.name)
    if book.exists():
        book.rename(folder / book.name)
    for each in logs:
        each.unlink()
    return folder


def _onto_server(settings: Settings, source: _Source) -> Path | None:
    """Put the copy into a server's database, which must have no book, so nothing is set aside."""
    with TemporaryDirectory(prefix="swardbook-restore-") as folder:
        alone = replace(settings, home=Path(folder), database="", ground="")
        with _storing(alone.home):
            copy_whole(source.file, alone.book_file)
        with moving(alone, settings, date.min):
            pass  # the file that is marked as moved goes with the folder
    return None


def _bring_pictures(settings: Settings, copy: Copy | None) -> int:
    """Bring back what is missing beside the book, or is not what it was."""
    many = 0
    for each in copy.pictures if copy else ():
        wanted = settings.pictures / each.name
        if _is_whole(wanted, each):
            continue
        with _storing(wanted):
            for folder in (settings.home, settings.pictures, wanted.parent):
                make_private_folder(folder)
            if wanted.exists():
                wanted.rename(wanted.with_name(f".{wanted.name}.damaged"))
            assert copy is not None
            copy_whole(pool_of(copy.folder.parent) / each.name, wanted)
        many += 1
    return many


def _is_whole(file: Path, about: Picture) -> bool:
    try:
        return file.stat().st_size == about.size and mark_of(file) == about.mark
    except OSError:
        return False


def _require_same(store: Store, source: _Source) -> None:
    """Go through the restored book; each ground must end where the copy's did."""
    expected = source.contents.grounds
    for ground, was in zip(store.grounds(), expected, strict=True):
        own = store.at(ground.slug)
        damage, chain = own.check(), own.chain()
        head = chain[-1].checksum if chain else was.head
        if damage or (len(chain), head) != (was.entries, was.head):
            told = damage[0].found if damage else "its diary is not what the copy holds"
            raise DamagedBookError(ground.name or ground.slug, told, _REMEDY)


def _compared(settings: Settings, store: Store, archive: Path, today: date) -> str:
    """Export the grounds until one gives the archive's bytes."""
    held = archive.read_bytes()
    with TemporaryDirectory(prefix="swardbook-compare-") as folder:
        for number, ground in enumerate(store.grounds()):
            book = Book(settings, store.at(ground.slug), today, today, ground.is_made_up)
            made = export_book(book, Path(folder) / f"{number}.zip").path
            if made.read_bytes() == held:
                return str(archive)
            made.unlink()
    raise DamagedBookError(
        str(archive), "no ground of the restored book gives its bytes",
        "The book is as the copy was; the archive was made from another state of it.",
    )  # fmt: skip


@contextmanager
def _storing(where: Path) -> Iterator[None]:
    try:
        yield
    except OSError as slip:
        raise StorageError(str(slip.filename or where), slip.strerror or str(slip)) from slip


def leftover(settings: Settings) -> tuple[Path, ...]:
    """List folders in which earlier books were set aside."""
    found = settings.home.glob("set-aside-*") if settings.home.is_dir() else ()
    return tuple(sorted(each for each in found if (each / FILE).exists()))
