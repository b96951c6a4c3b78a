"""Fit today? Each job with each of its conditions: met, not met or don't know."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter
from swardbook.planning import checks_seedlings as seedlings
from swardbook.planning import checks_site as site
from swardbook.planning import checks_sward as sward
from swardbook.planning import checks_weather as sky
from swardbook.planning.checks_jobs import (
    cut_in_drought,
    feed_season,
    hose_or_cans,
    need_of_water,
    roll_cures_nothing,
    seed_in_hand,
    soil_for_seed,
    washing_off,
    water_wanted,
)
from swardbook.planning.clumps import DIG, dig_season
from swardbook.planning.how import how_to
from swardbook.planning.situation import Situation
from swardbook.planning.states import Condition, Overall, State, add_up, deciding

Check = Callable[[Situation], Condition]

_EVERYDAY = {
    "mow": "cut", "mowing": "cut", "seed": "sow", "overseed": "oversow", "fertilise": "feed",
    "fertilize": "feed", "irrigate": "water", "weed": "pull", "rake": "scarify", "aerate": "tine",
    "topdress": "dress", "walk": "feet",
}  # fmt: skip
"""What a newcomer may say for a job; offered, never taken."""
JOBS: Mapping[str, tuple[Check, ...]] = {
    "cut": (
        site.open_to_machines, sky.frost, sky.wet, seedlings.grass_there, seedlings.first_cut,
        sward.box_or_rake, sky.dry_top, cut_in_drought,
    ),
    "verticut": (
        site.open_to_machines, sky.frost, sky.wet, seedlings.grass_there,
        seedlings.age_for_verticut, seedlings.cuts_for_verticut, seedlings.tug_test,
        sward.box_for_heads, sward.growing_now, sky.drought, sky.heat, sward.patch_disease,
        sward.verticut_rhythm,
    ),
    "scarify": (
        site.open_to_machines, sky.frost, sky.wet, seedlings.grown_for_scarify,
        sward.box_for_heads, sward.opening, sward.growing_strongly, sky.drought, sky.heat,
        sward.patch_disease,
    ),
    "tine": (
        site.open_to_machines, sky.frost, sky.wet, seedlings.grown_for_scarify, sward.opening,
        sward.growing_strongly, sky.drought, sky.heat,
    ),
    "dress": (
        site.open_to_machines, sky.frost, sky.wet, seedlings.cuts_for_brush, sward.growing_now,
        sky.drought, sky.heat, sky.dry_top,
    ),
    "brush": (
        site.open_to_feet, sky.frost, sky.wet, seedlings.cuts_for_brush,
    ),
    "pull": (
        site.open_to_feet, sky.frost, sky.wet_on_foot, seedlings.kneeling, sky.moist, sky.heat,
    ),
    DIG: (
        site.open_to_feet, sky.frost, sky.wet_on_foot, seedlings.kneeling, dig_season, sky.moist,
        sky.heat,
    ),
    "sow": (
        site.open_to_feet, sky.frost, sky.wet, seed_in_hand, soil_for_seed, washing_off,
        need_of_water, sward.light,
    ),
    "oversow": (
        site.open_to_feet, sky.frost, sky.wet, seed_in_hand, soil_for_seed, washing_off,
        need_of_water, sward.light, sward.patch_disease,
    ),
    "feed": (
        site.open_to_feet, sky.frost, sky.wet, seedlings.grass_there, seedlings.cuts_for_feed,
        feed_season, sward.growing_at_all, sky.drought, sky.heat, sward.patch_disease,
    ),
    "water": (hose_or_cans, sky.frost, water_wanted),
    "roll": (
        site.open_to_machines, sky.frost, sky.wet, seedlings.past_tender, sky.drought,
        roll_cures_nothing,
    ),
    "feet": (site.open_to_feet, sky.frost, sky.wet_on_foot),
    "play": (site.open_to_play, sky.frost, sky.wet, seedlings.ready_for_play, seedlings.tug_test),
}  # fmt: skip
MACHINE_JOBS = ("cut", "verticut", "scarify", "tine", "dress", "brush", "roll")


@dataclass(frozen=True, slots=True)
class Fit:
    """One job in one zone today.

    Parameters
    ----------
    job, zone : str
        What and where.
    overall : Overall
        Fit, look first, or not fit.
    conditions : tuple of Condition
        Every condition with its state and the record it came from.
    loses_to : str
        The rule that decides, if the job is not fit.
    waits_for : tuple of str
        What the job waits for, as conditions; no forecast is made up.
    note : str
        How to do it, where something must be told.
    """

    job: str
    zone: str
    overall: Overall
    conditions: tuple[Condition, ...]
    loses_to: str
    waits_for: tuple[str, ...]
    note: str

    def condition(self, name: str) -> Condition:
        """Find one condition by name.

        Raises
        ------
        UnknownNameError
            If the job has no such condition.
        """
        for each in self.conditions:
            if each.name == name:
                return each
        raise UnknownNameError("condition", name, [each.name for each in self.conditions])

    @property
    def deciding(self) -> tuple[Condition, ...]:
        """The conditions that decide, strongest rule first."""
        return deciding(self.conditions)


def fit_today(sit: Situation, job: str) -> Fit:
    """Check whether a job is fit to be done in a zone today.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    job : str
        One of `JOBS`.

    Raises
    ------
    UnknownNameError
        If there is no such job; offers the nearest.
    """
    if job not in JOBS:
        if meant := _EVERYDAY.get(job):
            raise BadInputError("the job", job, ", ".join(JOBS), f"Did you mean {meant}?")
        raise UnknownNameError("job", job, JOBS)
    conditions = tuple(check(sit) for check in JOBS[job])
    overall = add_up(conditions)
    against = deciding(conditions)
    loses = f"{against[0].name}: {against[0].because}" if against else ""
    waits = tuple(dict.fromkeys(each.until for each in against if each.until))
    return Fit(
        job, sit.zone.name, overall, conditions, loses if overall is Overall.NOT_FIT else "",
        waits, how_to(sit, job),
    )  # fmt: skip


def fit_workings(fit: Fit, sit: Situation) -> Workings:
    """Show how a job came to be fit, not fit, or worth a look."""
    keys = dict.fromkeys(each.threshold for each in fit.conditions if each.threshold)
    return Workings(
        question=f"Is it fit to {fit.job} {fit.zone} on {say(sit.today)}?",
        answer=fit.overall.value,
        formula="not fit if one condition that blocks is not met; look first if any other"
        " is open; fit if all are met",
        inputs=tuple(Input.of(key.replace("_", " "), parameter(key)) for key in keys),
        arithmetic=tuple(
            f"{each.name}: {each.state.value} ({each.because};"
            f" {each.source or 'no record'}; rule: {each.rank.value})"
            for each in fit.conditions
        ),
        assumptions=("What nobody has noted and no weather tells counts as don't know.",),
    )


def stops_today(sit: Situation) -> tuple[Condition, ...]:
    """Give what keeps machines or people off the zone today.

    Closures, frost and wet ground also where they are not known; drought and heat, which stop most
    jobs, where they are there.
    """
    found = [check(sit) for check in (site.open_to_machines, sky.frost, sky.wet)]
    strain = [check(sit) for check in (sky.drought, sky.heat)]
    return (
        *(each for each in found if each.state is not State.MET),
        *(each for each in strain if each.state is State.NOT_MET),
    )
