"""Mixtures that may only be described, a choice over traits, and several trials, in words."""

from __future__ import annotations

from swardbook.book.said import Sentence, Table, listed
from swardbook.book.side_by_side import SideBySide
from swardbook.book.side_figures import decimals_of, unit_word
from swardbook.book.side_words import share_words
from swardbook.book.trial_choice import TrialChoice
from swardbook.book.trials_together import TrialsTogether
from swardbook.foundation.dates import say
from swardbook.review.words import figure

FIRST_CLAIM = 0.8
"""A chance from which a mixture is most likely the best; below it nothing is said of one."""
REPEAT = "Three or more plots of each, shuffled, would let them be compared."


def described_head(found: SideBySide) -> Sentence:
    """Say that plots are described and not ranked."""
    day = say(found.read_on or found.trait.days[-1].day)
    return Sentence(
        "",
        f"{found.zone}, {found.trait.words}, {day}: described, not ranked; one plot of each is no"
        " comparison.",
    )


def described_table(found: SideBySide) -> Table:
    """Lay the plots out as measured, with the error of measuring."""
    made, unit = found.described, found.trait.days[-1].unit
    assert made is not None
    fine = decimals_of(unit)
    rows = tuple(
        (each.name, f"{figure(each.value, fine)}",
         "not known" if each.measuring_error is None
         else f"{each.measuring_error:.{max(fine, 1)}f}",
         str(each.looks))
        for each in made.plots
    )  # fmt: skip
    return Table(("plot", unit, "error of measuring", "looks"), rows)


def described_told(found: SideBySide) -> list[Sentence]:
    """Say what a borrowed spread would ask of a pair, and what would let them be compared."""
    made, unit = found.described, found.trait.days[-1].unit
    assert made is not None
    told = []
    if len(made.plots) > 1:
        one, two = made.plots[0].name, made.plots[1].name
        half = made.borrowed_interval(one, two).half_width
        points = "points" if unit in {"%", "1-9"} else unit_word(unit)
        told.append(
            Sentence(
                "?",
                "Borrowed, not measured here: if plots differ as in other trials (spread"
                f" {100 * made.borrowed.value:.0f} % of the mean, {made.borrowed.grade.value}),"
                f" {one} and {two} would have to differ by about"
                f" {f'{half:.{decimals_of(unit)}f} {points}'.rstrip()}.",
            )
        )
    return [*told, Sentence("", REPEAT)]


def choice_head(found: TrialChoice) -> Sentence:
    """Say what was weighed."""
    told = ", ".join(f"{wish.trait} {wish.weight:g}" for wish in found.wishes)
    return Sentence("", f"Choice by your weights ({told}), on {found.plots} plots:")


def choice_table(found: TrialChoice) -> Table:
    """Lay out how often each comes first, also under other weights."""
    made = found.choice
    given = made.under[0].first
    order = sorted(range(len(made.names)), key=lambda at: (-given[at], made.names[at]))
    rows = tuple(
        (made.names[at], share_words(given[at]),
         f"{share_words(min(w.first[at] for w in made.under))} to"
         f" {share_words(max(w.first[at] for w in made.under))}")
        for at in order if max(w.first[at] for w in made.under) >= 0.01
    )  # fmt: skip
    return Table(("mixture", "comes first", "under other weights"), rows)


def choice_told(found: TrialChoice) -> list[Sentence]:
    """Say whether the choice holds."""
    made = found.choice
    if made.is_stable and max(made.under[0].first) >= FIRST_CLAIM:
        last = f"{made.ever_first[0]} comes first under every weighting tried: the choice holds."
    elif made.is_stable:
        last = (f"{made.ever_first[0]} comes first most often under every weighting tried, but not"
                " surely: the plots leave it open.")  # fmt: skip
    else:
        last = f"The choice turns with the weights: {listed(made.ever_first)} each come first."
    return [Sentence("", last)]


def together_head(found: TrialsTogether) -> Sentence:
    """Say which trials are taken together."""
    return Sentence(
        "",
        f"Over {len(found.zones)} trials, {found.words}, {found.unit}, each at its last count:",
    )


def together_table(found: TrialsTogether) -> Table:
    """Lay the means out, over all trials and in each."""
    means = found.made.over_trials.means
    places = 0 if found.unit == "%" else 1
    rows = []
    for at in means.ordered(found.lower_first):
        name = means.names[at]
        own = [
            figure(float(each.means.values[each.means.place(name)]), places)
            for each in found.made.each.values()
        ]
        rows.append((name, figure(float(means.values[at]), places), *own))
    return Table(("mixture", "mean", *found.zones), tuple(rows))


def together_told(found: TrialsTogether) -> list[Sentence]:
    """Say what holds over the trials."""
    crossing = found.made.crossing
    changes = "change from trial to trial by more than plots do" if crossing.p < 0.05 else (
        "are not seen to change from trial to trial by more than plots do"
    )  # fmt: skip
    told = [
        Sentence(
            "",
            f"Mixtures {changes} (p {crossing.p:.3f}). A claim over trials rests on that change,"
            f" never on plots: {found.made.over_trials.error.df} degrees of freedom.",
        )
    ]
    if not found.pairs:
        few = "Not enough data: fewer than three trials are not ranked."
        return [*told, Sentence("⌀", few)]
    if not found.clear:
        none = "Too close to call: no pair is told apart over the trials."
        return [*told, Sentence("○", none)]
    pairs = "; ".join(f"{each.first} ahead of {each.second}" for each in found.clear)
    return [*told, Sentence("●", f"Clear over the trials: {pairs}.")]
