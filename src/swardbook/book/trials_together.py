"""Several trials of the same mixtures together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.book.opening import Book
from swardbook.book.side_by_side import SideAsked
from swardbook.book.trial_days import trial_trait
from swardbook.book.trial_kept import trial_zone
from swardbook.evidence import Verdict
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.trials.pair_verdicts import PairSaid, pairs_said
from swardbook.trials.plots import PlotTable
from swardbook.trials.readings import choose_plots
from swardbook.trials.several import SeveralTrials, together


@dataclass(frozen=True, slots=True)
class TrialsTogether:
    """Mixtures over several trials.

    Parameters
    ----------
    zones : tuple of str
        The trials.
    words : str
        What was compared.
    made : SeveralTrials
        Mixtures tested against how they change from trial to trial.
    pairs : tuple of PairSaid
        Every pair of mixtures that all trials have; empty with fewer than three trials.
    lower_first : bool
        Whether less is better.
    unit : str
        Unit of the figures.
    """

    zones: tuple[str, ...]
    words: str
    made: SeveralTrials
    pairs: tuple[PairSaid, ...]
    lower_first: bool
    unit: str

    @property
    def clear(self) -> tuple[PairSaid, ...]:
        """Pairs that are told apart over the trials."""
        return tuple(
            each for each in self.pairs
            if each.verdict in (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL)
        )  # fmt: skip


def trials_together(book: Book, asked: SideAsked, others: Sequence[str]) -> TrialsTogether:
    """Set mixtures side by side over several trials, each at its last count.

    Parameters
    ----------
    book : Book
        The opened book.
    asked : SideAsked
        The first trial, and what is compared.
    others : sequence of str
        The zones of the other trials.

    Raises
    ------
    BadInputError
        If a trial is named twice, or plants were counted.
    NotEnoughDataError
        If trials share fewer than two mixtures, or one has no repeats.
    """
    ground = book.ground()
    zones = tuple(trial_zone(book, zone) for zone in (asked.zone, *others))
    if len(set(zones)) < len(zones):
        raise BadInputError("--with", ", ".join(others), "other trials than the first")
    traits = [trial_trait(ground, zone, asked.trait) for zone in zones]
    if any(trait.days[-1].are_plants for trait in traits):
        raise BadInputError("--with", "plants", "traits that are no counts of plants")
    tables = {}
    for zone, trait in zip(zones, traits, strict=True):
        chosen = choose_plots(trait.plots, trait.days[-1], asked.how)
        names = tuple(plot.name for plot in chosen.plots)
        block = chosen.block if len(chosen.block.levels) > 1 else None
        tables[zone] = PlotTable(names, chosen.entry, chosen.values, block)
    made = together(tables)
    lower = traits[0].lower_first if asked.lower_first is None else asked.lower_first
    smallest = asked.smallest or traits[0].trait.smallest.value
    enough = len(zones) >= value("trial.ranked_from")
    pairs = pairs_said(made.over_trials.means, lower, smallest) if enough else ()
    return TrialsTogether(zones, traits[0].words, made, pairs, lower, traits[0].days[-1].unit)
