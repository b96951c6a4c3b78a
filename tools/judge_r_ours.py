"""Our figures of the trials that R is asked about."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

import numpy as np

from swardbook.evidence.counts import density, poisson_exact
from swardbook.evidence.proportions import clopper_pearson, jeffreys
from swardbook.trials.analysis import Analysis, analyse
from swardbook.trials.glm import count_model, deviances
from swardbook.trials.ordinal import ordinal_model
from swardbook.trials.over_dates import Alike, lines_over_time
from swardbook.trials.pairs import all_pairs
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.power import chance_pair
from swardbook.trials.reml import fit_components
from swardbook.trials.spatial import spatial_fit
from swardbook.trials.strata import split_plot

Figures = dict[tuple[str, str], float]
Own = dict[str, float]
Rows = list[dict[str, str]]
INSECTS = [0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4]
"""Insects on 12 plots after spray C: Beall, G., 1942, Biometrika 32, 243-262."""


def _rows(path: Path) -> Rows:
    with path.open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _factor(rows: Rows, name: str) -> Factor:
    return Factor.of(name, [row[name] for row in rows])


def _column(rows: Rows, name: str) -> Array:
    return np.array([float(row[name]) for row in rows])


def _table(rows: Rows, values: Array, entry: str, block: str = "") -> PlotTable:
    names = tuple(str(number) for number in range(len(rows)))
    return PlotTable(
        names, _factor(rows, entry), values, _factor(rows, block) if block else None
    )  # fmt: skip


def _lines(made: Analysis) -> Own:
    found: Own = {}
    for at, line in enumerate((*(each.line for each in made.lines), made.error), 1):
        found |= {f"ss {at}": line.ss, f"df {at}": float(line.df)}
    for at, each in enumerate(made.lines, 1):
        found |= {f"F {at}": each.f, f"p {at}": each.p}
    return found


def _with_pairs(made: Analysis) -> Own:
    p, names = all_pairs(made.means).p, made.means.names
    pairs = {
        " ".join(("tukey", *sorted((names[one], names[two])))): float(p[one, two])
        for one in range(len(names)) for two in range(one)
    }  # fmt: skip
    return {**_lines(made), **pairs}


def immer(tables: Path, _: Path) -> Own:
    """Barley of 1931 and 1932."""
    rows = _rows(tables / "immer.csv")
    values = (_column(rows, "Y1") + _column(rows, "Y2")) / 2
    return _with_pairs(analyse(_table(rows, values, "Var", "Loc")))


def strawberry(tables: Path, _: Path) -> Own:
    """Strawberries in blocks."""
    rows = _rows(tables / "strawberry_yield.csv")
    return _with_pairs(analyse(_table(rows, _column(rows, "yield"), "gen", "block")))


def missing_plot(tables: Path, _: Path) -> Own:
    """The same with a plot missing."""
    rows = [row for row in _rows(tables / "strawberry_yield.csv")
            if (row["block"], row["gen"]) != ("B2", "E")]  # fmt: skip
    made = analyse(_table(rows, _column(rows, "yield"), "gen", "block"))
    one, two = made.means.place("E"), made.means.place("F")
    return {
        "ms": made.error.ms, "df": float(made.error.df),
        "mean E": float(made.means.values[one]), "sed E F": float(made.means.errors[one, two]),
    }  # fmt: skip


def oats(tables: Path, _: Path) -> Own:
    """A split plot, by sums and by components."""
    rows = _rows(tables / "oats.csv")
    block, whole, sub = (_factor(rows, name) for name in "BVN")
    figures = _column(rows, "Y")
    made = split_plot(figures, block, whole, sub)
    wholes, within = made.strata[1:]
    model = fit_components(
        figures, [(whole,), (sub,), (whole, sub)], [(block,), (block.by(whole),)]
    )
    return {
        "F whole": wholes.tests()[0].f, "F within": within.tests()[0].f,
        "F together": within.tests()[1].f, "ms whole": wholes.error.ms,
        "ms within": within.error.ms, "component V:B": float(model.variances[1]),
        "component B": float(model.variances[0]), "component Residual": float(model.variances[2]),
        "reml": model.deviance,
    }  # fmt: skip


def germination(tables: Path, _: Path) -> Own:
    """Germination by warmth and concentration."""
    rows = _rows(tables / "seed_germination.csv")
    warmth, dose = _factor(rows, "temp"), _factor(rows, "conc")
    lines, left, _df = deviances(
        _column(rows, "germ"), _column(rows, "seeds"), [(warmth,), (dose,), (warmth, dose)]
    )
    return {**{f"deviance {at}": each for at, (each, _n) in enumerate(lines, 1)},
            "deviance left": left}  # fmt: skip


def insects_alone(_: Path, __: Path) -> Own:
    """Counts that clump."""
    table = Factor.of("all", ["all"] * len(INSECTS))
    model = count_model(np.array(INSECTS, dtype=float), table)
    return {"clumping": density(INSECTS, [1.0] * len(INSECTS)).clumping,
            "log-likelihood": model.log_likelihood}  # fmt: skip


def shares(_: Path, __: Path) -> Own:
    """Ranges of a share."""
    found: Own = {}
    for hits in (0, 1, 3):
        low, high = clopper_pearson(hits, 50)
        found |= {f"exact low {hits}": low, f"exact high {hits}": high,
                  f"flat low {hits}": jeffreys(hits, 50).low}  # fmt: skip
    return found


def single_counts(_: Path, __: Path) -> Own:
    """Ranges of a count."""
    return {
        f"{end} {count}": each
        for count in (5, 20, 107)
        for end, each in zip(("low", "high"), poisson_exact(count), strict=True)
    }


def power(_: Path, __: Path) -> Own:
    """Chance to find a gap of 15 % of the mean, six entries, plots that vary by 10 %."""
    return {
        f"repeats {n}": chance_pair(15, 10 * float(np.sqrt(2 / n)), 5 * (n - 1))
        for n in (3, 4, 6, 8)
    }


def insects_by_roots(_: Path, sets: Path) -> Own:
    """Insects by spray, on roots."""
    rows = _rows(sets / "insectsprays.csv")
    return _lines(analyse(_table(rows, np.sqrt(_column(rows, "count")), "spray")))


def insects_clumped(_: Path, sets: Path) -> Own:
    """Insects by spray, clumped."""
    rows = _rows(sets / "insectsprays.csv")
    made = count_model(_column(rows, "count"), _factor(rows, "spray"))
    return {"clumping": made.clumping, "log-likelihood": made.log_likelihood}


def trees_by_lines(_: Path, sets: Path) -> Own:
    """Trees over time, each with a line of its own."""
    rows = sorted(_rows(sets / "sitka.csv"), key=lambda row: row["treat"])
    when = (_column(rows, "Time") - 150) / 50
    made = lines_over_time(
        _column(rows, "size"), _factor(rows, "tree"), _factor(rows, "treat"), when
    )
    figures = {f"figure {at}": float(each) for at, each in enumerate(made.values, 1)}
    return {"log-likelihood": made.log_likelihood, **figures}


def trees_fading(_: Path, sets: Path) -> Own:
    """Trees over time, near readings alike."""
    rows = sorted(_rows(sets / "sitka.csv"), key=lambda row: row["treat"])
    made = lines_over_time(
        _column(rows, "size"), _factor(rows, "tree"), _factor(rows, "treat"),
        _column(rows, "Time") - 150, Alike.FADING,
    )  # fmt: skip
    return {"log-likelihood": made.log_likelihood, "alike": float(made.fading or 0.0)}


def wheat(_: Path, sets: Path) -> Own:
    """Wheat whose neighbours are alike."""
    rows = _rows(sets / "wheat2.csv")
    made = spatial_fit(
        _column(rows, "yield"), _factor(rows, "variety"), _column(rows, "longitude"),
        _column(rows, "latitude"), "rational quadratic",
    )  # fmt: skip
    return {"log-likelihood": made.log_likelihood, "range": made.reach, "nugget": made.nugget}


def wine(_: Path, sets: Path) -> Own:
    """Ratings in steps, with judges and without."""
    rows = _rows(sets / "wine_ordinal.csv")
    steps = np.array([int(row["rating"]) - 1 for row in rows])
    design = np.array(
        [[row["temp"] == "warm", row["contact"] == "yes"] for row in rows], dtype=float
    )
    plain, by_judge = (
        ordinal_model(steps, design, *each) for each in ((), (_factor(rows, "judge"),))
    )
    return {
        "warm": float(plain.effects[0]), "contact": float(plain.effects[1]),
        "log-likelihood": plain.log_likelihood,
        "log-likelihood with judges": by_judge.log_likelihood,
    }  # fmt: skip


OURS: dict[str, Callable[[Path, Path], Own]] = {
    "immer": immer, "strawberry": strawberry, "missing_plot": missing_plot,
    "oats_splitplot": oats, "mead_germination": germination, "insect_C_nb": insects_alone,
    "binomial_ci": shares, "poisson_ci": single_counts, "power": power,
    "insect_sqrt": insects_by_roots, "insect_glm": insects_clumped, "sitka_lines": trees_by_lines,
    "sitka_fading": trees_fading, "wheat2_spatial": wheat, "wine": wine,
}  # fmt: skip
"""Each case: from the folder of printed trials and that of sets which R wrote."""
