"""A programme laid on all courses of the weather at once, as the numbers that the model reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.inputs import Operations, Single
from swardbook.model.programmes import Box, Programme, feed_of, rhythm
from swardbook.model.rhythm import Calendar, Flags

Count = NDArray[np.int64]


FIELD = {name: number for number, name in enumerate(Operations._fields)}
"""Where each field of the work stands."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A programme's work.

    Parameters
    ----------
    work : array
        Every field of every day: (courses, days, fields). [units of the fields of `Operations`]
    passes : mapping of str to array
        How often each kind of job comes, in each course. [-]
    """

    work: Single
    passes: Mapping[str, Count]


def lay(plan: Programme, zone: Zone, calendar: Calendar, verticut_from: Count) -> Laid:
    """Lay a programme on the days of each course, just as its jobs one by one would be.

    Parameters
    ----------
    plan : Programme
        The programme, already fitted to the zone.
    zone : Zone
        Where it is worked.
    calendar : Calendar
        The days ahead.
    verticut_from : array of int
        Of each course, the day on which seedlings are old enough for a verticut. [d]
    """
    does, shape = rhythm(plan, zone, calendar), calendar.growth.shape
    work, passes = np.zeros((*shape, len(FIELD)), np.float32), {}

    def put(name: str, flags: Flags, amount: float = 1.0, kind: str = "") -> None:
        if kind:
            passes[kind] = flags.sum(axis=1)
        work[..., FIELD[name]][flags] = amount

    verticuts = does.verticuts & (np.arange(shape[1]) >= verticut_from[:, None])
    put("cut", does.cuts, kind="cut")
    put("cut_height", does.cuts, plan.height_of_cut_mm or zone.height_of_cut_mm)
    if plan.box is not Box.NEVER:
        put("boxed", does.cuts & (plan.box is Box.ALWAYS or calendar.heads))
        put("collected", verticuts)
    touches = plan.verticut_depth_mm >= zone.height_of_cut_mm
    put("verticut_soil" if touches else "verticut_blade", verticuts, kind="verticut")
    put("feed", does.feeds, feed_of(plan).nitrogen_g_m2 or 0.0 if plan.feeds else 0.0, "feed")
    put("pull_hours", does.pulls, plan.pull_hours_week / zone.area_m2)
    put("refill", does.refills, value("programme.refill_share"), "refill")
    put("water", does.watered, plan.water_mm, "water")
    return Laid(work, passes)
