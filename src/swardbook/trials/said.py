"""What one trait on one day lets one say of the mixtures, pair by pair."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median

import numpy as np

from swardbook.evidence import Verdict
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Plot
from swardbook.trials.analysis import Analysis, analyse_after, is_complete
from swardbook.trials.analysis import analyse as analyse_table
from swardbook.trials.chances import Chance, best_chances
from swardbook.trials.design import Kind
from swardbook.trials.dunnett import AgainstControl, against_control
from swardbook.trials.glm import count_model, share_model
from swardbook.trials.means import Means
from swardbook.trials.ordinal import null_scores
from swardbook.trials.pair_verdicts import PairSaid, pairs_said
from swardbook.trials.pairs import all_pairs, group_marks
from swardbook.trials.permuting import Shuffled, shuffle_within_blocks
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.readings import Chosen, Taken, TrialDay, choose_plots
from swardbook.trials.shares import judged_by_level
from swardbook.trials.strata import SplitPlot, split_plot

DAYS_A_MONTH = 30.4375
RATING = "1-9"


@dataclass(frozen=True, slots=True)
class Asked:
    """How mixtures are set side by side.

    Parameters
    ----------
    smallest : float
        Smallest difference worth acting on; a logarithm for plants. [unit, or log ratio]
    lower_first : bool
        Whether less is better.
    controls : tuple of str
        What is there to compare with and not to choose: the unsown plots.
    sown_on : date or None
        Day of the first sowing.
    kind : Kind
        How plots were shuffled.
    is_shuffled : bool
        Whether chance alone chose the plan.
    uneven_care : tuple of str
        Care that plots did not get alike, in words.
    how : Taken
        Which plots count.
    """

    smallest: float
    lower_first: bool
    controls: tuple[str, ...] = ()
    sown_on: date | None = None
    kind: Kind = Kind.BLOCKS
    is_shuffled: bool = True
    uneven_care: tuple[str, ...] = ()
    how: Taken = Taken.AS_PLANNED


@dataclass(frozen=True, slots=True)
class SecondOpinion:
    """What a model made for this kind of figure says of mixtures, its scores shuffled.

    Parameters
    ----------
    model : str
        Which model.
    shuffled : Shuffled
        What luck alone would show.
    """

    model: str
    shuffled: Shuffled


@dataclass(frozen=True, slots=True)
class DaySaid:
    """One trait on one day.

    Parameters
    ----------
    read : TrialDay
        What was read.
    chosen : Chosen
        Which plots count.
    means : Means
        Adjusted means; logarithms for plants. [unit, or log]
    marks : tuple of str
        Group marks: two that share one are not told apart.
    pairs : tuple of PairSaid
        Every pair; empty where too little is known.
    refusals : tuple of str
        Why mixtures are described and not ranked; empty if they may be.
    chances : tuple of Chance
        Of being best, allowing for all pairs as verdicts do; without controls, and only where they
        may be ranked.
    level : tuple of str
        Mixtures not told apart from the best one found, by name.
    months : float or None
        From the sowing. [months]
    analysis : Analysis or None
        Of variance; None for plants and split plots.
    split : SplitPlot or None
        Of a split plot.
    shuffled : Shuffled or None
        What luck alone would show.
    against : AgainstControl or None
        Each against the first control.
    second : SecondOpinion or None
        What a model of points or of ratings in steps says, where there is one.
    """

    read: TrialDay
    chosen: Chosen
    means: Means
    marks: tuple[str, ...]
    pairs: tuple[PairSaid, ...]
    refusals: tuple[str, ...]
    chances: tuple[Chance, ...]
    level: tuple[str, ...]
    months: float | None
    analysis: Analysis | None
    split: SplitPlot | None
    shuffled: Shuffled | None
    against: AgainstControl | None
    second: SecondOpinion | None

    @property
    def is_so_far(self) -> bool:
        """Whether it is too early for an end state."""
        return self.months is not None and self.months < value("trial.end_state_months")

    def pair(self, one: str, two: str) -> PairSaid:
        """Find a pair, whichever of the two is first.

        Raises
        ------
        NotEnoughDataError
            If pairs are not set side by side on that day.
        """
        wanted = frozenset(self.means.names[self.means.place(n)] for n in (one, two))
        for each in self.pairs:
            if each.names() == wanted:
                return each
        raise NotEnoughDataError(f"{one} and {two}", "repeats of both", "too few")


def say_day(plots: Sequence[Plot], read: TrialDay, asked: Asked) -> DaySaid:
    """Set the mixtures of a trial side by side on one day.

    Parameters
    ----------
    plots : sequence of Plot
        The plots.
    read : TrialDay
        What was read on them.
    asked : Asked
        How they are compared.

    Raises
    ------
    NotEnoughDataError
        If no repeat shows how much plots differ: describe them instead.
    """
    chosen = choose_plots(plots, read, asked.how)
    _require_spread(chosen)
    means, analysis, split, scores = _means(chosen, read, asked)
    pairs = all_pairs(means)
    refusals = _refusals(chosen, means, asked)
    said = () if refusals else pairs_said(means, asked.lower_first, asked.smallest)
    free = [at for at, name in enumerate(means.names) if name not in asked.controls]
    few, draws = int(value("trial.best_few")), int(value("trial.choice_draws"))
    wider = median([each.needed / each.needed_planned for each in said]) if said else 1.0
    chances = (
        best_chances(means.only(free), asked.lower_first, few, draws, wider=wider)
        if said and len(free) > 1 else ()
    )  # fmt: skip
    months = None if asked.sown_on is None else (read.day - asked.sown_on).days / DAYS_A_MONTH
    return DaySaid(
        read, chosen, means, tuple(group_marks(means, pairs.p, asked.lower_first)), said, refusals,
        chances, _level(means, said, asked), months, analysis, split,
        _luck(chosen, scores, split), _against(means, asked),
        None if split is not None else second_opinion(chosen, read),
    )  # fmt: skip


def pairs_of(
    plots: Sequence[Plot], read: TrialDay, asked: Asked
) -> tuple[Means, tuple[PairSaid, ...]]:
    """Give the means and the pairs of a day alone, without chances and shuffles.

    Parameters
    ----------
    plots : sequence of Plot
        The plots.
    read : TrialDay
        What was read on them.
    asked : Asked
        How they are compared.

    Raises
    ------
    NotEnoughDataError
        If no repeat shows how much plots differ.
    """
    chosen = choose_plots(plots, read, asked.how)
    _require_spread(chosen)
    means = _means(chosen, read, asked)[0]
    if _refusals(chosen, means, asked):
        return means, ()
    return means, pairs_said(means, asked.lower_first, asked.smallest)


def _means(
    chosen: Chosen, read: TrialDay, asked: Asked
) -> tuple[Means, Analysis | None, SplitPlot | None, Array]:
    """Analyse by the design: the means, and what a shuffle tests."""
    block = chosen.block if len(chosen.block.levels) > 1 else None
    treatments = [plot.treatment for plot in chosen.plots]
    if any(treatments) and block is not None:
        within = Factor.of("within", treatments)
        split = split_plot(chosen.values, block, chosen.entry, within)
        means = _judged(
            split.whole, chosen, read, lambda y: split_plot(y, block, chosen.entry, within).whole
        )
        return means, None, split, chosen.values
    if read.are_plants:
        areas = np.array([read.areas[plot.name] for plot in chosen.plots])
        model = count_model(np.round(chosen.values * areas), chosen.entry, block, areas)
        return model.means, None, None, model.scores

    def made_of(figures: Array) -> Analysis:
        if asked.kind in (Kind.LATIN, Kind.ROW_COLUMN) and all(p.row for p in chosen.plots):
            row = Factor.of("row", [plot.row for plot in chosen.plots])
            column = Factor.of("column", [plot.column for plot in chosen.plots])
            return analyse_after(figures, chosen.entry, (row, column), asked.kind.value)
        names = tuple(plot.name for plot in chosen.plots)
        return analyse_table(PlotTable(names, chosen.entry, figures, block))

    made = made_of(chosen.values)
    means = _judged(made.means, chosen, read, lambda y: made_of(y).means)
    return means, made, None, chosen.values


def _judged(means: Means, chosen: Chosen, read: TrialDay, again: Callable[[Array], Means]) -> Means:
    """Let shares counted by points have the error of their level."""
    if not read.points:
        return means
    points = np.array([read.points[plot.name] for plot in chosen.plots])
    return judged_by_level(means, chosen.values, points, again)


def _require_spread(chosen: Chosen) -> None:
    """Refuse plots of which none, sown alike, differ: nothing shows how much plots differ."""
    if not len(chosen.values):
        raise NotEnoughDataError("a comparison", "plots that were read and count", "none")
    alike = np.array([chosen.values[chosen.entry.codes == at].std() for at in
                      range(len(chosen.entry.levels))])  # fmt: skip
    if not (alike > 0).any():
        raise NotEnoughDataError(
            "a comparison", "plots sown alike that differ, to show how much plots differ", "none"
        )


def _refusals(chosen: Chosen, means: Means, asked: Asked) -> tuple[str, ...]:
    found = []
    least = int(value("trial.ranked_from"))
    enough = [int(count) >= least for count in means.plots]
    if asked.kind is Kind.AUGMENTED:
        enough = [any(enough)]
    if not all(enough):
        few = [n for n, ok in zip(means.names, enough, strict=False) if not ok]
        found.append(
            f"Described, not ranked: fewer than {least} plots of {', '.join(few) or 'any check'}."
        )
    if asked.kind is Kind.SINGLE or not asked.is_shuffled:
        found.append("Described, not ranked: the places were chosen, not shuffled.")
    if asked.uneven_care:
        told = "; ".join(asked.uneven_care)
        found.append(f"Described, not ranked: care was not alike ({told}).")
    return tuple(found)


def _level(means: Means, pairs: Sequence[PairSaid], asked: Asked) -> tuple[str, ...]:
    """Give the mixtures that no needed gap parts from the best found; in the order of names."""
    free = [means.names[at] for at in means.ordered(asked.lower_first)]
    free = [name for name in free if name not in asked.controls]
    if not pairs or not free:
        return ()
    told_apart = {
        each.names() for each in pairs if each.verdict in (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL)
    }
    return tuple(sorted(n for n in free if frozenset((free[0], n)) not in told_apart))


def _luck(chosen: Chosen, scores: Array, split: SplitPlot | None) -> Shuffled | None:
    if split is not None or chosen.block.counts.max() < 2:
        return None
    block = chosen.block if len(chosen.block.levels) > 1 else None
    return shuffle_within_blocks(scores, chosen.entry, block, int(value("trial.shuffles")))


def second_opinion(chosen: Chosen, read: TrialDay) -> SecondOpinion | None:
    """Ask a model of points, or of ratings in steps, whose assumptions are others.

    Ratings wait for so many blocks that their model is stable.
    """
    block = chosen.block if len(chosen.block.levels) > 1 else None
    try:
        if read.points:
            points = np.array([read.points[plot.name] for plot in chosen.plots])
            hits = np.round(chosen.values * points / 100)
            model, scores = "points (beta-binomial)", share_model(
                hits, points, chosen.entry, block
            ).scores  # fmt: skip
        elif read.unit == RATING and len(chosen.block.levels) >= value("trial.ordinal_blocks"):
            steps = np.unique(chosen.values, return_inverse=True)[1]
            model, scores = "ratings in steps (cumulative logit)", null_scores(steps, block)
        else:
            return None
        return SecondOpinion(model, shuffle_within_blocks(
            scores, chosen.entry, block, int(value("trial.shuffles"))
        ))  # fmt: skip
    except NotEnoughDataError:
        return None


def _against(means: Means, asked: Asked) -> AgainstControl | None:
    control = next((name for name in asked.controls if name in means.names), None)
    return None if control is None else against_control(means, control)


def is_balanced(chosen: Chosen) -> bool:
    """Tell whether every mixture stands once in every block."""
    return is_complete(chosen.entry, chosen.block)
