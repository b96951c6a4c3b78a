"""Whether a trial speaks for another ground: like for like in height of cut and light."""

from __future__ import annotations

from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone


def unlike(trial: Zone, height_mm: float, sun_hours: float | None) -> tuple[str, ...]:
    """Say in what a trial's ground is not like one that is asked about; empty if it is like.

    What is not known is not taken as alike.

    Parameters
    ----------
    trial : Zone
        The zone of the trial.
    height_mm : float
        Height of cut that is asked about. [mm]
    sun_hours : float or None
        Hours of sun there; None if not known. [h]
    """
    told = []
    times = max(trial.height_of_cut_mm, height_mm) / min(trial.height_of_cut_mm, height_mm)
    if times > value("trial.like_height_ratio"):
        told.append(f"cut at {trial.height_of_cut_mm:g} mm there, {height_mm:g} mm here")
    there = trial.sun_hours
    if there is None or sun_hours is None:
        where = " and ".join(
            word for word, hours in (("there", there), ("here", sun_hours)) if hours is None
        )
        told.append(f"hours of sun not known {where}")
    elif abs(there - sun_hours) > value("trial.like_sun_hours"):
        told.append(f"{there:g} hours of sun there, {sun_hours:g} here")
    return tuple(told)


def conditions(trial: Zone) -> str:
    """Tell under what a trial stands: height of cut, light and soil."""
    sun = "" if trial.sun_hours is None else f", {trial.sun_hours:g} hours of sun"
    return f"cut at {trial.height_of_cut_mm:g} mm{sun}, {trial.soil}"


def trial_zones(ground: Ground) -> tuple[Zone, ...]:
    """List the zones with plots of two mixtures or more that the book has seed lots of."""
    lots = {lot.mixture for lot in ground.lots}
    found = []
    for zone in ground.zones:
        planned = {plot.planned for plot in ground.plots if plot.zone == zone.name}
        if len(planned & lots) > 1:
            found.append(zone)
    return tuple(found)
