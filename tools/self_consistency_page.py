"""The page of the self-consistency runs: how often the ranges learned hold what was drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import chi2

from swardbook.evidence.proportions import wilson
from swardbook.model.chance import Array
from tools.cases_on_file import Result
from tools.self_consistency import LAWNS

BINS = 16
LEVELS = (0.8, 0.9)
MOST_AWAY = 0.05
"""How far a coverage may be from its level."""
NAMES = {
    "cover today": "annual meadow-grass today, cover",
    "plants today": "annual meadow-grass today, plants",
    "seed in the ground today": "its seed in the ground today",
    "bare today": "bare ground today",
    "emergence this year": "this year's effect on emergence",
    "survival this year": "this year's effect on survival",
    "counter Ines": "the counter's habit",
}


@dataclass(frozen=True, slots=True)
class Held:
    """How the ranks of one quantity lie."""

    name: str
    ranks: Array

    def share(self, level: float) -> float:
        """Share of truths in the range of a level."""
        return float(np.mean(self.inside(level)))

    def inside(self, level: float) -> Array:
        """Tell which truths lie in the range of a level."""
        edge = (1 - level) / 2
        return np.asarray((self.ranks > edge) & (self.ranks < 1 - edge))

    @property
    def even(self) -> float:
        """Chance of a histogram of ranks at least as uneven, if all ranks are as likely."""
        counts, _ = np.histogram(self.ranks, BINS, (0.0, 1.0))
        wanted = len(self.ranks) / BINS
        return float(chi2.sf(np.sum((counts - wanted) ** 2) / wanted, BINS - 1))

    @property
    def is_met(self) -> bool:
        """Tell whether both coverages are near enough."""
        return all(abs(self.share(level) - level) <= MOST_AWAY for level in LEVELS)


def held(results: Mapping[str, Result], lawn: str = "") -> list[Held]:
    """Gather the ranks of each quantity, of one kind of lawn or of all."""
    told = [
        each["ranks"]
        for each in results.values()
        if not each["refusal"] and lawn in {"", each["lawn"]}
    ]
    names = list(told[0]) if told else []
    return [Held(name, np.array([ranks[name] for ranks in told])) for name in names]


def page(results: Mapping[str, Result], draws: int) -> str:
    """Write the page."""
    rows = held(results)
    refused = sum(bool(each["refusal"]) for each in results.values())
    n = len(results) - refused
    missed = [_named(row.name) for row in rows if not row.is_met]
    verdict = (
        "All cover within five points of their level."
        if not missed
        else f"Not within five points: {', '.join(missed)}."
    )
    parts = [
        "# Whether the learning is right about itself",
        "<!-- Written by `make self-consistency`. -->",
        f"{len(results):,} lawns were drawn from what is believed before any count, each counted by"
        " the very model of counting that the learning reads counts with (every figure is drawn"
        " from its own likelihood), and learned from those counts as a look-ahead does"
        f" (`live_through`, {draws:,} draws; a look-ahead takes 4,096). What a lawn was drawn with"
        " must lie in a range of 80 % four times in five and in one of 90 % nine times in ten, and"
        " its rank among the draws must be as likely to be any as any other (Talts, Betancourt,"
        " Simpson, Vehtari and Gelman 2018, arXiv:1804.06788). That shows that the sums are right;"
        " it does not show that lawns are like the model: see [the harder twin](harder-twin.md).",
        f"**{verdict}** {n:,} lawns were learned from, {refused} refused. In brackets stands the"
        " 95 % interval of the share (Wilson). *Even* is the chance of ranks at least as uneven as"
        f" these in {BINS} bins if all are as likely (chi-square): one in twenty lies below 0.05"
        " by luck alone.",
        _table(rows),
        *(
            f"## {lawn.says}\n\n{_table(held(results, lawn.key))}"
            for lawn in LAWNS
            if held(results, lawn.key)
        ),
        "## How the ranks lie",
        f"Lawns in each sixteenth of the ranks; {n / BINS:.0f} are expected in each.",
        _histograms(rows),
        "Only annual meadow-grass is counted in these lawns, twice, by one counter. Several kinds"
        " in one frame, pulls, walks and tufts are not put to this test.",
        "Numbers that a count hardly speaks of come out as wide as they went in, so that their"
        " rows test only that nothing else narrows them.",
    ]
    return "\n\n".join(parts) + "\n"


def _named(name: str) -> str:
    return NAMES.get(name, f"`{name}`")


def _table(rows: Sequence[Held]) -> str:
    heads = "what | lawns | in 80 % | share | in 90 % | share | even"
    lines = [f"| {heads} |", "|---" * 7 + "|"]
    for row in rows:
        cells = [_named(row.name), f"{len(row.ranks):,}"]
        for level in LEVELS:
            hits, n = int(np.sum(row.inside(level))), len(row.ranks)
            sure = wilson(hits, n)
            cells += [
                f"{hits:,}",
                f"{hits / n:.1%} ({100 * sure.low:.1f} to {100 * sure.high:.1f})",
            ]
        lines.append(f"| {' | '.join([*cells, f'{row.even:.3f}'])} |")
    return "\n".join(lines)


def _histograms(rows: Sequence[Held]) -> str:
    lines = ["| what | " + " | ".join(str(n) for n in range(1, BINS + 1)) + " |"]
    lines.append("|---" * (BINS + 1) + "|")
    for row in rows:
        counts, _ = np.histogram(row.ranks, BINS, (0.0, 1.0))
        lines.append(f"| {_named(row.name)} | " + " | ".join(str(n) for n in counts) + " |")
    return "\n".join(lines)
