"""Pictures and voice notes handed on: always the copy that tells no place."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

from swardbook.book.photo_files import TO_SHARE, keep_whole
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.records.for_others import is_for_others

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.opening import Book
    from swardbook.husbandry.diary import DiaryEntry
    from swardbook.settings import Settings

_MEDIA = {
    "jpg": "image/jpeg", "png": "image/png", "webp": "image/webp", "webm": "audio/webm",
    "ogg": "audio/ogg", "m4a": "audio/mp4", "wav": "audio/wav",
}  # fmt: skip
ENDINGS = tuple(_MEDIA)
"""Endings that a kept file can have, given by its content."""
_MARK = re.compile(r"[0-9a-f]{64}")
_SHOWN = 80
_QUALITY = 82


def sent_file(settings: Settings, mark: str) -> Path:
    """Find the copy of a picture or voice note that tells no place.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    mark : str
        SHA-256 of the file as it came.

    Raises
    ------
    UnknownNameError
        If there is none.
    """
    if _MARK.fullmatch(mark):
        for ending in _MEDIA:
            path = settings.pictures / TO_SHARE / f"{mark}.{ending}"
            if path.is_file():
                return path
    raise UnknownNameError("picture or voice note", mark[:_SHOWN], ())


def told_file(book: Book, mark: str) -> Path:
    """Find the copy of a picture or voice note that whoever asks may see.

    Parameters
    ----------
    book : Book
        The opened book.
    mark : str
        SHA-256 of the file as it came.

    Raises
    ------
    UnknownNameError
        If there is none, or others ask for one that no entry names which they are told.
    """
    path = sent_file(book.settings, mark)
    if is_for_others() and not _is_told(book, mark):
        raise UnknownNameError("picture or voice note", mark[:_SHOWN], ())
    return path


def _is_told(book: Book, mark: str) -> bool:
    site = book.store.site()
    if site is not None and site.plan is not None and mark in repr(site.plan.backdrop):
        return True
    return any(_names(each, mark) for each in book.store.whole_diary())


def _names(entry: DiaryEntry, mark: str) -> bool:
    return mark in {getattr(entry.what, "file", ""), getattr(entry.what, "picture", "")}


def media_type(path: Path) -> str:
    """Tell a kept file's media type by its ending, which was given by content."""
    return _MEDIA[path.suffix.removeprefix(".")]


def small_picture(settings: Settings, mark: str, side_px: int = 480) -> bytes:
    """Give a small picture as JPEG: upright, and with nothing but the picture in it.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    mark : str
        SHA-256 of the file as it came.
    side_px : int
        Longest side. [px]

    Raises
    ------
    UnknownNameError
        If there is no such picture.
    OutOfRangeError
        If the side is too short or too long.
    BadInputError
        If the picture cannot be decoded.
    StorageError
        If the folder of what can be made again cannot be written.
    """
    require("the longest side", side_px, 16, value("small_picture_most_px"), "px")
    path = sent_file(settings, mark)
    if not media_type(path).startswith("image/"):
        raise UnknownNameError("picture", mark[:_SHOWN], ())
    made = settings.cache / "small pictures" / f"{mark}-{side_px}.jpg"
    try:
        return made.read_bytes()
    except OSError:
        held = _made_small(path, side_px)
    keep_whole(made, held)
    return held


def _made_small(path: Path, side_px: int) -> bytes:
    from PIL import Image, ImageOps

    out = io.BytesIO()
    try:
        with Image.open(path, formats=("JPEG", "PNG", "WEBP")) as image:
            image.draft("RGB", (side_px, side_px))
            turned = ImageOps.exif_transpose(image).convert("RGB")
            turned.thumbnail((side_px, side_px))
            turned.info.clear()
            turned.save(out, "JPEG", quality=_QUALITY)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as slip:
        raise BadInputError(path.name, "a damaged picture", "a picture that can be decoded",
                            "Send it again.") from slip  # fmt: skip
    return out.getvalue()
