"""Working jobs off: processes that each take one under a lease, and begin anew where one dies."""

from __future__ import annotations

import os
import platform
import signal
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import wait
from multiprocessing.process import BaseProcess
from threading import Event, Lock, Thread
from types import FrameType

from swardbook.book.machine_jobs import Doing, ask_for_night, done_now, kind_of
from swardbook.book.machine_kind import machine_kind
from swardbook.book.opening import Book, Clock, open_any_book
from swardbook.foundation.errors import (
    BookBusyError,
    DamagedBookError,
    RefusedError,
    StorageError,
    SwardbookError,
)
from swardbook.records.job import Job
from swardbook.records.job_list import jobs_of
from swardbook.settings import Settings

Now = Callable[[], datetime]
LOOKS_EVERY = 2.0
"""How long a worker with nothing to do waits before it looks again. [s]"""
AGAIN_AFTER = timedelta(minutes=2)
"""After a first failure that may pass; twice as long after each further one."""
_MAY_PASS = (StorageError, BookBusyError, RefusedError, OSError)


@dataclass(frozen=True, slots=True)
class Working:
    """How jobs are worked off; goes to each process.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    clock, now : callable
        The day, and the time; named by their module, so that a process finds them.
    until_empty : bool
        Whether to leave when nothing waits; else to wait for more.
    kinds : tuple of str
        Only these kinds; none: all.
    nightly_at : int or None
        Hour of the day from which on the night's work is asked for; None: never. [h]
    """

    settings: Settings
    clock: Clock
    now: Now
    until_empty: bool = False
    kinds: tuple[str, ...] = ()
    nightly_at: int | None = None


def work_off(working: Working, processes: int, tell: Callable[[str], None]) -> None:
    """Keep so many processes at work, until they leave or this one is told to stop.

    Parameters
    ----------
    working : Working
        How.
    processes : int
        How many.
    tell : callable
        Told of processes that died.
    """
    stop = Event()
    before = {each: signal.signal(each, lambda *_: stop.set())
              for each in (signal.SIGTERM, signal.SIGINT)}  # fmt: skip
    children: list[BaseProcess] = []
    try:
        _ask_when_due(working)
        children = [_begun(working) for _ in range(processes)]
        while children and not stop.is_set():
            wait([each.sentinel for each in children], 1.0)
            _ask_when_due(working)
            for child in [each for each in children if not each.is_alive()]:
                children.remove(child)
                if child.exitcode and not stop.is_set():
                    tell(f"a process was lost ({child.exitcode}); another takes its place")
                    time.sleep(0.2)
                    children.append(_begun(working))
    finally:
        for child in children:
            child.terminate()
        for child in children:
            child.join()
        for each, was in before.items():
            signal.signal(each, was)


def _begun(working: Working) -> BaseProcess:
    process = get_context("spawn").Process(target=work_alone, args=(working,))
    process.start()
    return process


def _ask_when_due(working: Working) -> None:
    """Ask for the night's work, from its hour on; whoever comes second asks for nothing."""
    if working.nightly_at is None or working.now().hour < working.nightly_at:
        return
    day = working.clock()
    if _ASKED.get("day") == day:
        return
    book = open_any_book(working.settings, working.clock)
    try:
        ask_for_night(book, day, working.now())
    finally:
        book.store.close()
    _ASKED["day"] = day


_ASKED: dict[str, object] = {}


def work_alone(working: Working) -> None:
    """Take jobs one by one and do them, in this process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _leave)
    book = open_any_book(working.settings, working.clock)
    beat = _Beat(working)
    try:
        while True:
            if one_done(working, book, beat):
                continue
            if working.until_empty:
                return
            time.sleep(LOOKS_EVERY)
    except SystemExit:
        return
    finally:
        beat.end()
        book.store.close()


def _leave(_number: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)


def one_done(working: Working, book: Book, beat: _Beat | None = None) -> bool:
    """Take one job and do it.

    Parameters
    ----------
    working : Working
        How.
    book : Book
        The opened book.
    beat : object or None
        Renews the lease meanwhile; None: nobody does.

    Returns
    -------
    bool
        Whether there was one.
    """
    jobs, settings = jobs_of(book.store), working.settings
    worker, code = f"{platform.node()} {os.getpid()}", machine_kind(settings.strict).mark
    lease = timedelta(seconds=settings.machine_work.lease)
    taken = jobs.take(worker, code, working.now(), lease, 1, working.kinds)
    if not taken:
        return False
    job = taken[0]
    doing = Doing(
        settings, working.clock, working.now(), job.ground, job.arguments,
        partial(jobs.tell, job),
    )  # fmt: skip
    try:
        if beat is not None:
            beat.hold(job)
        result = done_now(job, doing)
    except SystemExit:
        jobs.give_back(job, "its worker was stopped", working.now())
        raise
    except Exception as slip:
        reason = str(slip) if isinstance(slip, SwardbookError) else f"{type(slip).__name__}: {slip}"
        jobs.fail(job, reason, working.now(), _again_at(job, slip, working.now()))
    else:
        jobs.end(job, result, working.now())
    finally:
        if beat is not None:
            beat.let_go()
    return True


def _again_at(job: Job, slip: Exception, now: datetime) -> datetime | None:
    """Say when what failed is tried again; never where it would fail alike."""
    if isinstance(slip, DamagedBookError) or not isinstance(slip, _MAY_PASS):
        return None
    return now + AGAIN_AFTER * (1 << (job.attempt - 1))


class _Beat:
    """Renews the lease of what this process does, until the time of its kind is over.

    It dies with its process: a killed worker is silent, and its lease runs out.
    """

    def __init__(self, working: Working) -> None:
        self._working = working
        self._held: tuple[Job, float] | None = None
        self._lock, self._over = Lock(), Event()
        self._thread = Thread(target=self._renewing, daemon=True)
        self._thread.start()

    def hold(self, job: Job) -> None:
        """Renew the lease of a job from now on."""
        until = time.monotonic() + 60 * kind_of(job.kind).most_minutes
        with self._lock:
            self._held = (job, until)

    def let_go(self) -> None:
        """Renew nothing more."""
        with self._lock:
            self._held = None

    def end(self) -> None:
        """End the renewing."""
        self._over.set()
        self._thread.join()

    def _renewing(self) -> None:
        working = self._working
        lease = working.settings.machine_work.lease
        book = open_any_book(working.settings, working.clock)  # a connection of this thread's own
        try:
            while not self._over.wait(lease / 3):
                self._renew(book, timedelta(seconds=lease))
        finally:
            book.store.close()

    def _renew(self, book: Book, lease: timedelta) -> None:
        with self._lock:
            if self._held is None or time.monotonic() > self._held[1]:
                return
            with suppress(SwardbookError):  # a busy book: the next beat comes in time
                jobs_of(book.store).renew([self._held[0]], self._working.now(), lease)
