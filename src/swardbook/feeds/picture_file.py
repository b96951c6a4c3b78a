"""Write a picture as SVG, or papers as PDF; another kind of file is never written over."""

from __future__ import annotations

from pathlib import Path
from uuid import uuid4

from swardbook.foundation.errors import BadInputError, StorageError

_LOOKED_AT = 1000


_KINDS = {
    ".svg": ("the picture", "an SVG", b"<svg"), ".pdf": ("the papers", "a PDF", b"%PDF-"),
}  # fmt: skip


def check_picture_path(path: Path) -> None:
    """Refuse a place where no picture should go, before it is worked out.

    Raises
    ------
    BadInputError
        If it does not end in ``.svg``, has no folder, or names a file that is no SVG.
    """
    _check(path, ".svg")


def check_paper_path(path: Path) -> None:
    """Refuse a place where no papers should go, before they are set.

    Raises
    ------
    BadInputError
        If it does not end in ``.pdf``, has no folder, or names a file that is no PDF.
    """
    _check(path, ".pdf")


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
    _save(path, text.encode())


def save_pdf(path: Path, content: bytes) -> None:
    """Write papers whole or not at all.

    Raises
    ------
    BadInputError
        If no papers should go there; see `check_paper_path`.
    StorageError
        If the disk would not take it.
    """
    check_paper_path(path)
    _save(path, content)


def _check(path: Path, ending: str) -> None:
    what, kind, mark = _KINDS[ending]
    if path.suffix.casefold() != ending:
        raise BadInputError(what, str(path), f"a file name that ends in {ending}")
    if not path.parent.is_dir():
        raise BadInputError(
            what, str(path), "a file in a folder that is there",
            f"There is no folder {path.parent}.",
        )  # fmt: skip
    if path.exists() and not _holds(path, mark):
        raise BadInputError(
            what, str(path), f"a new file, or {kind} that may be written over",
            f"What is there is no {kind.split()[-1]}; it is left as it is.",
        )  # fmt: skip


def _save(path: Path, content: bytes) -> None:
    aside = path.with_name(f".{path.name}.{uuid4().hex[:8]}")
    try:
        aside.write_bytes(content)
        aside.replace(path)
    except OSError as slip:
        aside.unlink(missing_ok=True)
        raise StorageError(str(path), slip.strerror or str(slip)) from slip


def _holds(path: Path, mark: bytes) -> bool:
    if not path.is_file():
        return False
    try:
        with path.open("rb") as handle:
            return mark in handle.read(_LOOKED_AT)
    except OSError as slip:
        raise StorageError(str(path), slip.strerror or str(slip)) from slip
