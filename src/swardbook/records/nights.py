"""What a night found of a lawn, written with the end of its job: both of them or neither."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from swardbook.records.chain import canonical
from swardbook.records.guard import guarded
from swardbook.records.job import Job
from swardbook.records.looking import require_writable
from swardbook.records.store import Store


@dataclass(frozen=True, slots=True)
class Found:
    """What a night found of one lawn.

    Parameters
    ----------
    look : mapping
        What the listing of all lawns remembers of it.
    day : date
        The day it is for.
    writes : int
        The ground's count of writes from before.
    result : mapping
        What is kept with the job.
    fault : str
        Why it could not be looked over; empty where it was.
    """

    look: Mapping[str, Any]
    day: date
    writes: int
    result: Mapping[str, Any]
    fault: str = ""


def end_night(store: Store, held: Job, found: Found, now: datetime) -> bool:
    """Write what was found of a ground, and end its job; False where another holds it by now."""
    from swardbook.records.jobs import Jobs

    require_writable()
    jobs, rows = Jobs(store._rows.alias, store._where), store._rows
    with guarded(store._where), rows.transaction():
        if found.fault:
            is_held = jobs.fail(held, found.fault, now)
        else:
            is_held = jobs.end(held, found.result, now)
        if is_held:
            rows.put_summary(found.day, found.writes, canonical(dict(found.look)))
    return is_held
