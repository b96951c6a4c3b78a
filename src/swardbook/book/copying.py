"""Safe copies: the whole book with its pictures, made, gone through, listed and thinned out."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import IO, Any

from swardbook.book.copies_kept import read_kept, staying
from swardbook.book.moving import copy_whole, mark_of
from swardbook.book.opening import NoBookError
from swardbook.book.photo_files import ORIGINALS, TO_SHARE
from swardbook.foundation.errors import (
    DamagedBookError,
    RefusedError,
    StorageError,
    SwardbookError,
)
from swardbook.records.contents import Contents, GroundContents, contents_of
from swardbook.records.files import make_private_folder
from swardbook.records.peek import peek_at_site
from swardbook.records.server_copy import copy_book
from swardbook.settings import Settings

FORMAT, VERSION = "swardbook copy", 1
FILE, ABOUT, PICTURES = "book.sqlite3", "copy.json", "pictures"
_NAME = "%Y-%m-%d-%H%M%S"
_REMEDY = "Take an earlier copy; `swardbook copy --list` shows them."


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture or voice note of a copy; it lies once in the folder of copies, for all.

    Parameters
    ----------
    name : str
        Its folder and name.
    size : int
        How large it is. [byte]
    mark : str
        Its SHA-256.
    """

    name: str
    size: int
    mark: str


@dataclass(frozen=True, slots=True)
class Copy:
    """One safe copy.

    Parameters
    ----------
    name : str
        The name of its folder: when it was made.
    folder : Path
        The folder.
    made_at, verified_at : datetime
        When it was made, and when it was last gone through.
    why : str
        ``daily``, ``asked`` and so on.
    shape : str
        The newest migration of its tables.
    mark : str
        SHA-256 of its file.
    size : int
        How large the file is. [byte]
    grounds : tuple of GroundContents
        What it holds.
    pictures : tuple of Picture
        Its pictures and voice notes.
    """

    name: str
    folder: Path
    made_at: datetime
    verified_at: datetime
    why: str
    shape: str
    mark: str
    size: int
    grounds: tuple[GroundContents, ...]
    pictures: tuple[Picture, ...]

    @property
    def file(self) -> Path:
        """The SQLite file."""
        return self.folder / FILE

    @property
    def entries(self) -> int:
        """Count the entries of all its grounds."""
        return sum(each.entries for each in self.grounds)


def copies_of(settings: Settings) -> tuple[Copy, ...]:
    """List the copies there are, oldest first; a folder that tells nothing of itself is none."""
    found = []
    with suppress(OSError):
        for folder in sorted(settings.copies.iterdir()):
            if (folder / ABOUT).is_file() and not folder.name.startswith("."):
                with suppress(SwardbookError):
                    found.append(read_copy(folder))
    return tuple(found)


def make_copy(settings: Settings, now: datetime, why: str = "asked") -> Copy:
    """Make a copy of the whole book with its pictures, go through it, and thin older ones out.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    now : datetime
        The time, with its zone.
    why : str
        Why it is made.

    Raises
    ------
    NoBookError
        If there is no book.
    RefusedError
        If another program makes one at this moment, or the book was moved.
    DamagedBookError
        If the copy does not hold; then there is none, and earlier ones stay.
    StorageError
        If the disk would not take it; nothing is left behind.
    """
    with _alone(settings) as is_alone:
        if not is_alone:
            raise RefusedError("No copy was made", "another program is making one just now.")
        return _made(settings, now, why)


def daily_copy(settings: Settings, now: datetime) -> Copy | None:
    """Make the day's copy where it is due, and read one older copy again.

    Raises
    ------
    DamagedBookError
        If the copy does not hold, or the older one no longer does.
    StorageError
        If the disk would not take it.
    """
    if not is_due(settings, now):
        return None
    with _alone(settings) as is_alone:
        if not is_alone or not is_due(settings, now):  # another process was quicker
            return None
        made = _made(settings, now, "daily")
        oldest = min(copies_of(settings), key=lambda each: each.verified_at)
        if oldest.name != made.name:
            verify_copy(oldest, now)
        return made


def is_due(settings: Settings, now: datetime) -> bool:
    """Tell whether a daily copy is due: a real book, and none of today or of later yet."""
    if not settings.database:
        if not settings.book_file.is_file():
            return False
        if peek_at_site(settings.book_file, settings.ground).get("made_up_today"):
            return False
    newest = newest_day(settings, now)
    return newest is None or newest < _day(now, now)


def newest_day(settings: Settings, now: datetime) -> date | None:
    """Give the day of the newest copy, in the zone of a time; None without any."""
    copies = copies_of(settings)
    return _day(copies[-1].made_at, now) if copies else None


def verify_copy(copy: Copy, now: datetime) -> Copy:
    """Read a copy through again, its file and its pictures, and write down that it holds.

    Raises
    ------
    DamagedBookError
        If it is not what was written.
    """
    require_whole(copy)
    fresh = replace(copy, verified_at=now)
    _write_about(fresh)
    return fresh


def require_whole(copy: Copy) -> Contents:
    """Read a copy through, its file and its pictures.

    Raises
    ------
    DamagedBookError
        If it is not what was written.
    """
    try:
        if mark_of(copy.file) != copy.mark:
            raise DamagedBookError(f"The copy {copy.name}", "its checksum does not hold", _REMEDY)
        for each in copy.pictures:
            if mark_of(pool_of(copy.folder.parent) / each.name) != each.mark:
                told = f"the checksum of {each.name} does not hold"
                raise DamagedBookError(f"The copy {copy.name}", told, _REMEDY)
    except OSError as slip:
        told = f"{slip.filename or 'a file'} cannot be read ({slip.strerror})"
        raise DamagedBookError(f"The copy {copy.name}", told, _REMEDY) from slip
    found = contents_of(copy.file)
    if found.damage or found.grounds != copy.grounds:
        told = "; ".join(found.damage[:3]) or "it does not hold what was written down of it"
        raise DamagedBookError(f"The copy {copy.name}", told, _REMEDY)
    return found


def read_copy(folder: Path) -> Copy:
    """Read what a copy tells of itself.

    Raises
    ------
    DamagedBookError
        If it cannot be read.
    """
    try:
        told = json.loads((folder / ABOUT).read_text("utf-8"))
        if (told["format"], told["version"]) != (FORMAT, VERSION):
            raise ValueError(f"{told['format']} {told['version']}")
        return Copy(
            folder.name, folder, datetime.fromisoformat(told["made_at"]),
            datetime.fromisoformat(told["verified_at"]), str(told["why"]), str(told["shape"]),
            str(told["sha256"]), int(told["bytes"]),
            tuple(GroundContents(**each) for each in told["grounds"]),
            tuple(Picture(**each) for each in told["pictures"]),
        )  # fmt: skip
    except (OSError, ValueError, KeyError, TypeError) as slip:
        raise DamagedBookError(
            str(folder), f"what it tells of itself cannot be read ({slip})", _REMEDY
        ) from slip


def pool_of(copies: Path) -> Path:
    """Give the folder in which the pictures of all copies lie."""
    return copies / PICTURES


def _made(settings: Settings, now: datetime, why: str) -> Copy:
    if not settings.database and not settings.book_file.exists():
        raise NoBookError(str(settings.book_file))
    known = {each.name: each for copy in copies_of(settings) for each in copy.pictures}
    name = _free_name(settings, now)
    aside = settings.copies / f".{name}.unfinished"
    try:
        for folder in (settings.copies, aside):
            make_private_folder(folder)
        # The book first: a picture that an entry of the copy names was there before the entry.
        found = copy_book(settings, aside / FILE)
        pictures = _copy_pictures(settings, known)
        made = Copy(
            name, aside, now, now, why, found.shape, mark_of(aside / FILE),
            (aside / FILE).stat().st_size, found.grounds, pictures,
        )  # fmt: skip
        _write_about(made)
        aside.rename(settings.copies / name)
    except OSError as slip:
        raise StorageError(
            str(slip.filename or settings.copies), slip.strerror or str(slip)
        ) from slip
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    thin_out(settings)
    return replace(made, folder=settings.copies / name)


def _free_name(settings: Settings, now: datetime) -> str:
    while (settings.copies / now.strftime(_NAME)).exists():
        now += timedelta(seconds=1)
    return now.strftime(_NAME)


def _copy_pictures(settings: Settings, known: Mapping[str, Picture]) -> tuple[Picture, ...]:
    """Copy what is not in the folder of copies yet; what is there already is only named."""
    found = []
    pool = pool_of(settings.copies)
    for kind in (ORIGINALS, TO_SHARE):
        source = settings.pictures / kind
        if not source.is_dir():
            continue
        for folder in (pool, pool / kind):
            make_private_folder(folder)
        for file in sorted(source.iterdir()):
            if not file.is_file() or file.name.startswith("."):
                continue
            name, size = f"{kind}/{file.name}", file.stat().st_size
            there, about = pool / name, known.get(name)
            held = there.stat().st_size if there.is_file() else -1
            if about is None or not about.size == size == held:
                about = Picture(name, size, copy_whole(file, there))
            found.append(about)
    return tuple(found)


def thin_out(settings: Settings) -> tuple[str, ...]:
    """Take away copies that need not stay, and pictures that none of the rest has.

    Returns
    -------
    tuple of str
        Names of the copies that went.
    """
    copies = copies_of(settings)
    stay = staying([each.made_at.date() for each in copies], read_kept(settings.copies_kept))
    gone = [each for place, each in enumerate(copies) if place not in stay]
    for each in gone:
        # It is no copy from this moment on, whenever its files go.
        aside = each.folder.with_name(f".{each.name}.going")
        with suppress(OSError):
            each.folder.rename(aside)
            shutil.rmtree(aside, ignore_errors=True)
    if gone:
        _thin_pictures(settings)
    return tuple(each.name for each in gone)


def _thin_pictures(settings: Settings) -> None:
    folders = [each for each in settings.copies.iterdir() if (each / FILE).exists()]
    copies = copies_of(settings)
    if len(copies) != len(folders):  # one tells nothing of itself: whose pictures it has is open
        return
    used = {picture.name for each in copies for picture in each.pictures}
    for kind in (ORIGINALS, TO_SHARE):
        folder = pool_of(settings.copies) / kind
        for file in folder.iterdir() if folder.is_dir() else ():
            if f"{kind}/{file.name}" not in used:
                with suppress(OSError):
                    file.unlink()


def _write_about(copy: Copy) -> None:
    told: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "made_at": copy.made_at.isoformat(),
        "verified_at": copy.verified_at.isoformat(),
        "why": copy.why,
        "shape": copy.shape,
        "bytes": copy.size,
        "sha256": copy.mark,
        "grounds": [asdict(each) for each in copy.grounds],
        "pictures": [asdict(each) for each in copy.pictures],
    }
    wanted = copy.folder / ABOUT
    aside = wanted.with_name(f".{ABOUT}.new")
    try:
        with aside.open("w", encoding="utf-8") as handle:
            json.dump(told, handle, ensure_ascii=False, indent=1)
            handle.write("\n")
            handle.flush()
            os.fsync(handle.fileno())
        aside.chmod(0o600)
        aside.replace(wanted)
    except OSError as slip:
        raise StorageError(str(wanted), slip.strerror or str(slip)) from slip


def _day(at: datetime, here: datetime) -> date:
    return at.astimezone(here.tzinfo).date()


@contextmanager
def _alone(settings: Settings) -> Iterator[bool]:
    """Hold the lease on making copies; a process that is killed lets go of it."""
    try:
        make_private_folder(settings.copies)
        lease = (settings.copies / ".lease").open("a+b")
    except OSError as slip:
        raise StorageError(str(settings.copies), slip.strerror or str(slip)) from slip
    with lease:
        yield _took(lease)


def _took(lease: IO[bytes]) -> bool:
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(lease.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
        else:
            import fcntl

            fcntl.flock(lease.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
