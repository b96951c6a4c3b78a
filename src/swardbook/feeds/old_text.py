"""The text of an old file, in whatever letters it was saved."""

from __future__ import annotations

from pathlib import Path

from swardbook.foundation.errors import BadInputError

MOST_BYTES = 16 * 1024 * 1024
"""Largest file read; a lifetime of lawn notes is about 1 MB."""


def read_old_text(path: Path) -> str:
    """Read an old file as text.

    Parameters
    ----------
    path : Path
        A CSV or plain text file.

    Raises
    ------
    BadInputError
        If it cannot be opened, is too large, or is no text.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as slip:
        raise BadInputError(
            "the old file", str(path), "a file that can be read", f"{slip.strerror}."
        ) from slip
    if len(raw) > MOST_BYTES:
        raise BadInputError("the old file", str(path), f"up to {MOST_BYTES >> 20} MB")
    if raw[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        return raw.decode("utf-16", errors="replace")
    if raw[:2] == b"PK" or b"\0" in raw[:4096]:
        raise BadInputError(
            "the old file", path.name, "CSV, or plain text",
            "A spreadsheet: save it as CSV first.",
        )  # fmt: skip
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("cp1252", errors="replace")
    return text.replace("\0", "").replace("\r\n", "\n").replace("\r", "\n")
