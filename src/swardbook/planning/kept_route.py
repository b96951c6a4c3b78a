"""A kept route: which of its jobs are in the diary since, and which comes next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from swardbook.husbandry.happenings import Cut, Happening
from swardbook.planning.routes import JobCost, Route, job_kind, route_costs
from swardbook.planning.situation import Situation


@dataclass(frozen=True, slots=True)
class NextJob:
    """The next job of a route.

    Parameters
    ----------
    route : Route
        The route.
    job : JobCost
        The job, with the hours of all its times.
    kind : str
        The kind of diary entry that tells of it.
    done : int
        How often it was done since the route was kept.
    then : tuple of str
        The jobs after it.
    """

    route: Route
    job: JobCost
    kind: str
    done: int
    then: tuple[str, ...]

    @property
    def name(self) -> str:
        """The job, and which of its times."""
        often = f", {self.done + 1} of {self.job.times:g}" if self.job.times > 1 else ""
        return f"{self.job.job}{often}"


def next_job(sit: Situation, named: Mapping[str, str], since: date) -> NextJob | None:
    """Find the first job of a route that the diary does not have since a day.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    named : mapping of str to str
        What the kept answer named: the route.
    since : date
        The day it was kept for.

    Returns
    -------
    NextJob or None
        None where all of it was done; jobs that no diary entry tells of are named among those
        after it, and end nothing.
    """
    route = next((each for each in Route if each.value == named.get("route")), None)
    if route is None:
        return None
    [cost] = [each for each in route_costs(sit.ground, sit.zone) if each.route is route]
    done = {job.job: _done(sit, job, since) for job in cost.jobs}
    left = [job for job in cost.jobs if done[job.job] < job.times]
    known = [job for job in left if job_kind(job.job)]
    if not known:
        return None
    job = known[0]
    then = tuple(each.job for each in left if each is not job)
    return NextJob(route, job, job_kind(job.job), done[job.job], then)


def _done(sit: Situation, job: JobCost, since: date) -> int:
    kind = job_kind(job.job)
    if not kind:
        return 0
    entries = [
        entry
        for entry in sit.ground.entries(sit.zone.name, kind)
        if entry.when.first >= since and not _is_usual_cut(sit, entry.what)
    ]
    return sum(getattr(entry.what, "passes", 1) * entry.number for entry in entries)


def _is_usual_cut(sit: Situation, what: Happening) -> bool:
    """Tell whether it is a cut that is not noted as lower than the zone's own height."""
    if not isinstance(what, Cut):
        return False
    height = what.height_of_cut_mm
    return height is None or height >= sit.zone.height_of_cut_mm
