"""A programme laid on all courses at once, against its jobs one by one."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from swardbook.husbandry.ground import Mower, Tolerance, Use, Zone
from swardbook.model.carrying import operations_of
from swardbook.model.chance import Chance
from swardbook.model.inputs import by_days
from swardbook.model.laying import lay
from swardbook.model.operations import stack_operations
from swardbook.model.programmes import Box, Programme, expand, hours_of, programmes, work_hours
from swardbook.model.rhythm import Calendar

FIRST, DAYS, COURSES = date(2011, 10, 9), 500, 3
ZONE = Zone("Court", 400.0, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0, Mower("cylinder"))
DATES = [FIRST + timedelta(days=n) for n in range(DAYS)]
WAVE = 0.5 - 0.5 * np.cos(2 * np.pi * (np.arange(DAYS) + 270) / 365)
NOISE = 0.2 * Chance(("laying",)).normal_rows("growth", COURSES, DAYS)
GROWTH = np.clip(WAVE + NOISE, 0.0, 1.0)
FIT = np.array([0, 40, 250])
WHOLE = programmes()["whole"]
OTHERS = {
    "deep and boxless": replace(WHOLE, verticut_depth_mm=9.0, box=Box.NEVER),
    "fed and watered": replace(
        WHOLE, nitrogen_g_m2_year=7.0, feeds=3, refills=True, water_mm=4.0, box=Box.ALWAYS
    ),
    "higher": replace(WHOLE, height_of_cut_mm=12.0),
}


@pytest.mark.parametrize("plan", [*programmes().values(), *OTHERS.values()])
def test_it_is_the_same_work_as_its_jobs_one_by_one(plan: Programme) -> None:
    found = lay(plan, ZONE, Calendar.of(DATES, GROWTH, 52.0), FIT)
    jobs = []
    for growth, fit in zip(GROWTH, FIT, strict=True):
        first = FIRST + timedelta(days=int(fit))
        planned = expand(plan, ZONE, DATES, growth, 52.0, "annual meadow-grass")
        jobs.append([job for job in planned if job.day >= first or job.what.kind != "verticut"])
    wanted = stack_operations([operations_of(ZONE, each, FIRST, DAYS) for each in jobs])
    for field, name in enumerate(wanted._fields):
        one_by_one = by_days(wanted)[..., field]
        np.testing.assert_array_equal(found.work[..., field], one_by_one, err_msg=name)
    for course, each in enumerate(jobs):
        passes = {kind: float(counts[course]) for kind, counts in found.passes.items()}
        assert hours_of(ZONE, passes, 1.5) == work_hours(ZONE, each, 1.5)


def test_a_rhythm_is_worked_out_once() -> None:
    calendar = Calendar.of(DATES, GROWTH, 52.0)
    assert calendar.cuts(4.0) is calendar.cuts(4.0)
    assert calendar.cuts(4.0) is not calendar.cuts(5.0)
