"""The night's round of all lawns: asked for once, spread over workers, written as it comes.

It can be stopped at any time and run again: what was written stays, and it goes on with the rest.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from json import loads
from typing import Any, NoReturn
from zlib import crc32

from swardbook.book.machine_kind import MachineKind, machine_kind
from swardbook.book.night import NightTask, NightTold, night_work, packed, read_told
from swardbook.book.opening import Book
from swardbook.feeds.spread import Done, Spread, Task, Work
from swardbook.foundation.errors import RefusedError, SwardbookError
from swardbook.records.extract import Extract, Known, grounds_by_key, store_at, store_of
from swardbook.records.job import Job, NewJob
from swardbook.records.job_list import jobs_of
from swardbook.records.nights import Found, end_night
from swardbook.records.taking_out import extracts_of

KIND = "night"
FEW = 20
"""Up to so many lawns each is looked ahead for as soon as something was written."""
TAKEN = 8
"""Jobs taken at once."""
Now = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class Fault:
    """A lawn that could not be looked over, and why."""

    ground: str
    reason: str


@dataclass(frozen=True, slots=True)
class NightRun:
    """What came of a round.

    Parameters
    ----------
    day : date
        The day it is for.
    lawns : int
        Lawns of the book.
    looked : int
        Those that were looked over in this run.
    before : int
        Those that had been, when it began.
    ahead : int
        Those that were looked ahead for in this run.
    faults : tuple of Fault
        Those that could not be looked over, also from before.
    lost : int
        Leases that were lost: work begun that somebody else had to begin again.
    refused : tuple of str
        Workers of another kind that were given nothing, and in what they differ.
    """

    day: date
    lawns: int
    looked: int
    before: int
    ahead: int
    faults: tuple[Fault, ...]
    lost: int
    refused: tuple[str, ...]

    @property
    def is_well(self) -> bool:
        """Whether there is nothing to look at."""
        return not self.faults and not self.refused


@dataclass(frozen=True, slots=True)
class Means:
    """What a round is done with.

    Parameters
    ----------
    spread : Spread
        The workers.
    worker : str
        Who drives it.
    now : callable
        The time.
    work : callable
        What workers do with a task.
    tell : callable
        Told in words how far it is.
    watch : callable
        Told what each worker gave back.
    is_here : bool
        Whether the workers are on this machine, so that compiled code is shared.
    """

    spread: Spread
    worker: str
    now: Now
    work: Work = night_work
    tell: Callable[[str], None] = lambda _: None
    watch: Callable[[NightTold], None] = lambda _: None
    is_here: bool = True


def nightly(book: Book, means: Means, refused: tuple[str, ...] = ()) -> NightRun:
    """Look over every lawn of the book, and ahead where it is its turn.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    means : Means
        Workers, time, and who is told.
    refused : tuple of str
        Workers that were given nothing, with the reason; passed on.
    """
    return _Round(book, means).go(refused)


@dataclass(frozen=True, slots=True)
class ZoneAhead:
    """What the last night's look-ahead says of a zone.

    Parameters
    ----------
    ground, zone : str
        Where.
    day : str
        The day it is for, as ``2026-11-26``.
    year : str
        The word for next year, by the way of working so far.
    label : str
        What it rests on.
    short : str
        What is missing, where there is none.
    """

    ground: str
    zone: str
    day: str
    year: str
    label: str
    short: str


def looked_ahead(book: Book) -> tuple[ZoneAhead, ...]:
    """Give what the last nights said of next year, zone by zone."""
    found = []
    for job in jobs_of(book.store).last_done(KIND):
        held = job.result or {}
        for zone, told in (held.get("ahead") or {}).items():
            short = told.get("not_enough_data") or told.get("fault") or ""
            year, label = told.get("year", "cannot say"), told.get("label", "")
            found.append(ZoneAhead(job.ground, zone, held["ahead_for"], year, label, short))
    return tuple(found)


def prefix_of(day: date) -> str:
    """Give what the keys of a night's jobs begin with."""
    return f"{KIND} {day.isoformat()} "


@dataclass(frozen=True, slots=True)
class _Held:
    """What is remembered of a lawn while it is under way.

    Parameters
    ----------
    writes : int
        The ground's count of writes when it was read.
    today : date
        Its day.
    draws : int
        Draws of its look-ahead.
    last : mapping
        What its last night left.
    """

    writes: int
    today: date
    draws: int
    last: Mapping[str, Any]


@dataclass
class _Round:
    book: Book
    means: Means
    mine: dict[str, Job] = field(default_factory=dict)
    held: dict[str, _Held] = field(default_factory=dict)
    known: Known = field(default_factory=dict)
    looked: int = 0
    ahead: int = 0
    lost: int = 0

    def __post_init__(self) -> None:
        settings = self.book.settings
        self.jobs = jobs_of(self.book.store)
        self.grounds = grounds_by_key(self.book.store)
        self.prefix = prefix_of(self.book.today)
        self.kind: MachineKind = machine_kind(settings.strict)
        self.lease = timedelta(seconds=settings.machine_work.lease)
        self.renewed = self.means.now()

    def go(self, refused: tuple[str, ...]) -> NightRun:
        wanted = [NewJob(f"{self.prefix}{slug}", KIND, slug, {}) for slug in self.grounds]
        self.jobs.ask(wanted, self.means.now(), self.book.settings.machine_work.attempts)
        before = self.jobs.counts(self.prefix)["done"]
        while True:
            for done in self.means.spread.each(self.means.work, self._tasks()):
                self._renew()
                if done is not None:
                    self._written(done)
                    self.means.tell(f"{before + self.looked} of {len(self.grounds)} lawns")
            left = self.jobs.counts(self.prefix)
            if not left["waiting"] and not left["running"]:
                break
            self.means.tell(f"waiting for {left['running']} that another holds")
            time.sleep(min(1.0, self.lease.total_seconds() / 3))
        failed = self.jobs.listed(["failed"], KIND, starting=self.prefix)
        return NightRun(
            day=self.book.today,
            lawns=len(self.grounds),
            looked=self.looked,
            before=before,
            ahead=self.ahead,
            faults=tuple(Fault(each.ground, each.reason) for each in reversed(failed)),
            lost=self.lost,
            refused=refused,
        )

    def _tasks(self) -> Iterator[Task]:
        """Take jobs, and give each as a task with all that it needs."""
        while taken := self.jobs.take(
            self.means.worker, self.kind.mark, self.means.now(), self.lease, TAKEN, [KIND],
            self.prefix,
        ):  # fmt: skip
            self.lost += sum(each.attempt > 1 and not each.reason for each in taken)
            self.mine |= {job.key: job for job in taken}  # all renewed, also those not begun yet
            # what is held is under way here still: it ran out under our hands
            yield from self._of([job for job in taken if job.key not in self.held])

    def _of(self, jobs: list[Job]) -> Iterator[Task]:
        """Read the lawns of several jobs at once."""
        keys = {job.key: self.grounds[job.ground] for job in jobs}
        found = extracts_of(self.book.store, list(keys.values()), self.known)
        last: dict[str, dict[str, Any]] = {}
        if jobs and self.book.settings.machine_work.days:
            told = self.jobs.last_done(KIND, [job.ground for job in jobs])
            last = {each.ground: dict(each.result or {}) for each in told}
        for job in jobs:
            extract = found[keys[job.key]]
            if isinstance(extract, SwardbookError):
                self._cannot(self.mine.pop(job.key), str(extract))
                continue
            try:
                task = self._task(job, extract, last.get(job.ground, {}))
            except SwardbookError as slip:
                self._cannot(self.mine.pop(job.key), str(slip))
                continue
            yield task

    def _task(self, job: Job, extract: Extract, last: dict[str, Any]) -> Task:
        today = store_of(extract).made_up_today() or self.book.today
        held = _Held(extract.writes, today, self._draws(job, extract, today, last), last)
        self.held[job.key] = held
        settings = self.book.settings
        content = packed(
            NightTask(
                extract, today, self.book.written_on, held.draws, settings.strict, self.kind,
                settings.cache if self.means.is_here else None,
            )
        )  # fmt: skip
        return Task(job.key, content, is_long=held.draws > 0)

    def _draws(self, job: Job, extract: Extract, today: date, last: dict[str, Any]) -> int:
        """Tell how many draws the look-ahead is to have; 0 where it is not its turn."""
        wanted = self.book.settings.machine_work
        if not wanted.days:
            return 0
        if (today.toordinal() + crc32(job.ground.encode())) % wanted.days == 0:
            return wanted.draws
        if len(self.grounds) > FEW:
            return 0
        if not last.get("ahead") or last.get("ahead_writes") != extract.writes:
            return wanted.draws
        is_old = (today - date.fromisoformat(last["ahead_for"])).days >= wanted.days
        return wanted.draws if is_old else 0

    def _renew(self) -> None:
        """Hold on to what is under way, three times in a lease."""
        now = self.means.now()
        if now - self.renewed < self.lease / 3:
            return
        self.renewed = now
        self.jobs.renew(list(self.mine.values()), now, self.lease)

    def _written(self, done: Done) -> None:
        held, job = self.held.pop(done.key), self.mine.pop(done.key)
        if done.result is None:
            self._cannot(job, done.reason)
            return
        told = read_told(done.result)
        self.means.watch(told)
        now = self.means.now()
        if told.unlike:
            self._stop(job, told)
        if end_night(self._store(job), job, self._found(job, held, told), now):
            self.looked += 1
            self.ahead += held.draws > 0

    def _stop(self, job: Job, told: NightTold) -> NoReturn:
        """Stop where a worker turns out to be of another kind: the program was changed since."""
        now = self.means.now()
        for each in (job, *self.mine.values()):
            self.jobs.give_back(each, "the program was changed meanwhile", now)
        raise RefusedError(
            "The night was stopped",
            f"a worker ({told.process}) is {', '.join(told.unlike)}: the program was changed while"
            " it ran.", "Begin workers anew and run it again: it goes on where it was.",
        )  # fmt: skip

    def _found(self, job: Job, held: _Held, told: NightTold) -> Found:
        found = loads(told.text)
        result = {"look": found["look"], "ahead": found["ahead"], "kind": self.kind.mark}
        if held.draws:
            about = {"ahead_for": held.today.isoformat(), "ahead_writes": held.writes,
                     "draws": held.draws}  # fmt: skip
        else:
            names = ("ahead", "ahead_for", "ahead_writes", "draws")
            about = {name: held.last[name] for name in names if name in held.last}
        look = found["look"]
        return Found(look, held.today, held.writes, result | about, look.get("fault", ""))

    def _cannot(self, job: Job, reason: str) -> None:
        """Remember a lawn that could not be looked over with the reason, and go on."""
        store = self._store(job)
        found = Found({"fault": reason}, self.book.today, store.writes(), {}, reason)
        end_night(store, job, found, self.means.now())

    def _store(self, job: Job) -> Any:
        return store_at(self.book.store, self.grounds[job.ground])
