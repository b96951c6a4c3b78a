"""How mixtures side by side were judged: the table, the needed gaps, the pairs, the chances."""

from __future__ import annotations

from math import sqrt

import numpy as np

from swardbook.book.compiled import kernel_of
from swardbook.book.opening import Book
from swardbook.book.said import listed
from swardbook.book.side_by_side import WEED, SideAsked, SideBySide, side_by_side
from swardbook.book.side_figures import gap_words
from swardbook.book.trial_kept import trial_zone
from swardbook.book.trial_learned_words import learned_workings
from swardbook.book.trial_learning import learn_from_trial
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.provenance import Grade
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter, value
from swardbook.trials.pair_verdicts import PairSaid
from swardbook.trials.said import DaySaid

_FACES = 12
"""Pairs whose arithmetic is written out; the others are counted."""
RULES = (
    "clear: the 95 % range leaves out nought and the gap is at least the smallest that matters;"
    " clear but small: it is less; as good as equal: the 90 % range lies within the smallest that"
    " matters; leaning: only the 80 % range leaves out nought; too close to call: none of these"
)


def side_workings(book: Book, zone: str = "", kind: str = "") -> tuple[Workings, ...]:
    """Open the answer of a trial: what its plots say, pair by pair.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial; none where only one has a trial.
    kind : str
        What is compared; none takes annual meadow-grass.

    Raises
    ------
    NotEnoughDataError
        If nothing is repeated.
    """
    found = side_by_side(book, SideAsked(zone, kind or WEED))
    said = found.said
    if said is None:
        raise NotEnoughDataError(f"workings of {found.zone}", "plots that are repeated", "none")
    return (_table(found, said), _gaps(found, said), _pairs(found, said), _chances(found, said))


def lesson_workings(book: Book, zone: str = "") -> tuple[Workings, ...]:
    """Open what a trial teaches the model of its ground.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial; none where only one has a trial.
    """
    kernel = kernel_of(book.settings, lambda _: None)
    return (learned_workings(learn_from_trial(book, trial_zone(book, zone), kernel)),)


def _question(found: SideBySide, said: DaySaid, what: str) -> str:
    return f"{what} {found.trait.words}, {found.zone}, {say(said.read.day)}"


def _table(found: SideBySide, said: DaySaid) -> Workings:
    made = said.analysis
    plots = said.chosen.plots
    inputs = (
        Input("plots that count", len(plots), "", Grade.MEASURED, f"count of {said.read.day}"),
        Input("plots left out", len(said.chosen.left_out), "", Grade.MEASURED, "the diary"),
        Input("mixtures", len(said.means.names), "", Grade.MEASURED, "the plan and its mix-ups"),
        Input("blocks", len(said.chosen.block.levels), "", Grade.MEASURED, "the plan"),
    )
    question = _question(found, said, "Do mixtures differ in")
    if made is None:
        model = "split plot, by strata" if said.split is not None else "negative binomial, log link"
        return Workings(question, f"by {model}", inputs=inputs, assumptions=_taken(said))
    lines = [
        f"{each.line.term}: sum of squares {each.line.ss:.4g} / {each.line.df} ="
        f" {each.line.ss / each.line.df:.4g}; F = {each.line.ss / each.line.df:.4g} /"
        f" {made.error.ms:.4g} = {each.f:.2f}, p {each.p:.4g}"
        for each in made.lines
    ]
    error = made.error
    lines.append(f"error: {error.ss:.4g} / {error.df} = {error.ms:.4g}; spread from plot to plot"
                 f" √{error.ms:.4g} = {made.spread:.3g}")  # fmt: skip
    if said.shuffled is not None:
        lines.append(f"shuffled within blocks {said.shuffled.shuffles:,} times: p"
                     f" {said.shuffled.p:.4g}")  # fmt: skip
    return Workings(
        question, f"F {made.entries.f:.2f}, p {made.entries.p:.2g}",
        "F = mean square of mixtures, adjusted for blocks / mean square of error", inputs,
        tuple(lines), _taken(said),
    )  # fmt: skip


def _taken(said: DaySaid) -> tuple[str, ...]:
    told = [
        "The plot is the unit: frames of one plot come together to their mean first.",
        "Plots were shuffled within blocks; the shuffle above needs no other assumption.",
    ]
    if said.means.by_level is not None:
        told.append("Cover was counted by points: errors of pairs are those of angles, so that they"
                    " go with the cover (Bliss 1937).")  # fmt: skip
    return tuple(told)


def _gaps(found: SideBySide, said: DaySaid) -> Workings:
    means = said.means
    order = means.ordered(found.asked.lower_first)
    lines = []
    if said.pairs and len(order) > 1:
        one, two = order[0], order[1]
        pair = said.pair(means.names[one], means.names[two])
        sed, df = float(means.errors[one, two]), float(means.df[one, two])
        lines += [
            f"{pair.first} and {pair.second}: standard error of the difference {sed:.4g} on"
            f" {df:.4g} degrees of freedom",
            f"planned: {pair.needed_planned / sed:.4g} × {sed:.4g} = {pair.needed_planned:.4g}",
            f"any pair: {pair.needed * sqrt(2) / sed:.4g} × {sed:.4g} / √2 = {pair.needed:.4g}",
        ]
        if said.analysis is not None and means.by_level is None:
            n, m = means.plots[one], means.plots[two]
            ms = said.analysis.error.ms
            lines.insert(0, f"without plots missing SED = √({ms:.4g} × (1/{n} + 1/{m})) ="
                            f" {sqrt(ms * (1 / n + 1 / m)):.4g}")  # fmt: skip
    needed = [each.needed for each in said.pairs]
    answer = "no gap: mixtures are described, not ranked" if not needed else (
        f"{gap_words(said, min(needed))} to {gap_words(said, max(needed))} for any pair"
    )  # fmt: skip
    return Workings(
        _question(found, said, "How wide must a gap be in"), answer,
        "planned pair: t × SED; any pair: q × SED / √2 (q: studentised range; Tukey, Kramer 1956)",
        (Input("mixtures compared", means.count, "", Grade.MEASURED, "the plan"),),
        tuple(lines),
        ("A pair named beforehand needs less than one picked because it looked far apart.",),
    )  # fmt: skip


def _pairs(found: SideBySide, said: DaySaid) -> Workings:
    def line(each: PairSaid) -> str:
        low, high = each.spread.at95
        just = ", only just" if each.is_only_just else ""
        return (f"{each.first} less {each.second}: {each.difference:+.4g} ({low:+.4g} to"
                f" {high:+.4g}), {each.needed:.4g} needed: {each.verdict}{just}")  # fmt: skip

    best = said.means.names[said.means.ordered(found.asked.lower_first)[0]]
    own = [each for each in said.pairs if best in (each.first, each.second)][:_FACES]
    rest = len(said.pairs) - len(own)
    lines = [*map(line, own), *([f"and {rest} more pairs, with `swardbook side-by-side"
                                 " --all-pairs`"] if rest else [])]  # fmt: skip
    answer = "; ".join(said.refusals) if said.refusals else (
        f"level with the best found: {listed(said.level)}"
    )  # fmt: skip
    return Workings(
        _question(found, said, "Which mixtures are told apart in"), answer, RULES,
        (
            Input("smallest difference that matters", round(found.asked.smallest, 4),
                  "log ratio" if said.read.are_plants else said.read.unit, Grade.JUDGED, "judged"),
            Input.of("only just, as times the needed gap", parameter("trial.only_just")),
        ),
        tuple(lines),
    )  # fmt: skip


def _chances(found: SideBySide, said: DaySaid) -> Workings:
    wider = [each.needed / each.needed_planned for each in said.pairs]
    lines = [f"{each.name}: best in {100 * each.best:.1f} % of draws" for each in said.chances]
    answer = "not asked: mixtures are described, not ranked" if not lines else (
        f"{max(100 * each.best for each in said.chances):.0f} % at most"
    )  # fmt: skip
    return Workings(
        _question(found, said, "How likely is each the best in"), answer,
        "truths drawn about the adjusted means, multivariate t with the error's degrees of freedom,"
        " as much wider as any pair's gap is wider than a planned pair's",
        (
            Input("draws", value("trial.choice_draws"), "", Grade.JUDGED, "judged"),
            *((Input("wider by", round(float(np.median(wider)), 3), "", None, "the pairs above"),)
              if wider else ()),
        ),
        tuple(lines),
        ("A flat prior on every mean (Box and Tiao 1973); a chance is no verdict.",),
    )  # fmt: skip
