"""The whole book moved to another database: a file or a server, proved before it counts."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import uuid4

from swardbook.book.archive import Exported, export_book
from swardbook.book.opening import Book, NoBookError
from swardbook.book.photo_files import ORIGINALS, TO_SHARE
from swardbook.foundation.errors import (
    BadInputError,
    DamagedBookError,
    RefusedError,
    StorageError,
    SwardbookError,
)
from swardbook.records.files import make_private_folder
from swardbook.records.grounds import GroundName
from swardbook.records.moving import Both, follow, leave, moving, shown_place, undo
from swardbook.records.store import Store
from swardbook.settings import Settings

__all__ = ["Moved", "PutBack", "move_to", "put_back", "shown_place", "target_of"]

_PART = 1 << 20
_SERVERS = ("postgresql://", "postgres://")


@dataclass(frozen=True, slots=True)
class Moved:
    """What was moved.

    Parameters
    ----------
    place : str
        Where the book is now; never with a password.
    is_on_server : bool
        Whether that is a server.
    grounds : tuple of GroundName
        Its grounds.
    entries : int
        Entries of all diaries.
    pictures : int
        Files of pictures and voice notes that were copied; 0 where they stay where they are.
    archives : tuple of str
        SHA-256 of each ground's archive, which was the same on both sides.
    """

    place: str
    is_on_server: bool
    grounds: tuple[GroundName, ...]
    entries: int
    pictures: int
    archives: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PutBack:
    """That the old book is the one again.

    Parameters
    ----------
    place : str
        Where the book had gone.
    is_left : bool
        Whether the other one could be marked in turn, so that only one is written to.
    """

    place: str
    is_left: bool


def target_of(settings: Settings, text: str) -> Settings:
    """Read where to: the address of a server, or a folder for a file.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    text : str
        As typed.

    Raises
    ------
    BadInputError
        If it is neither.
    """
    if text.startswith(_SERVERS):
        return replace(settings, database=text, ground="")
    if "://" in text or not text.strip():
        raise BadInputError(
            "the target", text.partition("://")[0], "postgresql://user@host:port/name, or a folder"
        )
    folder = Path(text).expanduser()
    if folder.suffix == ".sqlite3":
        if folder.name != settings.book_file.name:
            raise BadInputError(
                "the target", text, f"a folder; the file in it is called {settings.book_file.name}"
            )
        folder = folder.parent
    return replace(settings, home=folder.absolute(), database="", ground="")


def move_to(settings: Settings, target: Settings, today: date) -> Moved:
    """Move the book with all grounds, people, keys and pictures.

    It counts only once the archive of every ground is the same on both sides, byte for byte. The
    old book is left as it is, and marked: whoever opens it is told where the book is.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    target : Settings
        Of the new place; see `target_of`.
    today : date
        The day.

    Raises
    ------
    BadInputError
        If there is a book at the target.
    RefusedError
        If the book was moved already.
    DamagedBookError
        If an entry is damaged, or anything differs afterwards; then nothing was moved.
    StorageError
        If the disk or the server would not take it.
    """
    if not settings.database and not settings.book_file.exists():
        raise NoBookError(str(settings.book_file))
    with _pictures_in(settings, target) as pictures, moving(settings, target, today) as both:
        archives = _proved(settings, target, both, today)
        return Moved(
            shown_place(target), bool(target.database), both.new.grounds(),
            sum(each.entries for each in archives), pictures,
            tuple(each.sha256 for each in archives),
        )  # fmt: skip


def _proved(settings: Settings, target: Settings, both: Both, today: date) -> list[Exported]:
    """Export each ground on both sides, and hold the archives against each other."""
    found = []
    with TemporaryDirectory(prefix="swardbook-move-") as folder:
        for number, ground in enumerate(both.old.grounds()):
            old, new = (
                _exported(under, store, ground, today, Path(folder) / f"{number}-{side}.zip")
                for under, store, side in (
                    (settings, both.old, "old"), (target, both.new, "new"),
                )
            )  # fmt: skip
            if old.path.read_bytes() != new.path.read_bytes():
                raise DamagedBookError(
                    f"{ground.name or ground.slug} at the target",
                    "its archive is not the same as before",
                    "Nothing was moved; the book is whole where it was.",
                )
            for each in (old, new):
                each.path.unlink()
            found.append(new)
    return found


def _exported(
    settings: Settings, store: Store, ground: GroundName, today: date, path: Path
) -> Exported:
    book = Book(settings, store.at(ground.slug), today, today, ground.is_made_up)
    return export_book(book, path)


def put_back(settings: Settings, today: date, even_so: bool = False) -> PutBack:
    """Let a book that was moved be the one again, where nothing was written at the other since.

    Parameters
    ----------
    settings : Settings
        Of the old place.
    today : date
        The day.
    even_so : bool
        Whether to do so also where the other was written to, or cannot be asked.

    Raises
    ------
    BadInputError
        If the book was not moved.
    RefusedError
        If the other was written to since, or cannot be asked.
    """
    place = follow(settings).now
    other = target_of(settings, place)
    try:
        is_same, reason = leave(settings, other, today), "something was written there since"
    except SwardbookError as slip:
        is_same, reason = False, f"the book there cannot be asked ({slip})"
    if not is_same and not even_so:
        raise RefusedError(
            "The book was left where it is", f"it is at {place}, and {reason}.",
            "Move it back from there with move-to, into another folder or an empty database; or"
            " say --even-so to leave behind what is only there.",
        )  # fmt: skip
    undo(settings)
    return PutBack(place, is_same)


@contextmanager
def _pictures_in(settings: Settings, target: Settings) -> Iterator[int]:
    """Copy pictures and voice notes where the folder of the book changes.

    What was copied is taken away again if the move fails.
    """
    written: list[Path] = []
    try:
        if not target.database and target.book_file.exists():
            pass  # refused in a moment, with nothing copied
        elif target.pictures.resolve() != settings.pictures.resolve():
            for kind in (ORIGINALS, TO_SHARE):
                _copy_all(settings.pictures / kind, target.pictures / kind, written)
        yield len(written)
    except BaseException:
        for file in written:
            with suppress(OSError):
                file.unlink()
        raise


def _copy_all(source: Path, wanted: Path, written: list[Path]) -> None:
    if not source.is_dir():
        return
    try:
        for folder in (wanted.parent.parent, wanted.parent, wanted):
            make_private_folder(folder)
        for file in sorted(source.iterdir()):
            there = wanted / file.name
            if file.is_file() and not file.name.startswith("."):
                if there.exists() and mark_of(there) == mark_of(file):
                    continue
                copy_whole(file, there)
                written.append(there)
    except OSError as slip:
        raise StorageError(str(slip.filename or wanted), slip.strerror or str(slip)) from slip


def copy_whole(file: Path, wanted: Path) -> str:
    """Copy a file whole or not at all, read it back, and give its SHA-256.

    Raises
    ------
    StorageError
        If it is not the same afterwards.
    OSError
        If the disk would not take it.
    """
    aside = wanted.with_name(f".{wanted.name}.{uuid4().hex[:8]}")
    try:
        with file.open("rb") as read, aside.open("xb") as out:
            shutil.copyfileobj(read, out, _PART)
            out.flush()
            os.fsync(out.fileno())
        mark = mark_of(file)
        if mark_of(aside) != mark:
            raise StorageError(str(wanted), "it is not what was copied")
        aside.chmod(0o600)
        aside.replace(wanted)
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)
    return mark


def mark_of(file: Path) -> str:
    """Give the SHA-256 of a file."""
    found = sha256()
    with file.open("rb") as read:
        while part := read.read(_PART):
            found.update(part)
    return found.hexdigest()
