"""Several trials together, as one object."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from swardbook.book.trials_together import TrialsTogether


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
