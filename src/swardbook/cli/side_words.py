"""Mixtures side by side, in lines."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING

from swardbook.cli.output import table
from swardbook.cli.side_figures import decimals_of, figure_words, gap_words, unit_word
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from collections.abc import Iterable

    from swardbook.book.side_by_side import SideBySide
    from swardbook.book.trial_choice import TrialChoice
    from swardbook.trials.pair_verdicts import PairSaid
    from swardbook.trials.said import DaySaid

FIRST_CLAIM = 0.8
"""A chance from which a mixture is most likely the best; below it nothing is said of one."""


def side_lines(found: SideBySide, all_pairs: bool = False) -> list[str]:
    """Tell what a trial lets one say."""
    if found.said is None:
        return _described_lines(found)
    said = found.said
    lines = [*_head(found, said), "", *_table(found, said), ""]
    lines += _gap_lines(said)
    if said.refusals:
        lines += [part for each in said.refusals for part in under("⌀", each, 0)]
    else:
        lines += _verdict_lines(said)
    if all_pairs and said.pairs:
        lines += ["", "Every pair, the first ahead as found:", *_pair_lines(said)]
    lines += _planned_lines(found)
    lines += ["", *_check_lines(found, said)]
    lines += _crossing_lines(found)
    lines += _plot_lines(found, said)
    return [*lines, *_beside_lines(found, said), *_scope_lines(found)]


def _head(found: SideBySide, said: DaySaid) -> list[str]:
    from swardbook.foundation.dates import say

    label = f" ({said.read.label})" if said.read.label else ""
    when = f"mean over {len(found.paths)} counts to {say(said.read.day)}"
    if said.read.label != "mean over time":
        when = f"{say(said.read.day)}{label}"
    head = f"{found.zone}, {found.trait.words}: {when}"
    months = ""
    if said.months is not None:
        number = f"{said.months:.0f}"
        months = f", {number} month{'' if number == '1' else 's'} from sowing"
    lines = under("", f"{head}{months}.", 0)
    if said.is_so_far:
        slow = [name for name, each in sorted(found.beside.items()) if each.is_slow]
        told = f" Slow by nature: {', '.join(slow)}." if slow else ""
        lines += under("◐", f"So far: too early for an end state.{told}", 0)
    return lines


def _table(found: SideBySide, said: DaySaid) -> list[str]:
    chances = {each.name: each for each in said.chances}
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
             _share(chance.best) if chance else "", _share(chance.among_best) if chance else "",
             "" if cost is None else f"{cost:.2f}")
        )  # fmt: skip
    unit = "a m²" if said.read.are_plants else unit_word(said.read.unit) or "index"
    heads = ("mixture", unit, "95 % range", "marks", "plots", "chance best", "among 3", "seed a m²")
    kept = [n for n in range(len(heads)) if n == 0 or any(row[n] for row in rows)]
    return table([heads[n] for n in kept], [[row[n] for n in kept] for row in rows])


def _share(number: float) -> str:
    if number < 0.01:
        return "under 1 %"
    return "over 99 %" if number > 0.99 else f"{100 * number:.0f} %"


def _gap_lines(said: DaySaid) -> list[str]:
    if not said.pairs:
        return []
    any_pair = min(each.needed for each in said.pairs)
    planned = min(each.needed_planned for each in said.pairs)
    widest = max(each.needed for each in said.pairs)
    lost = "" if widest < any_pair * 1.01 else "; more where plots are missing"
    return under(
        "",
        f"A pair named beforehand must differ by about {gap_words(said, planned)}, and any pair"
        f" picked after looking by about {gap_words(said, any_pair)}{lost}. Ranges of two mixtures"
        " that overlap say nothing of the pair.", 0,
    )  # fmt: skip


def _verdict_lines(said: DaySaid) -> list[str]:
    lines = []
    if len(said.level) > 1:
        lines += under(
            "○",
            f"Too close to call: no needed gap parts {_list(said.level)} from the best found."
            " Choose among these on looks, price, wear and what cannot be undone.", 0,
        )  # fmt: skip
    elif said.level:
        lines += under("●", f"{said.level[0]} stands clear of every other sown mixture.", 0)
    return [*lines, *_clear_lines(said), *_other_lines(said)]


def _clear_lines(said: DaySaid) -> list[str]:
    from swardbook.evidence import Verdict

    lines = []
    for word in (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL):
        behind: dict[str, list[str]] = {}
        for each in said.pairs:
            if each.verdict is word and not each.is_only_just:
                behind.setdefault(each.second, []).append(each.first)
        for name, ahead in behind.items():
            told = f"{word.capitalize()}: {name} is behind {_list(sorted(ahead))}."
            lines += under("●", told, 0)
    just = [each for each in said.pairs if each.is_only_just]
    if just:
        fine = max(decimals_of(said.read.unit), 1)
        told = "; ".join(
            f"{each.first} and {each.second}, {abs(each.difference):.{fine}f} apart,"
            f" {each.needed:.{fine}f} needed" for each in just
        )  # fmt: skip
        lines += under(
            "●", f"Only just clear: {told}. These could easily have fallen the other way; repeat"
            " them before much rests on one.", 0,
        )  # fmt: skip
    return lines


def _other_lines(said: DaySaid) -> list[str]:
    from swardbook.evidence import Verdict

    lines = []
    for word, mark, join in ((Verdict.AS_GOOD_AS_EQUAL, "=", "and"),
                             (Verdict.LEANING, "◐", "ahead of")):  # fmt: skip
        pairs = [each for each in said.pairs if each.verdict is word]
        if pairs:
            told = "; ".join(f"{each.first} {join} {each.second}" for each in pairs)
            lines += under(mark, f"{word.capitalize()}: {told}.", 0)
    return lines


def _pair_lines(said: DaySaid) -> list[str]:
    rows = [
        (f"{each.first} and {each.second}", gap_words(said, each.difference),
         _range(said, each), gap_words(said, each.needed), str(each.verdict))
        for each in said.pairs
    ]  # fmt: skip
    return table(("pair", "gap", "95 % range", "needed", "verdict"), rows)


def _range(said: DaySaid, each: PairSaid) -> str:
    from swardbook.review.words import range_words

    low, high = each.spread.at95
    if said.read.are_plants:
        return f"{exp(low):.2f} to {exp(high):.2f} times"
    return range_words(each.spread.at95, decimals_of(said.read.unit))


def _planned_lines(found: SideBySide) -> list[str]:
    from swardbook.evidence import Spread, verdict

    if found.said is None:
        return []
    lines = []
    for each in found.planned:
        word = verdict(each.value, Spread.of(each.interval), found.asked.smallest)
        low, high = each.interval(0.95)
        told = f"{each.first} less {each.second}: {each.value:+.1f} ({low:+.1f} to {high:+.1f})"
        if found.said.read.are_plants:
            told = (f"{each.first} over {each.second}: {exp(each.value):.2f} times"
                    f" ({exp(low):.2f} to {exp(high):.2f})")  # fmt: skip
        lines += under("", f"Named beforehand, {told}: {word}.", 0)
    return lines


def _check_lines(found: SideBySide, said: DaySaid) -> list[str]:
    lines = []
    if said.analysis is not None:
        line = said.analysis
        lines += under(
            "", f"Analysis of variance, {line.design}: mixtures F {line.entries.f:.1f},"
            f" {_chance(line.entries.p)}; spread from plot to plot {gap_words(said, line.spread)},"
            f" {line.error.df} degrees of freedom.", 0,
        )  # fmt: skip
        if len(line.block_means) > 1:
            term = line.lines[0].line.term
            told = ", ".join(f"{term} {n} {figure_words(said, x)}" for n, x in line.block_means)
            by_block = f"{told.capitalize()} {unit_word(said.read.unit)}".rstrip()
            lines += under("", f"{by_block}: taken out of every comparison.", 0)
    lines += _luck_lines(said)
    if found.neighbours is not None:
        lines += _neighbour_lines(found, said)
    if found.in_time is not None:
        made = found.in_time
        lines += under(
            "", f"Split plot in time, corrected (epsilon {made.epsilon:.2f}): mixtures"
            f" {_chance(made.entries.p)}, mixtures by dates {_chance(made.crossing.p)}.", 0,
        )  # fmt: skip
    if said.against is not None and not said.refusals:
        near = [n for n, p in zip(said.against.names, said.against.p, strict=True) if p >= 0.05]
        told = f"not told apart: {_list(sorted(near))}" if near else "all told apart from it"
        lines += under("", f"Against {said.against.control} (Dunnett): {told}.", 0)
    return lines


def _luck_lines(said: DaySaid) -> list[str]:
    if said.shuffled is None:
        return []
    told = (f"Shuffled within blocks {said.shuffled.shuffles:,} times:"
            f" {_chance(said.shuffled.p)} by luck alone.")  # fmt: skip
    if said.second is not None:
        told += f" Second opinion, {said.second.model}: {_chance(said.second.shuffled.p)}."
    return under("", told, 0)


def _neighbour_lines(found: SideBySide, said: DaySaid) -> list[str]:
    made = found.neighbours
    assert made is not None
    order = [made.means.names[at] for at in made.means.ordered(found.asked.lower_first)]
    own = [said.means.names[at] for at in said.means.ordered(found.asked.lower_first)]
    same = "the same order" if order == own else f"order then: {', '.join(order)}"
    shift = max(abs(float(made.means.values[made.means.place(n)] - v))
                for n, v in zip(said.means.names, said.means.values, strict=True))  # fmt: skip
    return under(
        "", "With neighbouring plots taken as alike instead of blocks: means move by"
        f" {gap_words(said, shift)} at most; {same}.", 0,
    )  # fmt: skip


def _chance(p: float) -> str:
    return "p under 0.001" if p < 0.001 else f"p {p:.3f}"


def _crossing_lines(found: SideBySide) -> list[str]:
    from swardbook.foundation.dates import say

    if not found.crossings:
        return []
    lines = ["", "Changed places (each told apart as a pair, one way and later the other):"]
    for each in found.crossings[:4]:
        lines += under(
            "-", f"{each.early} ahead of {each.late} on {say(each.first)}, behind on"
            f" {say(each.last)}.", 0,
        )  # fmt: skip
    rest = len(found.crossings) - 4
    return [*lines, *(under("-", f"and {rest} more.", 0) if rest > 0 else [])]


def _plot_lines(found: SideBySide, said: DaySaid) -> list[str]:
    from swardbook.foundation.dates import say

    lines = [""]
    for each in said.chosen.left_out:
        lines += under("⊘", f"Plot {each.plot} left out: {each.why.rstrip('.')}.", 0)
    if said.chosen.not_read:
        lines += under("⊘", f"Not counted, never 0: plots {_list(said.chosen.not_read)}.", 0)
    for how, means in found.variants.items():
        moved = [c for c in found.changed if c.how is how]
        told = "no verdict changes" if not moved else "then " + "; ".join(
            f"{c.other.first} and {c.other.second} {c.other.verdict} ({c.one.verdict} above)"
            for c in moved
        )  # fmt: skip
        plots = int(means.plots.sum())
        lines += under("", f"Plots counted {how} ({plots} plots): {told}.", 0)
    for day, overlap in found.counters:
        lines += under(
            "?", f"{say(day)}: {overlap.words} Mixtures are compared within blocks, each one"
            " counter's, and are safe; change over time is not.", 0,
        )  # fmt: skip
    return lines if len(lines) > 1 else []


def _beside_lines(found: SideBySide, said: DaySaid) -> list[str]:
    lines = [""]
    for name in sorted(set(said.means.names)):
        beside = found.beside.get(name)
        if beside is None:
            continue
        if beside.comfort.will_not_last:
            lines += under("!", f"{name}: ryegrass alone will not last at"
                                f" {beside.comfort.height_mm:g} mm.", 0)  # fmt: skip
        below = beside.comfort.below
        if below and beside.comfort.strain_mm >= 1:
            told = ", ".join(
                f"{part.species} {100 * part.share_by_weight:.0f} %, {part.below_mm:g} mm below"
                for part in below
            )
            lines += under("!", f"{name} was cut below the height it likes: {told}. Poor figures"
                                " may be the height, not the seed.", 0)  # fmt: skip
        lines += [part for each in beside.cannot_be_undone
                  for part in under("!", f"{name}: {each}", 0)]  # fmt: skip
    return lines if len(lines) > 1 else []


def _scope_lines(found: SideBySide) -> list[str]:
    height = next((each.comfort.height_mm for each in found.beside.values()), None)
    at = "" if height is None else f" at {height:g} mm,"
    target = f" What cannot be undone is judged for {found.for_zone}." if found.for_zone else ""
    return ["", *under("", f"This holds{at} under this care, on this soil, this year.{target}", 0)]


def _described_lines(found: SideBySide) -> list[str]:
    from swardbook.foundation.dates import say
    from swardbook.review.words import figure

    made = found.described
    assert made is not None
    unit = found.trait.days[-1].unit
    lines = under("", f"{found.zone}, {found.trait.words}, {say(found.trait.days[-1].day)}:"
                      " described, not ranked; one plot of each is no comparison.", 0)  # fmt: skip
    fine = decimals_of(unit)
    rows = [
        (each.name, f"{figure(each.value, fine)}",
         "not known" if each.measuring_error is None
         else f"{each.measuring_error:.{max(fine, 1)}f}",
         str(each.looks))
        for each in made.plots
    ]  # fmt: skip
    lines += ["", *table(("plot", unit, "error of measuring", "looks"), rows), ""]
    if len(made.plots) > 1:
        one, two = made.plots[0].name, made.plots[1].name
        half = made.borrowed_interval(one, two).half_width
        told = f"{half:.{fine}f} {'points' if unit == '%' else unit_word(unit)}".rstrip()
        lines += under(
            "?", "Borrowed, not measured here: if plots differ as in other trials (spread"
            f" {100 * made.borrowed.value:.0f} % of the mean, {made.borrowed.grade.value}), {one}"
            f" and {two} would have to differ by about {told}.", 0,
        )  # fmt: skip
    return [
        *lines,
        *under("", "Three or more plots of each, shuffled, would let them be compared.", 0),
    ]


def choice_lines(found: TrialChoice) -> list[str]:
    """Tell a choice over several traits."""
    made = found.choice
    told = ", ".join(f"{wish.trait} {wish.weight:g}" for wish in found.wishes)
    lines = ["", *under("", f"Choice by your weights ({told}), on {found.plots} plots:", 0)]
    given = made.under[0].first
    order = sorted(range(len(made.names)), key=lambda at: (-given[at], made.names[at]))
    rows = [
        (made.names[at], _share(given[at]),
         f"{_share(min(w.first[at] for w in made.under))} to"
         f" {_share(max(w.first[at] for w in made.under))}")
        for at in order if max(w.first[at] for w in made.under) >= 0.01
    ]  # fmt: skip
    lines += table(("mixture", "comes first", "under other weights"), rows)
    if made.is_stable and max(given) >= FIRST_CLAIM:
        last = f"{made.ever_first[0]} comes first under every weighting tried: the choice holds."
    elif made.is_stable:
        last = (f"{made.ever_first[0]} comes first most often under every weighting tried, but not"
                " surely: the plots leave it open.")  # fmt: skip
    else:
        last = f"The choice turns with the weights: {_list(made.ever_first)} each come first."
    return [*lines, *under("", last, 0)]


def _list(names: Iterable[str]) -> str:
    held = list(names)
    return held[0] if len(held) == 1 else f"{', '.join(held[:-1])} and {held[-1]}"
