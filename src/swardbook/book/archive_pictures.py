"""Pictures and voice notes in the archive: copies that tell no place, streamed out and in."""

from __future__ import annotations

import os
import re
import shutil
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import IO, Any
from uuid import uuid4

from swardbook.book.photo_files import TO_SHARE
from swardbook.book.pictures_out import ENDINGS, media_type
from swardbook.foundation.errors import DamagedBookError, StorageError
from swardbook.records.files import make_private_folder, there_is_one
from swardbook.settings import Settings

FOLDER = f"pictures/{TO_SHARE}/"
"""Where pictures lie in an archive, as they do beside a book."""
_NAME = re.compile(rf"[0-9a-f]{{64}}\.({'|'.join(ENDINGS)})")
_PART = 1 << 20


@dataclass(frozen=True, slots=True)
class PictureFile:
    """One picture that goes out.

    Parameters
    ----------
    name : str
        Its name in the archive.
    path : Path
        Its file.
    size : int
        How large it is. [byte]
    mark : str
        Its SHA-256.
    """

    name: str
    path: Path
    size: int
    mark: str


def is_picture(name: str) -> bool:
    """Tell whether a name in an archive is one that a picture can have."""
    return name.startswith(FOLDER) and _NAME.fullmatch(name.removeprefix(FOLDER)) is not None


def kinds_in(names: Iterable[str]) -> tuple[int, int]:
    """Count pictures, and voice notes, by the endings of their names."""
    sounds = [media_type(Path(name)).startswith("audio/") for name in names]
    return sounds.count(False), sounds.count(True)


def pictures_of(settings: Settings, named_in: str | None = None) -> tuple[PictureFile, ...]:
    """List the copies that tell no place, each read through once for its checksum.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    named_in : str or None
        Only those whose marks stand in this text, where several grounds have theirs in one
        folder; None: all.

    Raises
    ------
    StorageError
        If one cannot be read.
    """
    folder = settings.pictures / TO_SHARE
    try:
        if not folder.is_dir():
            return ()
        paths = sorted(path for path in folder.iterdir() if _NAME.fullmatch(path.name))
        if named_in is not None:
            marks = set(re.findall(r"(?<![0-9a-f])[0-9a-f]{64}(?![0-9a-f])", named_in))
            paths = [path for path in paths if path.stem in marks]
        return tuple(_listed(path) for path in paths if path.is_file() and not path.is_symlink())
    except OSError as slip:
        raise StorageError(str(slip.filename or folder), slip.strerror or str(slip)) from slip


def write_zip(
    path: Path, files: Mapping[str, bytes], pictures: tuple[PictureFile, ...] = ()
) -> str:
    """Write an archive whole or not at all; pictures pass through part by part.

    Parameters
    ----------
    path : Path
        Where to.
    files : mapping
        Names and contents of small files.
    pictures : tuple of PictureFile
        Pictures, stored as they are, after the files.

    Returns
    -------
    str
        SHA-256 of the archive.

    Raises
    ------
    StorageError
        If the disk would not take it, or a picture changed meanwhile; nothing is left behind.
    """
    aside = path.with_name(f".{path.name}.{uuid4().hex[:8]}")
    try:
        with aside.open("xb") as handle:
            with zipfile.ZipFile(handle, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
                for name, held in sorted(files.items()):
                    archive.writestr(_member(name, zipfile.ZIP_DEFLATED), held)
                for picture in pictures:
                    _write_picture(archive, picture)
            handle.flush()
            os.fsync(handle.fileno())
        with aside.open("rb") as read:
            mark, _ = _marked(read)
        aside.rename(path)
    except OSError as slip:
        raise StorageError(str(path), slip.strerror or str(slip)) from slip
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)
    return mark


def check_picture(archive: zipfile.ZipFile, name: str, about: Any, remedy: str) -> None:
    """Read a picture of an archive through, and hold it against the manifest.

    Raises
    ------
    DamagedBookError
        If it is not what was written.
    """
    mark, size = "", about.get("bytes") if isinstance(about, dict) else None
    if size == archive.getinfo(name).file_size:
        with archive.open(name) as handle:
            mark, _ = _marked(handle)
    if not mark or mark != about.get("sha256"):
        raise DamagedBookError(
            f"{name} in {archive.filename}", "its checksum does not hold", remedy
        )


@contextmanager
def pictures_in_place(
    settings: Settings, path: Path, names: tuple[str, ...], is_further: bool = False
) -> Iterator[None]:
    """Put the pictures of an archive beside the book; taken away again if the block fails.

    Raises
    ------
    BadInputError
        If there is a book already, and this is no further ground for it.
    StorageError
        If the disk would not take them.
    """
    if not is_further and not settings.database and settings.book_file.exists():
        raise there_is_one(settings.book_file)
    folders = (settings.home, settings.pictures, settings.pictures / TO_SHARE)
    made = [folder for folder in folders if not folder.exists()] if names else []
    written: list[Path] = []
    try:
        if names:
            for folder in folders:
                make_private_folder(folder)
            _bring_all_in(path, names, folders[-1], written)
        yield
    except BaseException:
        _take_away(written, made)
        raise


def _bring_all_in(path: Path, names: tuple[str, ...], folder: Path, written: list[Path]) -> None:
    try:
        with zipfile.ZipFile(path) as archive:
            for name in names:
                _bring_in(archive, name, folder, written)
    except OSError as slip:
        raise StorageError(str(folder), slip.strerror or str(slip)) from slip


def _bring_in(archive: zipfile.ZipFile, name: str, folder: Path, written: list[Path]) -> None:
    """Write one picture; one that is there whole is left as it is."""
    wanted = folder / name.removeprefix(FOLDER)
    if wanted.exists() and wanted.stat().st_size == archive.getinfo(name).file_size:
        return
    aside = wanted.with_name(f".{wanted.name}.{uuid4().hex[:8]}")
    try:
        with archive.open(name) as read, aside.open("xb") as out:
            shutil.copyfileobj(read, out, _PART)
            out.flush()
            os.fsync(out.fileno())
        aside.replace(wanted)
    finally:
        aside.unlink(missing_ok=True)
    written.append(wanted)


def _take_away(written: list[Path], made: list[Path]) -> None:
    for file in written:
        with suppress(OSError):
            file.unlink()
    for folder in reversed(made):
        with suppress(OSError):
            folder.rmdir()


def _write_picture(archive: zipfile.ZipFile, picture: PictureFile) -> None:
    about = _member(picture.name, zipfile.ZIP_STORED)
    about.file_size = picture.size
    found = sha256()
    with picture.path.open("rb") as read, archive.open(about, "w") as out:
        while part := read.read(_PART):
            found.update(part)
            out.write(part)
    if found.hexdigest() != picture.mark:
        raise StorageError(str(picture.path), "it changed while it was written out")


def _member(name: str, how: int) -> zipfile.ZipInfo:
    """Describe a file so that the same content always makes the same bytes."""
    about = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
    about.compress_type = how
    about.create_system = 3
    about.external_attr = 0o600 << 16
    return about


def _listed(path: Path) -> PictureFile:
    with path.open("rb") as read:
        mark, size = _marked(read)
    return PictureFile(FOLDER + path.name, path, size, mark)


def _marked(read: IO[bytes]) -> tuple[str, int]:
    found, size = sha256(), 0
    while part := read.read(_PART):
        found.update(part)
        size += len(part)
    return found.hexdigest(), size
