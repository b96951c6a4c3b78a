"""A programme laid on all courses of the weather at once, as the numbers that the model reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.inputs import Operations
from swardbook.model.programmes import Box, Programme, feed_of, rhythm
from swardbook.model.rhythm import Calendar

Count = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Laid:
    """A programme's work.

    Parameters
    ----------
    operations : Operations
        One value a course and day in each field.
    passes : mapping of str to array
        How often each kind of job comes, in each course. [-]
    """

    operations: Operations
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
    verticuts = does.verticuts & (np.arange(shape[1]) >= verticut_from[:, None])
    heads = calendar.heads if plan.box is Box.WITH_HEADS else plan.box is Box.ALWAYS
    dose = feed_of(plan).nitrogen_g_m2 or 0.0 if plan.feeds else 0.0
    touches = plan.verticut_depth_mm >= zone.height_of_cut_mm
    fields: dict[str, Any] = dict.fromkeys(Operations._fields, np.zeros(shape))
    fields |= {
        "cut": does.cuts.astype(np.float64),
        "cut_height": does.cuts * (plan.height_of_cut_mm or zone.height_of_cut_mm),
        "boxed": (does.cuts & heads).astype(np.float64),
        "verticut_soil" if touches else "verticut_blade": verticuts.astype(np.float64),
        "collected": (verticuts & (plan.box is not Box.NEVER)).astype(np.float64),
        "feed": does.feeds * dose,
        "pull_hours": does.pulls * (plan.pull_hours_week / zone.area_m2),
        "refill": does.refills * value("programme.refill_share"),
        "water": does.watered * plan.water_mm,
    }
    counted = {
        "cut": does.cuts, "verticut": verticuts, "feed": does.feeds, "refill": does.refills,
        "water": does.watered,
    }  # fmt: skip
    return Laid(Operations(**fields), {kind: each.sum(axis=1) for kind, each in counted.items()})
