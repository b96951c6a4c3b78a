"""Write a picture as an SVG file; another kind of file is never written over."""

from __future__ import annotations

from pathlib import Path
from uuid import uuid4

from swardbook.foundation.errors import BadInputError, StorageError

_LOOKED_AT = 1000


def check_picture_path(path: Path) -> None:
    """Refuse a place where no picture should go, before it is worked out.

    Raises
    ------
    BadInputError
        If it does not end in ``.svg``, has no folder, or names a file that is no SVG.
    """
    if path.suffix.casefold() != ".svg":
        raise BadInputError("the picture", str(path), "a file name that ends in .svg")
    if not path.parent.is_dir():
        raise BadInputError(
            "the picture", str(path), "a file in a folder that is there",
            f"There is no folder {path.parent}.",
        )  # fmt: skip
    if path.exists() and not _is_svg(path):
        raise BadInputError(
            "the picture", str(path), "a new file, or an SVG that may be written over",
            "What is there is no SVG; it is left as it is.",
        )  # fmt: skip


def save_svg(path: Path, text: str) -> None:
    """Write a picture whole or not at all.

    Raises
    ------
    BadInputError
        If no picture should go there; see `check_picture_path`.
    StorageError
        If the disk would not take it.
    """
    check_picture_path(path)
    aside = path.with_name(f".{path.name}.{uuid4().hex[:8]}")
    try:
        aside.write_text(text, encoding="utf-8", newline="\n")
        aside.replace(path)
    except OSError as slip:
        aside.unlink(missing_ok=True)
        raise StorageError(str(path), slip.strerror or str(slip)) from slip


def _is_svg(path: Path) -> bool:
    if not path.is_file():
        return False
    try:
        with path.open("rb") as handle:
            return b"<svg" in handle.read(_LOOKED_AT)
    except OSError as slip:
        raise StorageError(str(path), slip.strerror or str(slip)) from slip
