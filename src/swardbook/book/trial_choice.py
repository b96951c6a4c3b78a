"""Choose a mixture over several traits of a trial, by one's own weights."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.book.opening import Book
from swardbook.book.side_by_side import SideAsked
from swardbook.book.trial_days import TrialTrait, trial_trait
from swardbook.book.trial_kept import trial_zone
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.trials.choosing import Choice, Wish, choose, means_together
from swardbook.trials.design import UNSOWN
from swardbook.trials.plots import Array
from swardbook.trials.readings import TrialDay, choose_plots


@dataclass(frozen=True, slots=True)
class TrialChoice:
    """A choice over several traits of a trial.

    Parameters
    ----------
    zone : str
        The zone.
    day : date
        The day; the traits were read on it.
    wishes : tuple of Wish
        What was wanted of each trait: the worst and best means found are its ends.
    choice : Choice
        How the mixtures stand.
    plots : int
        Plots on which every trait was read.
    """

    zone: str
    day: date
    wishes: tuple[Wish, ...]
    choice: Choice
    plots: int


def choose_in_trial(book: Book, asked: SideAsked, weights: Mapping[str, float]) -> TrialChoice:
    """Choose over several traits.

    Parameters
    ----------
    book : Book
        The opened book.
    asked : SideAsked
        The trial, the day, and which plots count.
    weights : mapping of str to float
        Trait to its weight; at least two. [-]

    Raises
    ------
    BadInputError
        If there are fewer than two traits.
    NotEnoughDataError
        If mixtures may not be ranked, or the traits were not read on one day.
    """
    if len(weights) < 2:
        raise BadInputError("--weigh", ", ".join(weights), "two traits or more, each TRAIT=WEIGHT")
    ground = book.ground()
    zone = trial_zone(book, asked.zone)
    traits = [trial_trait(ground, zone, name) for name in weights]
    day = asked.day or _common_day(traits)
    days = [trait.day(day) for trait in traits]
    if any(read.are_plants for read in days):
        raise BadInputError("--weigh", "plants", "traits that are no counts of plants")
    chosen = [
        choose_plots(trait.plots, read, asked.how) for trait, read in zip(traits, days, strict=True)
    ]
    common = [plot for plot in chosen[0].plots if all(plot in each.plots for each in chosen)]
    one = choose_plots(common, _only(days[0], {plot.name for plot in common}), asked.how)
    figures = np.array([[read.figures[plot.name] for read in days] for plot in one.plots])
    if int(one.entry.counts.min()) < value("trial.ranked_from"):
        raise NotEnoughDataError(
            "a choice", f"{value('trial.ranked_from'):g} plots of each mixture",
            str(int(one.entry.counts.min())),
        )  # fmt: skip
    block = one.block if len(one.block.levels) > 1 else None
    means, mixtures_by, traits_by = means_together(figures, one.entry, block)
    free = [at for at, name in enumerate(one.entry.levels) if name != UNSOWN]
    wishes = tuple(
        _wish(trait, weight, means[free, at])
        for at, (trait, weight) in enumerate(zip(traits, weights.values(), strict=True))
    )
    names = [one.entry.levels[at] for at in free]
    made = choose(
        names, means[free], mixtures_by[np.ix_(free, free)], traits_by, wishes,
        int(value("trial.choice_draws")),
    )  # fmt: skip
    return TrialChoice(zone, day, wishes, made, len(one.plots))


def _common_day(traits: list[TrialTrait]) -> date:
    shared = set.intersection(*({read.day for read in trait.days} for trait in traits))
    if not shared:
        raise NotEnoughDataError("a choice", "a day on which all traits were read", "none")
    return max(shared)


def _only(read: TrialDay, names: set[str]) -> TrialDay:
    figures = {plot: figure for plot, figure in read.figures.items() if plot in names}
    return TrialDay(read.day, read.label, figures, read.unit, {}, read.counters)


def _wish(trait: TrialTrait, weight: float, means: Array) -> Wish:
    low, high = float(means.min()), float(means.max())
    worst, best = (high, low) if trait.lower_first else (low, high)
    return Wish(trait.words, weight, worst, best)
