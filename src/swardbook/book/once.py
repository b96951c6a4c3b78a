"""A sending under a mark of its own is answered once, also after a restart."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.records.chain import canonical
from swardbook.records.fingerprints import fingerprint

Plain = Mapping[str, Any]


def answered_once(
    book: Book, sending: tuple[str, ...], now: datetime, work: Callable[[], Plain],
    *, is_quick: bool, said: Plain | None = None,
) -> Plain:  # fmt: skip
    """Do what is asked, unless the same sending was answered before: that is answered as it was.

    Parameters
    ----------
    book : Book
        The opened book.
    sending : tuple of str
        Who sends, what is asked, and the mark it came under.
    now : datetime
        The time.
    work : callable
        Writes, and gives the answer.
    is_quick : bool
        Whether it may hold up others that write. Then entry and mark are written as one, and no
        crash comes between them; else the mark comes after the answer, and a crash between lets
        the answer be kept a second time, of which the last counts.
    said : mapping or None
        What is sent. Something else under the same mark is refused: it is no second sending.

    Returns
    -------
    mapping
        The answer.

    Raises
    ------
    BadInputError
        If something else was sent under the mark before; nothing is written.
    """
    mark, marks = json.dumps(sending, ensure_ascii=False), book.store.answered()
    of = fingerprint(canonical(dict(said or {})))

    def made() -> str:
        return f"{of} {json.dumps(work(), ensure_ascii=False)}"

    if (held := marks.of(mark)) is not None:
        return _read(held, of)
    if not is_quick:
        answer = made()
        with book.store.together():
            return _read(marks.keep(mark, answer, now), of)
    with book.store.together():
        held = marks.of(mark)
        return _read(marks.keep(mark, made(), now) if held is None else held, of)


def _read(held: str, of: str) -> Plain:
    sent, _, answer = held.partition(" ")
    if sent != of:
        raise BadInputError(
            "the Idempotency-Key", "a mark under which something else came before",
            "a mark of its own for each thing that is sent",
            "Nothing was written. Send it again under another mark.",
        )  # fmt: skip
    found: Plain = json.loads(answer)
    return found
