"""Care that the plots of a trial got, each counted, so that unequal care shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.book.worked_out import last_answer
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    Brush,
    Cut,
    Dress,
    Feed,
    PlotCare,
    Pull,
    Roll,
    Scarify,
    Sow,
    Tine,
    Verticut,
    Water,
)

CARE = (Cut, Water, Feed, Verticut, Scarify, Tine, Dress, Brush, Roll, Pull)
"""What is care; a sowing is what is compared."""
SET_OUT = "trial set-out"
"""The question under which a trial's plan is kept."""


@dataclass(frozen=True, slots=True)
class PlotJob:
    """How often each plot got one kind of care.

    Parameters
    ----------
    job : str
        Kind of the diary entries.
    times : dict of str to int
        Plot to how often.
    """

    job: str
    times: dict[str, int]

    @property
    def is_even(self) -> bool:
        """Whether all plots got it alike."""
        return len(set(self.times.values())) <= 1

    @property
    def words(self) -> str:
        """Tell how often, and which plots stand apart."""
        number = sorted(self.times.values())
        usual = max(set(number), key=number.count)
        if self.is_even:
            return f"{self.job}: {usual} times on every plot"
        apart: dict[int, list[str]] = {}
        for plot, times in self.times.items():
            if times != usual:
                apart.setdefault(times, []).append(plot)
        told = ", ".join(f"{times} on {_few(plots)}" for times, plots in sorted(apart.items()))
        return f"{self.job}: {usual} times on most plots, {told}"


def care_by_plot(ground: Ground, zone: str, plots: Sequence[str]) -> tuple[PlotJob, ...]:
    """Count the care of each plot since the trial was sown: the zone's, and the plots' own.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    zone : str
        The zone of the trial.
    plots : sequence of str
        Names of its plots.
    """
    since = sown_on(ground, zone)
    found: dict[str, dict[str, int]] = {}
    for entry in ground.entries(zone):
        if entry.zone != zone or (since is not None and entry.day < since):
            continue
        job, cared_for = _cared_for(entry, plots)
        if job:
            times = found.setdefault(job, dict.fromkeys(plots, 0))
            for plot in cared_for:
                times[plot] += entry.number
    return tuple(PlotJob(job, times) for job, times in found.items())


def uneven_care(ground: Ground, zone: str, plots: Sequence[str]) -> tuple[str, ...]:
    """Tell the care that was not alike on all plots, in words."""
    return tuple(job.words for job in care_by_plot(ground, zone, plots) if not job.is_even)


def sown_on(ground: Ground, zone: str) -> date | None:
    """Give the day a zone's trial was first sown, since its plan was kept; None before that."""
    kept = last_answer(ground, SET_OUT, zone)
    since = kept.day if kept is not None else date.min
    days = [
        entry.day for entry in ground.entries(zone, Sow.kind)
        if entry.zone == zone and entry.day >= since
    ]  # fmt: skip
    return min(days, default=None)


def _cared_for(entry: DiaryEntry, plots: Sequence[str]) -> tuple[str, Sequence[str]]:
    what = entry.what
    if isinstance(what, PlotCare):
        own = {name.casefold() for name in what.plots}
        return what.job, [plot for plot in plots if plot.casefold() in own]
    return (what.kind, plots) if isinstance(what, CARE) else ("", ())


def _few(plots: Sequence[str]) -> str:
    if len(plots) <= 4:
        return ", ".join(plots)
    return f"{', '.join(plots[:3])} and {len(plots) - 3} more"
