"""Picture files: what reads them is there, they are read once, and copies are kept by content."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from swardbook.foundation.errors import BadInputError, RefusedError, StorageError
from swardbook.handbook.parameters import value
from swardbook.records.files import make_private_folder

if TYPE_CHECKING:
    from swardbook.photos.covering import Pass
    from swardbook.photos.opening import Photo
    from swardbook.settings import Settings

_NAMED_SO = {".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".avif", ".tif", ".tiff", ".dng"}
"""Endings by which a file in a folder is taken for a picture; what it is its content tells."""
_ENDINGS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}
ORIGINALS, TO_SHARE = "originals", "to share"


@dataclass(frozen=True, slots=True)
class KeptFiles:
    """Where the copies of a picture are.

    Parameters
    ----------
    original : Path
        The file as it came, bit for bit; it may tell where it was taken.
    to_share : Path
        The same picture without the place; this one may be handed on.
    """

    original: Path
    to_share: Path


def require_readers() -> None:
    """Refuse in words where the libraries that read pictures are not installed.

    Raises
    ------
    RefusedError
        If one is missing.
    """
    missing = [name for name in ("cv2", "PIL") if find_spec(name) is None]
    if missing:
        raise RefusedError(
            "Photographs are not read", "OpenCV and Pillow are not installed here.",
            "Install swardbook with its extra `photos`; nothing was changed.",
        )  # fmt: skip


def pass_of(settings: Settings) -> Pass:
    """Get the compiled passes over pixels, kept in the folder that the settings name.

    Raises
    ------
    StorageError
        If the folder cannot be written or read.
    """
    from swardbook.photos.covering import load_pass

    try:
        return load_pass(settings.cache)
    except (OSError, RuntimeError) as slip:
        if isinstance(slip, RuntimeError) and "locator" not in str(slip):
            raise
        reason = getattr(slip, "strerror", None) or "it is read-only"
        raise StorageError(
            f"the folder for compiled code, {settings.cache}",
            f"{reason}; set SWARDBOOK_CACHE to a folder that can be written",
        ) from slip


def pictures_at(paths: Sequence[Path]) -> tuple[Path, ...]:
    """Give the files that were named; a folder stands for the pictures right in it, by name.

    Parameters
    ----------
    paths : sequence of Path
        Files and folders.

    Raises
    ------
    BadInputError
        If a folder holds no file that is named like a picture, or cannot be looked into.
    """
    found: list[Path] = []
    for path in paths:
        found += _pictures_in(path) if path.is_dir() else [path]
    return tuple(found)


def _pictures_in(folder: Path) -> list[Path]:
    try:
        inside = [each for each in folder.iterdir() if each.suffix.casefold() in _NAMED_SO]
    except OSError as slip:
        raise BadInputError("the folder", str(folder), "a folder that can be looked into",
                            f"{slip.strerror}.") from slip  # fmt: skip
    found = [each for each in inside if each.is_file() and not each.name.startswith(".")]
    if not found:
        raise BadInputError("the folder", str(folder), "a folder with pictures right in it",
                            "Are they in a folder below it?")  # fmt: skip
    return sorted(found, key=lambda each: _by_number(each.name))


def _by_number(name: str) -> tuple[tuple[int, str], ...]:
    """Order names as a person does: 2 before 10."""
    parts = re.findall(r"\d+|\D+", name.casefold())
    return tuple((int(part), "") if part.isdecimal() else (-1, part) for part in parts)


def read_bytes(path: Path) -> bytes:
    """Read a picture's file, which is never written to.

    Raises
    ------
    BadInputError
        If it cannot be read, or is larger than any picture.
    """
    most = value("photo_file_most_mb")
    try:
        if path.exists() and not path.is_file():  # a device without an end
            raise BadInputError("the picture", str(path), "a file, or a folder of pictures")
        size = path.stat().st_size
        if size > most * 1e6:
            raise BadInputError(path.name, f"{size / 1e6:,.0f} MB", f"at most {most:g} MB",
                                "A film, or a raw file? Send the picture as JPEG.")  # fmt: skip
        return path.read_bytes()
    except OSError as slip:
        raise BadInputError("the picture", str(path), "a file that can be read",
                            f"{slip.strerror}.") from slip  # fmt: skip


def keep_files(settings: Settings, photo: Photo) -> KeptFiles:
    """Keep a picture as it came, and a copy that tells no place, each under its content's name.

    Raises
    ------
    StorageError
        If the disk would not take them.
    """
    return keep_copies(settings, f"{photo.mark}.{ending_of(photo)}", photo.held, photo.to_share)


def ending_of(photo: Photo) -> str:
    """Give the ending of a picture's kept file, by its content."""
    return _ENDINGS[photo.form]


def keep_copies(settings: Settings, name: str, held: bytes, to_share: bytes) -> KeptFiles:
    """Keep a file as it came, and a copy that tells no place.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    name : str
        SHA-256 of the file as it came, with the ending of its kind.
    held, to_share : bytes
        The file, and the copy.

    Raises
    ------
    StorageError
        If the disk would not take them.
    """
    kept = KeptFiles(settings.pictures / ORIGINALS / name, settings.pictures / TO_SHARE / name)
    for path, content in ((kept.original, held), (kept.to_share, to_share)):
        keep_whole(path, content)
    return kept


def keep_whole(path: Path, held: bytes) -> None:
    """Write a file whole or not at all; one that is there whole is left as it is.

    Raises
    ------
    StorageError
        If the disk would not take it.
    """
    aside = path.with_name(f".{path.name}.{uuid4().hex[:8]}")
    try:
        if path.exists() and path.stat().st_size == len(held):
            return
        for folder in (path.parent.parent, path.parent):
            make_private_folder(folder)
        with aside.open("xb") as handle:
            handle.write(held)
            handle.flush()
            os.fsync(handle.fileno())
        aside.replace(path)
    except OSError as slip:
        with suppress(OSError):
            aside.unlink(missing_ok=True)
        raise StorageError(str(path), slip.strerror or str(slip)) from slip
