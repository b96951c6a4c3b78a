"""Each person's week over all lawns: which on which day, in which order, with hours as ranges."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from swardbook.book.firm import (
    BEGINS,
    WEEKDAYS,
    Worker,
    Yard,
    comes_of,
    find_worker,
    position_of,
    workers_of,
    yard_of,
)
from swardbook.book.lawns_standing import lawns_that_stand
from swardbook.book.opening import Book
from swardbook.handbook.parameters import value
from swardbook.husbandry.positions import Position
from swardbook.planning.days_out import DayOut, Visit, days_out
from swardbook.planning.fit import MACHINE_JOBS
from swardbook.planning.tasks import NO_TIME, HoursRange, Status
from swardbook.planning.travel import Leg, Stop, road_km
from swardbook.records.lawns import LawnRow

WASH = (
    "Machines and boots leave a clean lawn before a weedy one. Where a wash is told: machine, box"
    " and boots before driving on; the box is emptied off the site."
)
_DAYS = 7
_URGENT = 1


@dataclass(frozen=True, slots=True)
class Job:
    """One job at a lawn.

    Parameters
    ----------
    name, kind : str
        As said aloud, and the job it belongs to.
    zones : tuple of str
        Where, the cleanest first.
    status : Status
        Due, waiting for hours, or held off.
    when : str
        Today, or the condition it waits for.
    hours : HoursRange
        How long. [h]
    because : str
        Why it is held off; empty if it is not.
    takes : tuple of str
        With what.
    caution, wrong_if : str
        What goes with it, and what would make it wrong.
    urgency : int
        Order in the list, 0 first.
    is_part : bool
        Whether it is longer than a day, and this is a part of it.
    """

    name: str
    kind: str
    zones: tuple[str, ...]
    status: Status
    when: str
    hours: HoursRange
    because: str
    takes: tuple[str, ...]
    caution: str
    wrong_if: str
    urgency: int
    is_part: bool = False


@dataclass(frozen=True, slots=True)
class Call:
    """One lawn on a day.

    Parameters
    ----------
    slug, name : str
        Which.
    leg : Leg
        Way there, hours, wash.
    jobs, waits : tuple of Job
        What is due, and what waits for hours or is held off.
    hours : HoursRange
        Hours of what is due. [h]
    not_of_now : bool
        Whether something may have changed since it was looked over.
    """

    slug: str
    name: str
    leg: Leg
    jobs: tuple[Job, ...]
    waits: tuple[Job, ...]
    hours: HoursRange
    not_of_now: bool


@dataclass(frozen=True, slots=True)
class PersonDay:
    """One day of somebody.

    Parameters
    ----------
    out : DayOut
        The day, its way and its limit.
    calls : tuple of Call
        The lawns in order.
    hours : HoursRange
        Hours out of the yard, with driving, loading and washing. [h]
    """

    out: DayOut
    calls: tuple[Call, ...]
    hours: HoursRange

    @property
    def may_go_over(self) -> bool:
        """Whether the day is too long if everything takes as long as it may."""
        return self.hours.high > self.out.limit


@dataclass(frozen=True, slots=True)
class Left:
    """A lawn that fits in no day, with its hours [h]."""

    slug: str
    name: str
    hours: HoursRange


@dataclass(frozen=True, slots=True)
class PersonWeek:
    """Somebody's week.

    Parameters
    ----------
    worker : Worker
        Who, with hours and days.
    days : tuple of PersonDay
        Days on which they go out.
    left : tuple of Left
        What fits in no day.
    only_waits : tuple of (str, Job)
        Jobs of lawns where nothing is due, by the lawn's name.
    without_place : tuple of str
        Lawns that come last in their day, for nobody said where they are.
    """

    worker: Worker
    days: tuple[PersonDay, ...]
    left: tuple[Left, ...]
    only_waits: tuple[tuple[str, Job], ...]
    without_place: tuple[str, ...]

    @property
    def hours(self) -> HoursRange:
        """Hours of all days [h]."""
        return sum((each.hours for each in self.days), NO_TIME)


@dataclass(frozen=True, slots=True)
class FirmWeek:
    """The week of a firm.

    Parameters
    ----------
    today : date
        The first day.
    yard : Yard or None
        Where days begin; None where none is named.
    people : tuple of PersonWeek
        Each person's.
    nobodys : tuple of Left
        Lawns with something due where nobody is named.
    unseen : tuple of str
        Lawns that were never looked over, or could not be.
    stale : int
        Lawns that were looked over before something was written, or on another day.
    """

    today: date
    yard: Yard | None
    people: tuple[PersonWeek, ...]
    nobodys: tuple[Left, ...]
    unseen: tuple[str, ...]
    stale: int


def firm_week(book: Book, who: str = "", among: Collection[str] | None = None) -> FirmWeek:
    """Share out the week's jobs of all lawns: who goes where on which day, in which order.

    Jobs and hours are those that each lawn was found to have when it was last looked over. The
    number of questions to the database is always the same.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    who : str
        One person; empty for all.
    among : collection of str or None
        Lawns that whoever asks may see, by short name; None: all.

    Raises
    ------
    UnknownNameError
        If nobody of that name goes out.
    """
    there = book.store.lawns(book.today)
    rows, yard = lawns_that_stand(there, among), yard_of(there)
    lawns = [row for row in rows if yard is None or row.slug != yard.slug]
    workers = workers_of(yard, lawns)
    chosen = (find_worker(workers, who),) if who else workers
    people = tuple(_week_of(each, lawns, yard, book.today) for each in chosen)
    nobodys = [row for row in lawns if not comes_of(row).who and _due(row)]
    return FirmWeek(
        book.today, yard, people,
        tuple(Left(row.slug, row.name, _sum(_due(row))) for row in nobodys),
        tuple(row.name for row in lawns if "week" not in (row.summary or {})),
        sum(row.is_written_since or row.made_for != book.today for row in lawns if row.summary),
    )  # fmt: skip


def people_out(
    book: Book, among: Collection[str] | None = None
) -> tuple[tuple[Worker, int, HoursRange], ...]:
    """List who goes out, with how many lawns they come to and the hours due there [h].

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    among : collection of str or None
        Lawns that whoever asks may see, by short name; None: all.
    """
    lawns = book.store.lawns(book.today)
    rows, found = lawns_that_stand(lawns, among), []
    for each in workers_of(yard_of(lawns), rows):
        own = [row for row in rows if comes_of(row).who.casefold() == each.name.casefold()]
        found.append((each, len(own), sum((_sum(_due(row)) for row in own), NO_TIME)))
    return tuple(found)


def _week_of(
    worker: Worker, lawns: Sequence[LawnRow], yard: Yard | None, today: date
) -> PersonWeek:
    own = [row for row in lawns if comes_of(row).who.casefold() == worker.name.casefold()]
    days = [each for each in (today + timedelta(days=n) for n in range(_DAYS))
            if worker.goes_out_on(each)]  # fmt: skip
    place = yard.position if yard else None
    pieces = {
        visit.stop.name: (row, jobs, visit)
        for row in own
        for visit, jobs in _visits(row, worker.hours, place)
    }
    wanted = [visit for _, _, visit in pieces.values()]
    out, left = days_out(wanted, days, worker.hours, place, yard.begins if yard else BEGINS)
    return PersonWeek(
        worker,
        tuple(_day_of(each, pieces, today) for each in out),
        tuple(Left(row.slug, row.name, _sum(jobs))
              for row, jobs, _ in (pieces[each.stop.name] for each in left)),
        tuple((row.name, job) for row in own if not _due(row) for job in _jobs(row)),
        tuple(row.name for row in own if _due(row) and position_of(row) is None),
    )  # fmt: skip


def _day_of(
    out: DayOut, pieces: Mapping[str, tuple[LawnRow, list[Job], Visit]], today: date
) -> PersonDay:
    calls = []
    for leg in out.way.legs:
        row, jobs, _ = pieces[leg.stop.name]
        waits = tuple(each for each in _jobs(row) if each.status is not Status.DUE)
        is_old = row.is_written_since or row.made_for != today
        calls.append(Call(row.slug, row.name, leg, tuple(jobs), waits, _sum(jobs), is_old))
    done = sum((each.hours for each in calls), NO_TIME)
    beside = out.hours - done.middle
    return PersonDay(out, tuple(calls), HoursRange(done.low + beside, done.high + beside))


def _visits(row: LawnRow, limit: float, yard: Position | None) -> Iterator[tuple[Visit, list[Job]]]:
    """Give the visits of a lawn: one, or several where its jobs are longer than a day."""
    place, comes = position_of(row), comes_of(row)
    there_and_back = 2 * (road_km(yard, place) or 0.0) / value("road_speed_km_h")
    beside = value("visit_overhead_min") / 60
    room = max(limit - there_and_back - beside, 1.0)
    for number, jobs in enumerate(_in_pieces(_due(row), room)):
        machines = any(each.kind in MACHINE_JOBS for each in jobs)
        cleanest, weediest = _weeds(row, jobs)
        stop = Stop(
            row.slug if not number else f"{row.slug} {number + 1}", place,
            _sum(jobs).middle + beside, comes.opens, comes.closes, cleanest, weediest, machines,
        )  # fmt: skip
        yield (
            Visit(
                stop,
                any(each.urgency <= _URGENT for each in jobs),
                _shut(comes.days, row, machines),
            ),
            jobs,
        )


def _shut(days: Sequence[str], row: LawnRow, machines: bool) -> frozenset[int]:
    closed = set((row.summary or {}).get("no_machines_on", ())) if machines else set()
    return frozenset(
        n for n, day in enumerate(WEEKDAYS) if day in closed or (days and day not in days)
    )


def _in_pieces(jobs: Sequence[Job], room: float) -> Iterator[list[Job]]:
    """Part jobs into visits that fit a day; what is longer than a day is done in part."""
    piece: list[Job] = []
    for job in jobs:
        hours = job.hours
        fits = job
        if hours.middle > room:
            part = HoursRange(min(hours.low, room), room)
            fits = replace(job, hours=part, is_part=True)
        if piece and _sum(piece).middle + fits.hours.middle > room:
            yield piece
            piece = []
        piece.append(fits)
    if piece:
        yield piece


def _weeds(row: LawnRow, jobs: Sequence[Job]) -> tuple[float | None, float | None]:
    """Give the least and the most weed share of the zones worked in [-]; most None if unknown."""
    at = {zone for job in jobs for zone in job.zones}
    told = (row.summary or {}).get("weeds", ())
    shares = [share for zone, share in told if zone in at or not at]
    known = [float(each) for each in shares if each is not None]
    if not known:
        return None, None
    return min(known), None if len(known) < len(shares) else max(known)


def _due(row: LawnRow) -> list[Job]:
    return [each for each in _jobs(row) if each.status is Status.DUE]


def _jobs(row: LawnRow) -> list[Job]:
    told = row.summary or {}
    order = {zone: n for n, (zone, _) in enumerate(told.get("weeds", ()))}
    return [
        Job(
            each["name"], each["job"],
            tuple(sorted(each["zones"], key=lambda zone: order.get(zone, len(order)))),
            Status(each["status"]), each["when"], HoursRange(each["low_h"], each["high_h"]),
            each["because"], tuple(each["with"]), each["caution"], each["wrong_if"],
            int(each["urgency"]),
        )
        for each in told.get("week", ())
    ]  # fmt: skip


def _sum(jobs: Sequence[Job]) -> HoursRange:
    return sum((each.hours for each in jobs), NO_TIME)
