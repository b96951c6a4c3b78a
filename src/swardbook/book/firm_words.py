"""What the week of a firm says in sentences, for the command, the page and the sheet."""

from __future__ import annotations

from swardbook.book.firm import clock_words
from swardbook.book.firm_week import WASH, Call, FirmWeek, Job, PersonDay, PersonWeek
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter
from swardbook.planning.tasks import HoursRange, Status


def job_words(job: Job) -> str:
    """Say one job: what, where, how long, and the condition it waits for."""
    where = f" ({', '.join(job.zones)})" if job.zones else ""
    if job.status is Status.HELD_OFF:
        return f"{job.name}{where}: held off, {job.because}"
    if job.status is Status.WAITING:
        return f"{job.name}{where}: if there is time, {job.hours.words}"
    part = ", a part of it" if job.is_part else ""
    when = "" if job.when in {"", "today"} else f"; {job.when}"
    return f"{job.name}{where}, {job.hours.words}{part}{when}"


def call_words(call: Call) -> str:
    """Say when somebody is at a lawn, and the way there."""
    leg = call.leg
    way = "way not known" if leg.km is None else f"{leg.km:.0f} km"
    told = f"about {clock_words(leg.arrives + leg.waits)} to {clock_words(leg.leaves)}, {way}"
    if leg.waits > 1 / 12:
        told += f"; opens at {clock_words(leg.arrives + leg.waits)}"
    if leg.late > 0:
        told += "; after it closes"
    return told


def wash_words(call: Call) -> str:
    """Say that a wash comes first; empty where none does."""
    return f"Wash first: {call.leg.wash} is weedier." if call.leg.wash else ""


def day_words(day: PersonDay) -> str:
    """Say how long a day is."""
    if not day.calls:
        return "nothing is due"
    way = day.out.way
    over = "; may go over" if day.may_go_over else ""
    washed = f", {HoursRange(way.wash_h, way.wash_h).words} of washing" if way.wash_h else ""
    drive = HoursRange(way.drive_h, way.drive_h).words if way.drive_h > 1 / 24 else "no time"
    return (
        f"{day.hours.words} out of {day.out.limit:g} h{over}: {way.km:.0f} km,"
        f" {drive} on the road{washed}"
    )


def left_words(week: PersonWeek) -> tuple[str, ...]:
    """Say what fits in no day, what only waits, and which lawns have no place."""
    told = [f"Fits in no day: {each.name}, {each.hours.words}." for each in week.left]
    if week.without_place:
        names = ", ".join(week.without_place)
        told.append(f"Last in their day, for nobody said where they lie: {names}.")
    return tuple(told)


def firm_notes(week: FirmWeek) -> tuple[str, ...]:
    """Say what the week rests on, and what is not known."""
    told = []
    if week.yard is None:
        told.append("No yard is named: a day begins and ends at its first and last lawn.")
    elif week.yard.position is None:
        told.append(f"Where {week.yard.name} lies is not said: the way out and back is left out.")
    if week.nobodys:
        names = ", ".join(each.name for each in week.nobodys[:12])
        more = f" and {len(week.nobodys) - 12} more" if len(week.nobodys) > 12 else ""
        told.append(f"Nobody is named for {names}{more}.")
    if week.unseen:
        many = len(week.unseen)
        told.append(f"{many} never looked over: swardbook all-lawns --look.")
    if week.stale:
        told.append(f"{week.stale} may have changed since they were looked over.")
    winding, speed = parameter("road_winding"), parameter("road_speed_km_h")
    told.append(
        f"Ways are great circles times {winding.value:g} ({winding.low:g} to {winding.high:g}), at"
        f" {speed.value:g} km/h ({speed.low:g} to {speed.high:g}); times are a guide."
    )
    return (*told, WASH)


def cautions_of_day(day: PersonDay) -> tuple[str, ...]:
    """Give the cautions of a day's jobs, each once."""
    every = (job.caution for call in day.calls for job in call.jobs if job.caution)
    return tuple(dict.fromkeys(every))


def head_of(day: PersonDay) -> str:
    """Say which day it is."""
    return say(day.out.day)
