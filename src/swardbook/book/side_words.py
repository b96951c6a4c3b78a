"""Mixtures side by side in sentences and tables, shared by the command and the pages."""

from __future__ import annotations

from math import exp

import numpy as np

from swardbook.book.said import Sentence, Table, listed
from swardbook.book.side_by_side import SideBySide
from swardbook.book.side_figures import decimals_of, figure_words, gap_words, unit_word
from swardbook.evidence import Spread, Verdict, verdict
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.review.words import range_words
from swardbook.trials.pair_verdicts import PairSaid
from swardbook.trials.said import DaySaid


def head_told(found: SideBySide, said: DaySaid) -> list[Sentence]:
    """Say what was compared and when, and whether it is too early."""
    label = f" ({said.read.label})" if said.read.label else ""
    when = f"mean over {len(found.paths)} counts to {say(said.read.day)}"
    if said.read.label != "mean over time":
        when = f"{say(said.read.day)}{label}"
    months = ""
    if said.months is not None:
        number = f"{said.months:.0f}"
        months = f", {number} month{'' if number == '1' else 's'} from sowing"
    told = [Sentence("", f"{found.zone}, {found.trait.words}: {when}{months}.")]
    for each in found.trait.days:
        if each.day > said.read.day and 2 * len(each.figures) < len(found.trait.plots):
            begun = len(each.figures)
            told.append(
                Sentence(
                    "?",
                    f"Begun since, on {say(each.day)}: {begun} plot{'s' * (begun > 1)} of"
                    f" {len(found.trait.plots)}; too few to compare yet.",
                )
            )
    if said.is_so_far:
        slow = [name for name, each in sorted(found.beside.items()) if each.is_slow]
        by = f" Slow by nature: {', '.join(slow)}." if slow else ""
        told.append(Sentence("◐", f"So far: too early for an end state.{by}"))
    return told


def means_table(found: SideBySide, said: DaySaid) -> Table:
    """Lay the means out with ranges, marks, chances and cost, the best as found first."""
    chances = {each.name: each for each in said.chances}
    few = round(value("trial.best_few"))
    rows = []
    for at in said.means.ordered(found.asked.lower_first):
        name = said.means.names[at]
        low, high = said.means.own_interval(at)
        if said.read.unit == "%":
            low, high = max(low, 0.0), min(high, 100.0)
        chance, beside = chances.get(name), found.beside.get(name)
        cost = beside.cost_m2 if beside is not None else None
        rows.append(
            (name, figure_words(said, float(said.means.values[at])),
             f"{figure_words(said, low)} to {figure_words(said, high)}",
             said.marks[at] if not said.refusals else "",
             str(int(said.means.plots[at])),
             share_words(chance.best) if chance else "",
             share_words(chance.among_best) if chance and len(chances) > few else "",
             "" if cost is None else f"{cost:.2f}")
        )  # fmt: skip
    unit = "a m²" if said.read.are_plants else unit_word(said.read.unit) or "index"
    heads = ("mixture", unit, "95 % range", "marks", "plots", "chance best", f"among {few}",
             "seed a m²")  # fmt: skip
    return Table(heads, tuple(rows)).without_empty()


def share_words(number: float) -> str:
    """Write a chance; never nought and never all."""
    if number < 0.01:
        return "under 1 %"
    return "over 99 %" if number > 0.99 else f"{100 * number:.0f} %"


def gap_told(said: DaySaid) -> list[Sentence]:
    """Say how wide a gap has to be, and how far that differs from pair to pair."""
    if not said.pairs:
        return []
    needed = sorted(each.needed for each in said.pairs)
    planned = sorted(each.needed_planned for each in said.pairs)
    if said.means.by_level is not None:
        any_pair, named = float(np.median(needed)), float(np.median(planned))
        more = (f": from {gap_words(said, needed[0])} where both have little to"
                f" {gap_words(said, needed[-1])} where both have much or plots are"
                " missing")  # fmt: skip
    else:
        any_pair, named = needed[0], planned[0]
        more = "; more where plots are missing" if needed[-1] >= any_pair * 1.01 else ""
    return [
        Sentence(
            "",
            f"A pair named beforehand must differ by about {gap_words(said, named)}, and any pair"
            f" picked after looking by about {gap_words(said, any_pair)}{more}. Ranges of two"
            " mixtures that overlap say nothing of the pair.",
        )
    ]


def verdict_told(said: DaySaid) -> list[Sentence]:
    """Say what is clear, what is not, and why mixtures may not be ranked where they may not."""
    if said.refusals:
        return [Sentence("⌀", each) for each in said.refusals]
    told = []
    if len(said.level) > 1:
        told.append(
            Sentence(
                "○",
                f"Too close to call: no needed gap parts {listed(said.level)} from the best found."
                " Choose among these on looks, price, wear and what cannot be undone.",
            )
        )
    elif said.level:
        told.append(Sentence("●", f"{said.level[0]} stands clear of every other sown mixture."))
    return [*told, *_clear(said), *_other(said)]


def _clear(said: DaySaid) -> list[Sentence]:
    told = []
    for word in (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL):
        behind: dict[str, list[str]] = {}
        for each in said.pairs:
            if each.verdict is word and not each.is_only_just:
                behind.setdefault(each.second, []).append(each.first)
        for name, ahead in behind.items():
            words = f"{word.capitalize()}: {name} is behind {listed(sorted(ahead))}."
            told.append(Sentence("●", words))
    just = [each for each in said.pairs if each.is_only_just]
    if just:
        fine = max(decimals_of(said.read.unit), 1)
        pairs = "; ".join(
            f"{each.first} and {each.second}, {abs(each.difference):.{fine}f} apart,"
            f" {each.needed:.{fine}f} needed" for each in just
        )  # fmt: skip
        told.append(
            Sentence(
                "●",
                f"Only just clear: {pairs}. These could easily have fallen the other way; repeat"
                " them before much rests on one.",
            )
        )
    return told


def _other(said: DaySaid) -> list[Sentence]:
    told = []
    for word, mark, join in ((Verdict.AS_GOOD_AS_EQUAL, "=", "and"),
                             (Verdict.LEANING, "◐", "ahead of")):  # fmt: skip
        pairs = [each for each in said.pairs if each.verdict is word]
        if pairs:
            words = "; ".join(f"{each.first} {join} {each.second}" for each in pairs)
            told.append(Sentence(mark, f"{word.capitalize()}: {words}."))
    return told


def pairs_table(said: DaySaid) -> Table:
    """Lay every pair out, the first ahead as found."""
    rows = tuple(
        (f"{each.first} and {each.second}", gap_words(said, each.difference),
         _range(said, each), gap_words(said, each.needed), str(each.verdict))
        for each in said.pairs
    )  # fmt: skip
    return Table(("pair", "gap", "95 % range", "needed", "verdict"), rows)


def _range(said: DaySaid, each: PairSaid) -> str:
    low, high = each.spread.at95
    if said.read.are_plants:
        return f"{exp(low):.2f} to {exp(high):.2f} times"
    return range_words(each.spread.at95, decimals_of(said.read.unit))


def planned_told(found: SideBySide) -> list[Sentence]:
    """Say what may be said of pairs that were named beforehand."""
    if found.said is None:
        return []
    told = []
    for each in found.planned:
        word = verdict(each.value, Spread.of(each.interval), found.asked.smallest)
        low, high = each.interval(0.95)
        words = f"{each.first} less {each.second}: {each.value:+.1f} ({low:+.1f} to {high:+.1f})"
        if found.said.read.are_plants:
            words = (f"{each.first} over {each.second}: {exp(each.value):.2f} times"
                     f" ({exp(low):.2f} to {exp(high):.2f})")  # fmt: skip
        told.append(Sentence("", f"Named beforehand, {words}: {word}."))
    return told
