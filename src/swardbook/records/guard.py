"""What a database can refuse, turned into our own errors."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from swardbook.foundation.errors import (
    BookBusyError,
    DamagedBookError,
    RefusedError,
    StorageError,
)
from swardbook.records.setup import BUSY_SECONDS

_BUSY = ("database is locked", "lock timeout", "database table is locked")
_DAMAGED = (
    "not a database", "malformed", "file is encrypted", "corrupt", "no such", "already exists",
    "could not decode", "row_cast_map",
)  # fmt: skip
MOVED = "this book was moved"
"""What a database says where something is to be written into a book that was moved."""
REMEDY = (
    "The file was left as it is. Keep a copy of it, and bring back your last good copy or an"
    " archive made with `swardbook export`."
)


@contextmanager
def guarded(where: str) -> Iterator[None]:
    """Turn what goes wrong inside into `BookBusyError`, `StorageError` or `DamagedBookError`.

    Parameters
    ----------
    where : str
        The book, as the person knows it.
    """
    from django.db.utils import DatabaseError

    try:
        yield
    except DatabaseError as slip:
        told = str(slip).strip()
        if MOVED in told:
            raise RefusedError(
                "Nothing was written", f"{MOVED} to another database meanwhile.",
                "Begin again, or see `swardbook check-up`.",
            ) from slip  # fmt: skip
        if any(words in told.lower() for words in _BUSY):
            raise BookBusyError(where, BUSY_SECONDS) from slip
        if any(words in told.lower() for words in _DAMAGED):
            raise DamagedBookError(where, f"it cannot be read ({told})", REMEDY) from slip
        raise StorageError(where, told) from slip
    except UnicodeDecodeError as slip:
        raise DamagedBookError(where, "it cannot be read (text that is no text)", REMEDY) from slip
    except OSError as slip:
        raise StorageError(where, slip.strerror or str(slip)) from slip
