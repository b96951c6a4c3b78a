"""Answers held while the book stands as it is, and long ones worked out beside the page.

An answer is held under the name of the book's state, its day and the question, in this process
alone. Nothing is written: a book that was written to has another name, and what was held is left.
"""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from contextvars import copy_context
from dataclasses import dataclass
from typing import Any, TypeVar

from swardbook.book.opening import Book, is_for_others
from swardbook.foundation.errors import SwardbookError
from swardbook.web import opened

Found = TypeVar("Found")
_Key = tuple[str, str, str]
PATIENCE = 1.5
"""How long a page waits for an answer before it says that it is being worked out [s]."""
MOST = 400
"""Answers held at most; the one not asked for longest goes first."""
_LOCK = threading.Lock()
_HELD: OrderedDict[_Key, Any] = OrderedDict()
_ASKED: dict[_Key, threading.Lock] = {}
_UNDER_WAY: dict[_Key, Working] = {}
_A_FEW_AT_A_TIME = threading.Semaphore(4)
"""So that a quick answer is not kept waiting by one that takes a minute."""


@dataclass(frozen=True, slots=True)
class Working:
    """An answer that is being worked out.

    Parameters
    ----------
    words : str
        What is worked out.
    seconds : int
        How long it takes, roughly [s].
    began : float
        When it was begun, by a clock that only runs on [s].
    """

    words: str
    seconds: int
    began: float

    @property
    def since(self) -> int:
        """How long it has been under way [s]."""
        return int(time.monotonic() - self.began)


@dataclass(frozen=True, slots=True)
class _Refused:
    refusal: SwardbookError


@dataclass(frozen=True, slots=True)
class _Broken:
    slip: Exception


def remembered(question: str, work: Callable[[Book], Found]) -> Found:
    """Give what was worked out before for the book as it stands, else work it out now.

    Parameters
    ----------
    question : str
        Names the answer; two different answers never share one.
    work : callable
        Works it out from the book; what it gives is shared among threads and never changed.

    Raises
    ------
    SwardbookError
        If the book refuses, now as before.
    """
    book = opened.the_book()
    key = _key(book, question)
    with _LOCK:
        asked = _ASKED.setdefault(key, threading.Lock())
    with asked:
        if not _is_held(key):
            _hold(key, _outcome(work, book))
    with _LOCK:
        _ASKED.pop(key, None)
    return _given(key, lambda: work(book))


def soon(
    question: str, work: Callable[[Book], Found], words: str, seconds: int, patience: float = 0.0
) -> Found | Working:
    """Give what was worked out before, else begin to and say so; ask again later.

    Parameters
    ----------
    question, work
        As in `remembered`.
    words : str
        What is worked out, for who waits.
    seconds : int
        How long it takes, roughly [s].
    patience : float
        How long to wait for it before saying that it is under way [s].
    """
    key = _key(opened.the_book(), question)
    if _is_held(key):
        return _given(key, lambda: work(opened.the_book()))
    thread: threading.Thread | None = None
    with _LOCK:
        under_way = _UNDER_WAY.get(key)
        if under_way is None:
            under_way = _UNDER_WAY[key] = Working(words, seconds, time.monotonic())
            context = copy_context()
            thread = threading.Thread(
                target=context.run, args=(_work_beside, key, work), daemon=True
            )
            thread.start()
    if thread is not None and patience > 0.0:
        thread.join(patience)
        if _is_held(key):
            return _given(key, lambda: work(opened.the_book()))
    return under_way


def forget() -> None:
    """Let go of every answer that is held."""
    with _LOCK:
        _HELD.clear()


def _work_beside(key: _Key, work: Callable[[Book], Any]) -> None:
    try:
        with _A_FEW_AT_A_TIME:
            if not _is_held(key):
                _hold(key, _outcome(work, opened.the_book()))
    except Exception as slip:  # told once to who asks again; else the page would wait for ever
        _hold(key, _Broken(slip))
    finally:
        with _LOCK:
            _UNDER_WAY.pop(key, None)
        opened.close()


def _outcome(work: Callable[[Book], Any], book: Book) -> Any:
    try:
        return work(book)
    except SwardbookError as refusal:
        return _Refused(refusal)


def _key(book: Book, question: str) -> _Key:
    state = opened.state_of(book)
    whose = "for others" if is_for_others() else "for all"
    about = f"{state} {book.today.isoformat()} {book.settings!r} {whose}"
    return (opened.ground_asked(), about, question)


def _is_held(key: _Key) -> bool:
    with _LOCK:
        return key in _HELD


def _hold(key: _Key, outcome: Any) -> None:
    with _LOCK:
        _HELD[key] = outcome
        while len(_HELD) > MOST:
            _HELD.popitem(last=False)


def _given(key: _Key, again: Callable[[], Found]) -> Found:
    with _LOCK:
        if key in _HELD:
            _HELD.move_to_end(key)
            outcome = _HELD[key]
        else:
            outcome = _Refused  # let go of in between: rare, and worked out once more
    if outcome is _Refused:
        return again()
    if isinstance(outcome, _Refused):
        raise outcome.refusal
    if isinstance(outcome, _Broken):
        with _LOCK:
            _HELD.pop(key, None)
        raise outcome.slip
    found: Found = outcome
    return found
