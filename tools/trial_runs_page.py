"""Write the page on how often trials mislead."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np

from tools.trial_cases import SHOWN_ONLY
from tools.trial_seeds import PairRate, SeedSums, alike_at, pair_rates, supposed


@dataclass(frozen=True, slots=True)
class Rate:
    """How often an analysis called a difference where there is none."""

    name: str
    found: int
    trials: int

    @property
    def share(self) -> float:
        """Share of trials [-]."""
        return self.found / self.trials


def within(found: float, promised: float, trials: int) -> bool:
    """Tell whether a rate is within three binomial standard errors of what was promised."""
    return abs(found - promised) <= 3 * sqrt(max(promised * (1 - promised), 1 / trials) / trials)


def page(
    rates: list[Rate], promises: list[tuple[str, float, float, int]], sums: SeedSums, trials: int
) -> str:
    """Write the page."""
    lines = [
        "# How often trials mislead, and how often they find what is there",
        "",
        "<!-- Written by `make trial-runs`; nothing here is typed by hand. -->",
        "",
        f"A share of 5 % of {trials:,} trials is good to half a point or so. A row of more or fewer"
        " trials says how many.",
        "",
        "## Trials in which nothing differs",
        "",
        "| analysis | called different | of trials | goal | |",
        "|---|---|---|---|---|",
    ]
    for rate in rates:
        inside = 0.04 <= rate.share <= 0.06
        word = "shown only" if rate.name in SHOWN_ONLY else "met" if inside else "not met"
        lines.append(
            f"| {rate.name} | {100 * rate.share:.1f} % | {rate.trials:,} | 4 to 6 % | {word} |"
        )
    lines += [
        "",
        "## What was promised before sowing",
        "",
        "Trials as the set-out supposes them: ten mixtures, four blocks, plots that differ alike"
        " (spread 6.3 points). Found against promised; three binomial standard errors are allowed.",
        "",
        "| gap | found | promised | |",
        "|---|---|---|---|",
    ]
    for name, found, promised, number in promises:
        word = "met" if within(found, promised, number) else "not met"
        lines.append(f"| {name} | {100 * found:.1f} % | {100 * promised:.1f} % | {word} |")
    return "\n".join([*lines, *_pair_lines(sums)]) + "\n"


def _pair_lines(sums: SeedSums) -> list[str]:
    pairs, trials = pair_rates(sums), sums.seeds
    levels, spread = supposed(sums)
    alike = next(pair for pair in pairs if {pair.one, pair.two} == {"Bobbin", "Thimble"})
    room = 0.05 + 3 * sqrt(0.05 * 0.95 / trials)
    fine = alike.planned <= room and alike.any_pair <= room
    top = float(levels.max())
    lines = [
        "",
        f"## The made-up trial, {trials:,} other seeds",
        "",
        f"Last count of annual meadow-grass; spread from plot to plot"
        f" {sqrt(sums.ms / trials):.1f} points on average. Shares are"
        " [judged as angles](../decisions/0018-shares-are-judged-as-angles.md). The promise is that"
        " of a set-out which supposed the true levels, the spread at the trial's own level"
        f" ({100 * spread.sd(spread.level):.1f} points at {100 * spread.level:.0f} %) and the"
        " clumping that frames show.",
        "",
        "Bobbin and Thimble are truly alike there: told apart in"
        f" {100 * alike.planned:.1f} % as a planned pair and in {100 * alike.any_pair:.1f} % as any"
        f" pair (goal at most 5 %: {'met' if fine else 'not met'}). A pair alike at"
        f" {100 * top:.0f} %, the most that any mixture has, would be in"
        f" {100 * alike_at(sums, top):.1f} % as a planned pair.",
        "",
        _met(pairs, trials),
        "",
        "| pair | mean gap | planned: found | promised | any pair: found | promised | |",
        "|---|---|---|---|---|---|---|",
    ]
    return lines + [_row(pair, trials) for pair in sorted(pairs, key=lambda each: each.gap)]


def _met(pairs: list[PairRate], trials: int) -> str:
    planned, any_pair = (
        sum(within(*each, trials) for each in rates)
        for rates in (
            [(pair.planned, pair.promised) for pair in pairs],
            [(pair.any_pair, pair.promised_any) for pair in pairs],
        )
    )
    found = 100 * float(np.mean([pair.planned for pair in pairs]))
    promised = 100 * float(np.mean([pair.promised for pair in pairs]))
    return (
        f"Within three binomial standard errors of the promise: {planned} of {len(pairs)} pairs as"
        f" planned pairs, {any_pair} of {len(pairs)} as any pair. Over all pairs {found:.1f} % were"
        f" found as planned pairs and {promised:.1f} % promised."
    )


def _row(pair: PairRate, trials: int) -> str:
    met = within(pair.planned, pair.promised, trials) and within(
        pair.any_pair, pair.promised_any, trials
    )
    return (
        f"| {pair.one}, {pair.two} | {pair.gap:.1f} | {100 * pair.planned:.1f} % |"
        f" {100 * pair.promised:.1f} % | {100 * pair.any_pair:.1f} % |"
        f" {100 * pair.promised_any:.1f} % | {'met' if met else 'not met'} |"
    )
