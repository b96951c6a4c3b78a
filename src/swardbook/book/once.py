"""A sending under a mark of its own is answered once, also after a restart."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from swardbook.book.opening import Book

Plain = Mapping[str, Any]


def answered_once(
    book: Book, sending: tuple[str, ...], now: datetime, work: Callable[[], Plain],
    *, is_quick: bool,
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

    Returns
    -------
    mapping
        The answer.
    """
    mark, marks = json.dumps(sending, ensure_ascii=False), book.store.answered()
    if (held := marks.of(mark)) is not None:
        return _read(held)
    if not is_quick:
        made = json.dumps(work(), ensure_ascii=False)
        with book.store.together():
            return _read(marks.keep(mark, made, now))
    with book.store.together():
        if (held := marks.of(mark)) is None:
            held = marks.keep(mark, json.dumps(work(), ensure_ascii=False), now)
        return _read(held)


def _read(held: str) -> Plain:
    found: Plain = json.loads(held)
    return found
