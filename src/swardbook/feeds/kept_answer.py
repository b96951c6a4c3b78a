"""The last answer of a service, kept beside the book: to ask only for changes, and to fall back on.

What is kept can be fetched again; a copy that is broken or belongs to another address is left out.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import uuid4

from swardbook.foundation.errors import StorageError

_LARGEST = 16 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class KeptAnswer:
    """An answer as it came.

    Parameters
    ----------
    body : str
        The answer.
    fetched_at : datetime
        When it came.
    checked_at : datetime
        When the service last said that it was still so.
    address : str
        Which address it answers, as SHA-256: a key may stand in it.
    etag, last_modified : str
        What to send to be told only of changes.
    """

    body: str
    fetched_at: datetime
    checked_at: datetime
    address: str
    etag: str = ""
    last_modified: str = ""

    @property
    def mark(self) -> str:
        """SHA-256 of the answer."""
        return sha256(self.body.encode()).hexdigest()


def mark_of(address: str) -> str:
    """Give the SHA-256 of an address."""
    return sha256(address.encode()).hexdigest()


def read_kept(file: Path) -> KeptAnswer | None:
    """Read the answer that is kept; None where there is none that is whole."""
    try:
        if file.stat().st_size > _LARGEST:
            return None
        told: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
        mark = told.pop("sha256")
        dates: dict[str, Any] = {name: datetime.fromisoformat(told.pop(name)) for name in _DATES}
        kept = KeptAnswer(**told, **dates)
        whole = kept.mark == mark and all(each.tzinfo for each in dates.values())
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return None
    return kept if whole else None


_DATES = ("fetched_at", "checked_at")


def keep(file: Path, answer: KeptAnswer) -> None:
    """Keep an answer, whole or not at all; only the owner of the folder can read it.

    Raises
    ------
    StorageError
        If the disk would not take it.
    """
    told = {
        "body": answer.body, "address": answer.address, "etag": answer.etag,
        "last_modified": answer.last_modified, "fetched_at": answer.fetched_at.isoformat(),
        "checked_at": answer.checked_at.isoformat(), "sha256": answer.mark,
    }  # fmt: skip
    aside = file.with_name(f".{file.name}.{uuid4().hex[:8]}")
    try:
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle = os.open(aside, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            json.dump(told, out, ensure_ascii=False)
        aside.replace(file)
    except OSError as slip:
        with suppress(OSError):
            aside.unlink(missing_ok=True)
        raise StorageError(str(file), slip.strerror or str(slip)) from slip
