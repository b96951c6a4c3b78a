"""How often trials mislead, and how often they find what is there: `python -m tools.trial_runs`.

Two thousand trials in which nothing differs, for each analysis: it may call a difference in one of
twenty, no more and not far fewer. Two thousand other seeds of the made-up trial: two mixtures that
are truly alike may be told apart in one of twenty at most, and mixtures that differ must be found
as often as was promised before sowing. The page `docs/reference/trial-error-rates.md` is written
from one run. It takes some fifteen minutes on a quiet core.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import combinations
from math import sqrt
from pathlib import Path

import numpy as np

from swardbook.demo.trial_generator import AMG, COLUMNS, POINTS, draw_trial
from swardbook.trials.analysis import analyse, analyse_after, latin_square
from swardbook.trials.dunnett import against_control
from swardbook.trials.glm import count_model, share_model
from swardbook.trials.ordinal import null_scores
from swardbook.trials.pairs import all_pairs, planned_p
from swardbook.trials.permuting import shuffle_within_blocks
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.power import chance_any, chance_pair
from swardbook.trials.reml import fit_components
from swardbook.trials.repeated import split_plot_in_time
from swardbook.trials.several import together
from swardbook.trials.spatial import spatial_fit
from swardbook.trials.strata import split_plot

PAGE = Path(__file__).parents[1] / "docs" / "reference" / "trial-error-rates.md"
TRIALS = 2000
LEVEL = 0.05
SHUFFLES = 399
Chance = np.random.Generator
Found = Mapping[str, float]
"""Name of an analysis to its chance (p) in one trial."""


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


def plan(entries: int, blocks: int) -> tuple[Factor, Factor, tuple[str, ...]]:
    """Lay out complete blocks; the order within does not matter to what is drawn here."""
    size = entries * blocks
    return (
        Factor.of("mixture", [f"m{n % entries}" for n in range(size)]),
        Factor.of("block", [f"b{n // entries}" for n in range(size)]),
        tuple(str(n) for n in range(size)),
    )


def blocks_case(chance: Chance) -> Found:
    """Six mixtures in four blocks: F, pairs, control, a shuffle, a missing plot."""
    entry, block, names = plan(6, 4)
    values = chance.normal(size=24) + chance.normal(size=4)[block.codes]
    made = analyse(PlotTable(names, entry, values, block))
    keep = np.ones(24, dtype=bool)
    keep[chance.choice(24, 2, replace=False)] = False
    short = analyse(PlotTable(names, entry, values, block).only(keep))
    off = np.triu_indices(6, 1)
    return {
        "randomised blocks, F": made.entries.p,
        "randomised blocks, two plots missing, F": short.entries.p,
        "any of all pairs (Tukey)": float(all_pairs(made.means).p[off].min()),
        "any of all pairs, two plots missing (Tukey-Kramer)": float(
            all_pairs(short.means).p[np.triu_indices(short.means.count, 1)].min()
        ),
        "any against the control (Dunnett)": float(against_control(made.means, "m0").p.min()),
        "a planned pair, t": float(planned_p(made.means)[0, 1]),
        "shuffle within blocks": shuffle_within_blocks(
            values, entry, block, SHUFFLES, int(chance.integers(2**31))
        ).p,
    }


def latin_case(chance: Chance) -> Found:
    """A Latin square of five."""
    cells = [(r, c) for r in range(5) for c in range(5)]
    values = chance.normal(size=25) + np.array([r + 2.0 * c for r, c in cells])
    made = latin_square(
        values, Factor.of("mixture", [(r + c) % 5 for r, c in cells]),
        Factor.of("row", [r for r, _ in cells]), Factor.of("column", [c for _, c in cells]),
    )  # fmt: skip
    return {"Latin square, F": made.entries.p}


def split_case(chance: Chance) -> Found:
    """Three mixtures in four blocks, two heights within them."""
    cells = [(b, w, s) for b in range(4) for w in range(3) for s in range(2)]
    block, whole, sub = (
        Factor.of(name, [cell[at] for cell in cells])
        for at, name in enumerate(("block", "mixture", "height"))
    )
    plots = chance.normal(size=(4, 3))
    values = np.array([plots[b, w] for b, w, _ in cells]) + chance.normal(size=24)
    made = split_plot(values, block, whole, sub)
    between, within = made.strata[1].tests(), made.strata[2].tests()
    return {
        "split plot, whole plots": between[0].p,
        "split plot, within": within[0].p,
        "split plot, together": within[1].p,
    }


def components_case(chance: Chance) -> Found:
    """The same with a sub-plot missing, by components."""
    cells = [(b, w, s) for b in range(5) for w in range(3) for s in range(2)]
    del cells[int(chance.integers(30))]
    block, whole, sub = (
        Factor.of(name, [cell[at] for cell in cells])
        for at, name in enumerate(("block", "mixture", "height"))
    )
    plots = chance.normal(size=(5, 3))
    values = np.array([plots[b, w] for b, w, _ in cells]) + chance.normal(size=29)
    model = fit_components(values, [(whole,), (sub,)], [(block,), (block.by(whole),)], starts=1)
    return {
        "components (REML), a pair of whole plots": float(planned_p(model.means(whole))[0, 1]),
        "components (REML), a pair within": float(planned_p(model.means(sub))[0, 1]),
    }


def time_case(chance: Chance) -> Found:
    """Five dates of the same plots, each date like the one before."""
    entry, block, names = plan(5, 4)
    noise = chance.normal(size=(20, 5))
    for at in range(1, 5):
        noise[:, at] = 0.7 * noise[:, at - 1] + sqrt(1 - 0.49) * noise[:, at]
    made = split_plot_in_time(noise, entry, block)
    mean = analyse(PlotTable(names, entry, noise.mean(axis=1), block))
    return {
        "mean over time, F": mean.entries.p,
        "split plot in time, mixtures by dates, corrected": made.crossing.p,
        "split plot in time, mixtures by dates, not corrected": made.strata[2].tests()[1].p,
    }


def counts_case(chance: Chance) -> Found:
    """Clumped plants and clumped points, by their models' scores shuffled."""
    entry, block, _ = plan(5, 5)
    mean = 5 * np.exp(0.4 * chance.normal(size=5))[block.codes]
    plants = chance.negative_binomial(1.5, 1.5 / (1.5 + mean)).astype(float)
    if not plants.any():
        plants[int(chance.integers(25))] = 1.0
    share = 1 / (1 + np.exp(-(-1.5 + 0.4 * chance.normal(size=5)[block.codes])))
    hits = chance.binomial(100, chance.beta(20 * share, 20 * (1 - share))).astype(float)
    rating = np.clip(
        np.round(6 + chance.normal(size=25) + 0.5 * chance.normal(size=5)[block.codes]), 1, 9
    )
    steps = np.unique(rating, return_inverse=True)[1]

    def p(scores: Array) -> float:
        seed = int(chance.integers(2**31))
        return shuffle_within_blocks(scores, entry, block, SHUFFLES, seed).p

    return {
        "plants (negative binomial), shuffled scores": p(count_model(plants, entry, block).scores),
        "points (beta-binomial variance), shuffled scores": p(
            share_model(hits, np.full(25, 100.0), entry, block).scores
        ),
        "ratings, F": analyse_after(rating, entry, [block], "").entries.p,
        "ratings (ordinal), shuffled scores": p(null_scores(steps, block)),
    }


def several_case(chance: Chance) -> Found:
    """Four trials between which mixtures change."""
    entry, block, names = plan(5, 3)
    given = {
        f"t{t}": PlotTable(
            names, entry, chance.normal(size=15) + chance.normal(size=5)[entry.codes], block
        )
        for t in range(4)
    }
    return {"several trials together, F": together(given).over_trials.entries.p}


def ground_case(chance: Chance) -> Found:
    """Forty plots with likeness between neighbours, analysed with it."""
    x, y = (each.ravel().astype(float) for each in np.meshgrid(np.arange(8), np.arange(5)))
    entry = Factor.of("mixture", chance.permutation(np.repeat(np.arange(8), 5)).tolist())
    apart = np.hypot(x[:, None] - x, y[:, None] - y)
    root = np.linalg.cholesky(0.7 * np.exp(-apart / 2) + 0.3 * np.eye(40))
    made = spatial_fit(root @ chance.normal(size=40), entry, x, y, "exponential")
    return {"neighbours taken as alike, a pair, t": float(planned_p(made.means)[0, 1])}


CASES: dict[str, Callable[[Chance], Found]] = {
    "blocks": blocks_case, "latin": latin_case, "split": split_case,
    "components": components_case, "time": time_case, "counts": counts_case,
    "several": several_case, "ground": ground_case,
}  # fmt: skip
SHOWN_ONLY = ("split plot in time, mixtures by dates, not corrected",)
"""Shown for what the correction is worth; no goal."""


def null_rates(trials: int, tell: Callable[[str], None]) -> list[Rate]:
    """Run trials in which nothing differs."""
    rates = []
    for number, (key, case) in enumerate(CASES.items()):
        chance = np.random.Generator(np.random.Philox(key=4000 + number))
        counted: dict[str, int] = {}
        for _ in range(trials):
            for name, p in case(chance).items():
                counted[name] = counted.get(name, 0) + (p <= LEVEL)
        tell(f"{key}: {', '.join(f'{n} {c / trials:.3f}' for n, c in counted.items())}")
        rates += [Rate(name, count, trials) for name, count in counted.items()]
    return rates


def last_count(seed: int) -> PlotTable:
    """Draw the made-up trial with other luck: its last count, less plots mis-sown or spoilt."""
    trial = draw_trial(seed)
    amg = COLUMNS.index("amg")
    hits: dict[tuple[int, int], int] = {}
    for row in trial.rows:
        if row.occasion == 5:
            place = (row.block, row.plot)
            hits[place] = hits.get(place, 0) + row.hits[amg]
    places = [place for place in hits if place not in (trial.mis_sown, trial.spoiled)]
    return PlotTable(
        tuple(f"{b}-{n}" for b, n in places), Factor.of("mixture", [trial.plan[p] for p in places]),
        np.array([hits[place] / (4 * POINTS) * 100 for place in places]),
        Factor.of("block", [b for b, _ in places]),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PairRate:
    """A pair of the made-up trial over many seeds."""

    one: str
    two: str
    gap: float
    planned: float
    any_pair: float
    promised: float
    promised_any: float


def seeds_of_the_trial(trials: int, tell: Callable[[str], None]) -> tuple[list[PairRate], float]:
    """Count how often each pair is told apart over other seeds; gives also the spread of plots."""
    names = list(AMG)
    planned = np.zeros((10, 10))
    any_pair, gaps = np.zeros((10, 10)), np.zeros((10, 10))
    spreads, errors = [], np.zeros((10, 10))
    for seed in range(1, trials + 1):
        made = analyse(last_count(seed))
        order = [made.means.place(name) for name in names]
        at = np.ix_(order, order)
        planned += planned_p(made.means)[at] < LEVEL
        any_pair += all_pairs(made.means).p[at] < LEVEL
        values = made.means.values[order]
        gaps += values[:, None] - values
        errors += (made.means.errors[at] / made.spread) ** 2
        spreads.append(made.error.ms)
        if seed % 500 == 0:
            tell(f"{seed} of {trials} seeds")
    sd = sqrt(float(np.mean(spreads)))
    found = []
    for one, two in combinations(range(10), 2):
        gap, sed = abs(gaps[one, two]) / trials, sd * sqrt(errors[one, two] / trials)
        found.append(
            PairRate(
                names[one], names[two], gap, planned[one, two] / trials,
                any_pair[one, two] / trials, chance_pair(gap, sed, 25),
                chance_any(gap, sed, 25, 10),
            )
        )  # fmt: skip
    return found, sd


def promised_rates(trials: int) -> list[tuple[str, float, float, float]]:
    """Draw trials as set-out supposes them: how often gaps are found, and what was promised."""
    entry, block, names = plan(10, 4)
    chance = np.random.Generator(np.random.Philox(key=4100))
    sd = 6.3
    rows: list[tuple[str, float, float, float]] = []
    for gap in (5.0, 11.0, 16.0, 24.0):
        pair = any_pair = 0
        for _ in range(trials):
            values = sd * chance.normal(size=40) + 10 * chance.normal(size=4)[block.codes]
            values += gap * (entry.codes == 1)
            means = analyse(PlotTable(names, entry, values, block)).means
            pair += planned_p(means)[0, 1] < LEVEL
            any_pair += all_pairs(means).p[0, 1] < LEVEL
        sed = sd * sqrt(2 / 4)
        rows += [
            (f"a planned pair {gap:g} apart", pair / trials, chance_pair(gap, sed, 27), trials),
            (f"any pair, {gap:g} apart", any_pair / trials, chance_any(gap, sed, 27, 10), trials),
        ]
    return rows


def within(found: float, promised: float, trials: int) -> bool:
    """Tell whether a rate is within three binomial standard errors of what was promised."""
    return abs(found - promised) <= 3 * sqrt(max(promised * (1 - promised), 1 / trials) / trials)


def page(
    rates: list[Rate], promises: list[tuple[str, float, float, float]], pairs: list[PairRate],
    sd: float, trials: int,
) -> str:  # fmt: skip
    """Write the page."""
    lines = [
        "# How often trials mislead, and how often they find what is there",
        "",
        "<!-- Written by `make trial-runs`; nothing here is typed by hand. -->",
        "",
        f"A share of 5 % of {TRIALS:,} trials is good to half a point or so. A row of fewer trials"
        " says how many, and is good to less.",
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
        word = "met" if within(found, promised, int(number)) else "not met"
        lines.append(f"| {name} | {100 * found:.1f} % | {100 * promised:.1f} % | {word} |")
    lines += _pair_lines(pairs, sd, trials)
    return "\n".join(lines) + "\n"


def _pair_lines(pairs: list[PairRate], sd: float, trials: int) -> list[str]:
    alike = next(pair for pair in pairs if {pair.one, pair.two} == {"Bobbin", "Thimble"})
    room = 0.05 + 3 * sqrt(0.05 * 0.95 / trials)
    fine = alike.planned <= room and alike.any_pair <= room
    outside = [pair for pair in pairs if not within(pair.planned, pair.promised, trials)]
    mean_found = float(np.mean([pair.planned for pair in pairs]))
    mean_promised = float(np.mean([pair.promised for pair in pairs]))
    lines = [
        "",
        f"## The made-up trial, {trials:,} other seeds",
        "",
        f"Last count of annual meadow-grass; spread from plot to plot {sd:.1f} points on average."
        f" Bobbin and Thimble are truly alike there: told apart in {100 * alike.planned:.1f} % as a"
        f" planned pair and in {100 * alike.any_pair:.1f} % as any pair (goal at most 5 %:"
        f" {'met' if fine else 'not met'}).",
        "",
        f"Over all {len(pairs)} pairs {100 * mean_found:.1f} % were found as planned pairs and"
        f" {100 * mean_promised:.1f} % promised. Single pairs differ more: shares near 10 % vary"
        " less from plot to plot than shares near 40 %, while the analysis and the promise take one"
        f" spread for all. {len(outside)} of {len(pairs)} pairs lie further from the promise than"
        " three binomial standard errors; all are listed.",
        "",
        "| pair | mean gap | planned: found | promised | any pair: found | promised |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {p.one}, {p.two} | {p.gap:.1f} | {100 * p.planned:.1f} % | {100 * p.promised:.1f} % |"
        f" {100 * p.any_pair:.1f} % | {100 * p.promised_any:.1f} % |"
        for p in sorted(pairs, key=lambda p: p.gap)
    ]
    return lines


def main() -> None:
    """Run, and write the page."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--trials", type=int, default=TRIALS)
    parser.add_argument("--page", type=Path, default=PAGE)
    asked = parser.parse_args()
    tell = partial(print, flush=True)
    rates = null_rates(asked.trials, tell)
    promises = promised_rates(asked.trials)
    pairs, sd = seeds_of_the_trial(asked.trials, tell)
    asked.page.write_text(page(rates, promises, pairs, sd, asked.trials), encoding="utf-8")
    print(f"Written: {asked.page}")


if __name__ == "__main__":
    main()
