"""Trials in which nothing differs, drawn and analysed in every way."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import sqrt

import numpy as np

from swardbook.trials.analysis import analyse, analyse_after, latin_square
from swardbook.trials.dunnett import against_control
from swardbook.trials.glm import count_model, share_model
from swardbook.trials.means import Means
from swardbook.trials.ordinal import null_scores
from swardbook.trials.pairs import all_pairs, planned_p
from swardbook.trials.permuting import shuffle_within_blocks
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.reml import fit_components
from swardbook.trials.repeated import split_plot_in_time
from swardbook.trials.several import together
from swardbook.trials.shares import judged_by_level
from swardbook.trials.spatial import spatial_means
from swardbook.trials.strata import split_plot

SHUFFLES = 399
Chance = np.random.Generator
Found = Mapping[str, float]
"""Name of an analysis to its chance (p) in one trial."""


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
    entry, block, _names = plan(5, 5)
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


def levels_case(chance: Chance) -> Found:
    """Clumped points, judged at the levels that were found."""
    entry, block, names = plan(5, 5)
    share = 1 / (1 + np.exp(-(-1.5 + 0.4 * chance.normal(size=5)[block.codes])))
    hits = chance.binomial(100, chance.beta(20 * share, 20 * (1 - share))).astype(float)

    def made(figures: Array) -> Means:
        return analyse(PlotTable(names, entry, figures, block)).means

    by_level = judged_by_level(made(hits), hits, np.full(25, 100.0), made)
    return {
        "points, judged by level, a planned pair, t": float(planned_p(by_level)[0, 1]),
        "points, judged by level, any of all pairs": float(
            all_pairs(by_level).p[np.triu_indices(5, 1)].min()
        ),
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
    means = spatial_means(root @ chance.normal(size=40), entry, x, y, "exponential")
    return {"neighbours taken as alike, a pair, t": float(planned_p(means)[0, 1])}


CASES: dict[str, Callable[[Chance], Found]] = {
    "blocks": blocks_case, "latin": latin_case, "split": split_case,
    "components": components_case, "time": time_case, "counts": counts_case,
    "several": several_case, "ground": ground_case, "levels": levels_case,
}  # fmt: skip
TIMES = {"levels": 5}
"""How many times as many trials as usual: a quick case whose rate lies near its goal's end."""
SHOWN_ONLY = ("split plot in time, mixtures by dates, not corrected",)
"""Shown for what the correction is worth; no goal."""
