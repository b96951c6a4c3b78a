"""``swardbook firm week``: each person's week over all lawns."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.firm_week import Call, FirmWeek, Job, PersonDay, PersonWeek


@click.command()
@click.option("--who", default="", help="One person; none: everybody.")
@click.option("--to", "path", type=click.Path(path_type=Path), default=None, metavar="FILE.pdf",
              help="Write one person's week as a PDF: a page for each day out.")  # fmt: skip
@door_options
def week(door: Door, who: str, path: Path | None) -> None:
    """Share out the week: who goes where on which day, in which order, with hours as ranges.

    What is due at each lawn is what it was found to have when last looked over. Cleaner lawns come
    before weedier ones unless the way round costs more than a wash.
    """
    from swardbook.book.firm_sheet import check_week_place, save_week
    from swardbook.book.firm_week import firm_week
    from swardbook.book.firm_words import firm_notes
    from swardbook.foundation.errors import BadInputError

    if path is not None:
        check_week_place(path)
        if not who:
            raise BadInputError("--who", "nothing", "the person whose sheet it is")
    book = door.any_book()
    found = firm_week(book, who)
    lines = [line for each in found.people for line in _person(each)]
    lines = lines or ["Nobody is named yet: swardbook firm comes GROUND --who NAME"]
    lines += ["", *(line for told in firm_notes(found) for line in under("", told, 0))]
    if path is not None:
        save_week(path, found, book)
        lines += ["", f"Sheet: {path}."]
    door.show({**payload(found), "file": str(path) if path else None}, lines, book)


def _person(found: PersonWeek) -> list[str]:
    from swardbook.book.firm_words import job_words, left_words

    lines = heading(f"{found.worker.name}: {found.hours.words} this week")
    for day in found.days:
        lines += _day(day)
    lines += [line for told in left_words(found) for line in under("", told, 0)]
    for lawn, job in found.only_waits:
        lines += under(job.status.shape, f"{lawn}: {job_words(job)}")
    return [*lines, ""]


def _day(day: PersonDay) -> list[str]:
    from swardbook.book.firm_words import (
        call_words,
        cautions_of_day,
        day_words,
        head_of,
        job_words,
        wash_words,
    )

    lines = under("", f"{head_of(day)}: {day_words(day)}.", 0)
    for number, call in enumerate(day.calls, 1):
        if washed := wash_words(call):
            lines += under("!", washed)
        old = " ~" if call.not_of_now else ""
        lines += under(f"{number}.", f"{call.name}{old}: {call_words(call)}.")
        for job in (*call.jobs, *call.waits):
            lines += under(job.status.shape, f"{job_words(job)}.", 5)
    return [*lines, *(line for each in cautions_of_day(day) for line in under("Mind:", each)), ""]


def payload(found: FirmWeek) -> dict[str, Any]:
    """Give the one object."""
    return {
        "yard": None if found.yard is None else found.yard.slug,
        "people": [_person_payload(each) for each in found.people],
        "nobody_named_for": [each.slug for each in found.nobodys],
        "never_looked_over": list(found.unseen),
        "not_of_now": found.stale,
    }


def _person_payload(found: PersonWeek) -> dict[str, Any]:
    return {
        "name": found.worker.name,
        "hours_a_day": found.worker.hours,
        "hours_low": round(found.hours.low, 2),
        "hours_high": round(found.hours.high, 2),
        "days": [_day_payload(each) for each in found.days],
        "fits_in_no_day": [each.slug for each in found.left],
        "only_waits": [{"lawn": lawn, **_job_payload(job)} for lawn, job in found.only_waits],
        "without_place": list(found.without_place),
    }


def _day_payload(day: PersonDay) -> dict[str, Any]:
    way = day.out.way
    return {
        "day": day.out.day.isoformat(),
        "hours_low": round(day.hours.low, 2),
        "hours_high": round(day.hours.high, 2),
        "may_go_over": day.may_go_over,
        "way_km": round(way.km, 1),
        "driving_h": round(way.drive_h, 2),
        "washing_h": round(way.wash_h, 2),
        "lawns": [_call_payload(each) for each in day.calls],
    }


def _call_payload(call: Call) -> dict[str, Any]:
    leg = call.leg
    return {
        "ground": call.slug,
        "way_km": None if leg.km is None else round(leg.km, 1),
        "arrives_h": round(leg.arrives + leg.waits, 2),
        "leaves_h": round(leg.leaves, 2),
        "after_closing_h": round(leg.late, 2),
        "wash_after": leg.wash or None,
        "not_of_now": call.not_of_now,
        "jobs": [_job_payload(each) for each in (*call.jobs, *call.waits)],
    }


def _job_payload(job: Job) -> dict[str, Any]:
    return {
        "job": job.kind, "name": job.name, "zones": list(job.zones), "status": job.status.value,
        "when": job.when, "hours_low": round(job.hours.low, 2),
        "hours_high": round(job.hours.high, 2), "held_off_because": job.because or None,
        "with": list(job.takes), "is_part": job.is_part,
    }  # fmt: skip
