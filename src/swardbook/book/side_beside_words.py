"""What stands beside mixtures side by side: checks, crossings, plots, height and cost, in words."""

from __future__ import annotations

from swardbook.book.said import Sentence, listed
from swardbook.book.side_by_side import SideBySide
from swardbook.book.side_figures import figure_words, gap_words, unit_word
from swardbook.foundation.dates import say
from swardbook.trials.said import DaySaid

CROSSED = "Changed places (each told apart as a pair, one way and later the other):"
_CROSSINGS = 4


def check_told(found: SideBySide, said: DaySaid) -> list[Sentence]:
    """Say what the analysis found, and what other ways of looking make of it."""
    told = []
    if said.analysis is not None:
        line = said.analysis
        told.append(
            f"Analysis of variance, {line.design}: mixtures F {line.entries.f:.1f},"
            f" {chance_words(line.entries.p)}; spread from plot to plot"
            f" {gap_words(said, line.spread)}, {line.error.df} degrees of freedom."
        )
        if len(line.block_means) > 1:
            term = line.lines[0].line.term
            blocks = ", ".join(f"{term} {n} {figure_words(said, x)}" for n, x in line.block_means)
            by_block = f"{blocks.capitalize()} {unit_word(said.read.unit)}".rstrip()
            told.append(f"{by_block}: taken out of every comparison.")
    told += _luck(said)
    if found.neighbours is not None:
        told.append(_neighbours(found, said))
    if found.in_time is not None:
        made = found.in_time
        told.append(
            f"Split plot in time, corrected (epsilon {made.epsilon:.2f}): mixtures"
            f" {chance_words(made.entries.p)}, mixtures by dates {chance_words(made.crossing.p)}."
        )
    if said.against is not None and not said.refusals:
        near = [n for n, p in zip(said.against.names, said.against.p, strict=True) if p >= 0.05]
        apart = f"not told apart: {listed(sorted(near))}" if near else "all told apart from it"
        told.append(f"Against {said.against.control} (Dunnett): {apart}.")
    return [Sentence("", words) for words in told]


def _luck(said: DaySaid) -> list[str]:
    if said.shuffled is None:
        return []
    told = (f"Shuffled within blocks {said.shuffled.shuffles:,} times:"
            f" {chance_words(said.shuffled.p)} by luck alone.")  # fmt: skip
    if said.second is not None:
        model, p = said.second.model, chance_words(said.second.shuffled.p)
        told += f" Second opinion, {model}: {p}."
    return [told]


def _neighbours(found: SideBySide, said: DaySaid) -> str:
    made = found.neighbours
    assert made is not None
    order = [made.means.names[at] for at in made.means.ordered(found.asked.lower_first)]
    own = [said.means.names[at] for at in said.means.ordered(found.asked.lower_first)]
    same = "the same order" if order == own else f"order then: {', '.join(order)}"
    shift = max(abs(float(made.means.values[made.means.place(n)] - v))
                for n, v in zip(said.means.names, said.means.values, strict=True))  # fmt: skip
    return (
        "With neighbouring plots taken as alike instead of blocks: means move by"
        f" {gap_words(said, shift)} at most; {same}."
    )


def chance_words(p: float) -> str:
    """Write the chance that luck alone would show as much."""
    return "p under 0.001" if p < 0.001 else f"p {p:.3f}"


def crossing_told(found: SideBySide) -> list[Sentence]:
    """Say which mixtures changed places; the first of them under `CROSSED`."""
    told = [
        Sentence("-", f"{each.early} ahead of {each.late} on {say(each.first)}, behind on"
                      f" {say(each.last)}.")
        for each in found.crossings[:_CROSSINGS]
    ]  # fmt: skip
    rest = len(found.crossings) - _CROSSINGS
    return [*told, Sentence("-", f"and {rest} more.")] if rest > 0 else told


def plot_told(found: SideBySide, said: DaySaid) -> list[Sentence]:
    """Say which plots do not count, what would change if they did, and how two counters differ."""
    told = [
        Sentence("⊘", f"Plot {each.plot} left out: {each.why.rstrip('.')}.")
        for each in said.chosen.left_out
    ]
    if said.chosen.not_read:
        told.append(Sentence("⊘", f"Not counted, never 0: plots {listed(said.chosen.not_read)}."))
    for how, means in found.variants.items():
        moved = [each for each in found.changed if each.how is how]
        then = "no verdict changes" if not moved else "then " + "; ".join(
            f"{c.other.first} and {c.other.second} {c.other.verdict} ({c.one.verdict} above)"
            for c in moved
        )  # fmt: skip
        plots = int(means.plots.sum())
        told.append(Sentence("", f"Plots counted {how} ({plots} plots): {then}."))
    for day, overlap in found.counters:
        told.append(
            Sentence(
                "?",
                f"{say(day)}: {overlap.words} Mixtures are compared within blocks, each one"
                " counter's, and are safe; change over time is not.",
            )
        )
    return told


def beside_told(found: SideBySide, said: DaySaid) -> list[Sentence]:
    """Say what was cut below the height it likes, and what cannot be undone."""
    told = []
    for name in sorted(set(said.means.names)):
        beside = found.beside.get(name)
        if beside is None:
            continue
        if beside.comfort.will_not_last:
            height = f"{beside.comfort.height_mm:g} mm"
            told.append(f"{name}: ryegrass alone will not last at {height}.")
        below = beside.comfort.below
        if below and beside.comfort.strain_mm >= 1:
            parts = ", ".join(
                f"{part.species} {100 * part.share_by_weight:.0f} %, {part.below_mm:g} mm below"
                for part in below
            )
            told.append(
                f"{name} was cut below the height it likes: {parts}. Poor figures may be the"
                " height, not the seed."
            )
        told += [f"{name}: {each}" for each in beside.cannot_be_undone]
    return [Sentence("!", words) for words in told]


def liking_told(found: SideBySide, said: DaySaid) -> list[Sentence]:
    """Say what visitors chose, and where the figures put it; opinion moves nothing."""
    order = [said.means.names[at] for at in said.means.ordered(found.asked.lower_first)]
    sown = [name for name in order if name not in found.asked.controls]
    told = []
    for each in found.likings:
        for name in each.favourites[:1]:
            words = (
                f"Visitors, {say(each.day)}: {each.chosen[name]} of {each.people} chose"
                f" {listed(each.favourites)} as {each.question}. That is opinion and moves nothing"
                " here."
            )
            if name in sown:
                figure = figure_words(said, float(said.means.values[said.means.place(name)]))
                unit = "a m²" if said.read.are_plants else unit_word(said.read.unit)
                words += (
                    f" {name} stands at {figure} {unit}, place {sown.index(name) + 1} of"
                    f" {len(sown)} sown as found."
                ).replace("  ", " ")
            told.append(Sentence("·", words))
    return told


def scope_told(found: SideBySide) -> list[Sentence]:
    """Say what it holds for."""
    height = next((each.comfort.height_mm for each in found.beside.values()), None)
    at = "" if height is None else f" at {height:g} mm,"
    target = f" What cannot be undone is judged for {found.for_zone}." if found.for_zone else ""
    return [Sentence("", f"This holds{at} under this care, on this soil, this year.{target}")]
