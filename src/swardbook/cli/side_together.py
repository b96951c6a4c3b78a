"""Several trials together, in lines and as one object."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from swardbook.cli.output import table
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.trials_together import TrialsTogether


def together_lines(found: TrialsTogether) -> list[str]:
    """Tell what holds over several trials."""
    from swardbook.review.words import figure

    over = found.made.over_trials
    means = over.means
    places = 0 if found.unit == "%" else 1
    rows = []
    for at in means.ordered(found.lower_first):
        name = means.names[at]
        own = [
            figure(float(each.means.values[each.means.place(name)]), places)
            for each in found.made.each.values()
        ]
        rows.append((name, figure(float(means.values[at]), places), *own))
    lines = ["", *under("", f"Over {len(found.zones)} trials, {found.words}, {found.unit}, each at"
                            " its last count:", 0)]  # fmt: skip
    lines += table(("mixture", "mean", *found.zones), rows)
    crossing = found.made.crossing
    changes = "change from trial to trial by more than plots do" if crossing.p < 0.05 else (
        "are not seen to change from trial to trial by more than plots do"
    )  # fmt: skip
    lines += under(
        "", f"Mixtures {changes} (p {crossing.p:.3f}). A claim over trials rests on that change,"
        f" never on plots: {over.error.df} degrees of freedom.", 0,
    )  # fmt: skip
    if not found.pairs:
        return [*lines, *under("⌀", "Not enough data: fewer than three trials are not ranked.", 0)]
    if not found.clear:
        return [*lines, *under("○", "Too close to call: no pair is told apart over the trials.", 0)]
    told = "; ".join(f"{each.first} ahead of {each.second}" for each in found.clear)
    return [*lines, *under("●", f"Clear over the trials: {told}.", 0)]


def together_payload(found: TrialsTogether) -> dict[str, Any]:
    """Put it in one object."""
    over = found.made.over_trials
    return {
        "trials": list(found.zones), "trait": found.words, "unit": found.unit,
        "means": {name: round(float(mean), 3)
                  for name, mean in zip(over.means.names, over.means.values, strict=True)},
        "mixtures_p": round(over.entries.p, 8), "error_df": over.error.df,
        "mixtures_by_trials_p": round(found.made.crossing.p, 8),
        "pairs": [
            {"first": each.first, "second": each.second,
             "difference": round(each.difference, 4), "needed": round(each.needed, 4),
             "verdict": str(each.verdict)}
            for each in found.pairs
        ],
    }  # fmt: skip
