"""The page and the table of the harder twin: how often the ranges held, and against what."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
from scipy.special import ndtri

from swardbook.evidence.proportions import wilson
from swardbook.evidence.scoring import crps_from_sample
from swardbook.model.programmes import programmes
from swardbook.observations.counts import Method
from tools.cases_on_file import Result
from tools.harder_twin import TARGETS, on_log, twin_of
from tools.twin_world import FILE, Twin, lawns, settings

LEVEL = 0.8
BAND = (0.72, 0.88)
"""How often a range of that level is to hold at least and at most."""
NAMES = {
    "june_cover": "cover on 1 June [%]",
    "june_plants": "plants on 1 June [m⁻²]",
    "october_cover": "cover next October [%]",
    "october_plants": "plants next October [m⁻²]",
}
_ABOUT = """{forecasts:,} forecasts were asked for on 1 November from the counts of a made-up world
that does not go by the model's book: other numbers, patchy ground, noise, a diary that is not quite
what was done, an uneven counter. Each of its faults was fixed, with its reason, in
[harder_twin.toml](../../tools/data/harder_twin.toml) before the first forecast was made, and none
has been changed since. The keeper counts the same 12 to 20 places in two Octobers; the look-ahead
learns from the book with {draws:,} draws (the product takes 4,096; all else is the product's) and
foretells annual meadow-grass on the next 1 June and next October under four programmes. Each
forecast is a row of [harder-twin.csv](harder-twin.csv)."""
_SCORES = """*Below* and *above*: how often what became lay under or over the range; each should be
10 %. A score is the mean continuous ranked probability score, here over tenfold steps so that a
lawn full of it does not drown all others; less is better. *Last count* takes it to persist with a
spread of {spread} on the log scale and its own places' (only what was counted can persist). *Other
years* knows what the same lawn came to under the same programme in the other 27 years, which no
keeper could."""
_QUANTILES = ndtri((np.arange(199) + 0.5) / 199)
RUNS_MADE = FILE.with_name("harder_twin_runs.toml")
"""Written by hand after each run."""
KEPT = ("low", "middle", "high", "truth", "crps_log", "last_log", "usual_log")
ABOUT_A_ROW = 8
Row = Mapping[str, Any]


def rows_of(results: Mapping[str, Result], truths: Mapping[str, Any]) -> list[Row]:
    """Give a row a forecast: what was foretold and became, and the scores of the yardsticks."""
    twins = {case: twin_of(case) for case in results}
    found: list[Row] = []
    for case, result in results.items():
        for plan in settings()["runs"]["programmes"]:
            row: dict[str, Any] = {
                "county": twins[case].county.name,
                "lawn": twins[case].lawn.key,
                "year": twins[case].year,
                "worked": result["way"],
                "programme": plan,
                "refused": int(bool(result["refusal"])),
                "full": int(result.get("full", False)),
                "effective": result.get("effective", ""),
            }
            if not result["refusal"]:
                for place, target in enumerate(TARGETS):
                    told = result["plans"][plan][place]
                    row |= _cells(target, told, _yardsticks(case, plan, place, twins, truths))
            found.append(row)
    return found


def table(rows: Sequence[Row]) -> str:
    """Write the rows as CSV, with what each forecast is judged by."""
    names = list(next(iter(rows), {}))[:ABOUT_A_ROW]
    names += [f"{target}_{kept}" for target in TARGETS for kept in KEPT]
    out = io.StringIO()
    writer = csv.DictWriter(out, names, restval="", extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def _cells(target: str, told: Mapping[str, Any], others: Mapping[str, Any]) -> dict[str, Any]:
    low, middle, high = told["range"]
    cells = {"low": low, "middle": middle, "high": high, "truth": told["truth"]}
    cells |= {"below": told["below"], "crps": told["crps"], "crps_log": told["crps_log"], **others}
    return {f"{target}_{name}": cell for name, cell in cells.items()}


def _yardsticks(
    case: str, plan: str, place: int, twins: Mapping[str, Twin], truths: Mapping[str, Any]
) -> dict[str, Any]:
    """Score what a plain keeper would say: the last count persists; as in other years."""
    twin, target = twins[case], TARGETS[place]
    truth = _became(truths[case], plan, place)
    others = [_became(truths[other], plan, place) for other in _other_years(twin, truths)]
    last = _last(twin.lawn.key, truths[case]["counts"][-1], target)
    told: dict[str, Any] = {}
    for name, sample in (("last", last), ("usual", others)):
        plain = log = None
        if sample is not None and len(sample):
            figures = np.array(sample)
            plain = crps_from_sample(figures, truth)
            log = crps_from_sample(on_log(target, figures), on_log(target, truth))
        told |= {name: _short(plain), f"{name}_log": _short(log)}
    return told


def _short(number: float | None) -> float | str:
    return "" if number is None else float(f"{number:.4g}")


def _became(truth: Mapping[str, Any], plan: str, place: int) -> float:
    day, which = divmod(place, 2)
    figure = float(truth["became"][plan][day][which])
    return figure if which else 100 * figure


def _other_years(twin: Twin, truths: Mapping[str, Any]) -> list[str]:
    """Name the same lawn in the other years."""
    same = f"{twin.county.name} {twin.lawn.key} "
    return [case for case in truths if case.startswith(same) and not case.endswith(f" {twin.year}")]


def _last(lawn: str, places: Sequence[Mapping[str, float]], target: str) -> Any:
    """Let the last count persist, with the spread of its places and of a year."""
    method, looked = lawns()[lawn].method, lawns()[lawn].looked
    if (method is Method.PLANTS) != target.endswith("plants"):
        return None
    about = settings()["yardstick"]
    found = np.array([place["annual meadow-grass"] for place in places])
    middle = (found.sum() + about["half"]) / (len(found) * looked)
    middle = middle if method is Method.PLANTS else 100 * middle
    mean = max(float(found.mean()), about["half"] / len(found))
    own = min(float(found.std(ddof=1)) / (mean * np.sqrt(len(found))), 1.0) if found.any() else 1.0
    spread = np.hypot(about["year_spread"], own)
    sample = middle * np.exp(spread * _QUANTILES)
    return np.minimum(sample, 100.0) if method is Method.POINTS else sample


def tonight(results: Mapping[str, Result]) -> str:
    """Say how often the ranges already held on the evening of the forecast."""
    told = [result["tonight"] for result in results.values() if "tonight" in result]
    if not told:
        return ""
    shares = []
    for place, name in enumerate(("cover", "plants")):
        ends = [(each[place]["range"], each[place]["truth"]) for each in told]
        held = np.mean([low <= truth <= high for (low, _, high), truth in ends])
        under = np.mean([truth < low for (low, _, _), truth in ends])
        shares.append(f"{name} {held:.0%} (below {under:.0%})")
    return (
        f"On the evening of the forecast itself the 80 % range held {' and '.join(shares)} of"
        f" {len(told)} lawns: what is missing there is missing in the learning, the rest ahead."
    )


def runs_so_far() -> str:
    """List every run that was made of the twin, whatever came out."""
    made = tomllib.loads(RUNS_MADE.read_text(encoding="utf-8")).get("run", [])
    lines = [
        "| run | luck | code | draws | forecasts | refused | held | what was new |",
        "|---" * 8 + "|",
    ]
    lines += [
        f"| {number} | {each['luck']} | {each['code']} | {each['draws']:,}"
        f" | {each['forecasts']:,} | {each['refused']} | {each['held']:.1%} | {each['new']} |"
        for number, each in enumerate(made, 1)
    ]
    return "\n".join(lines)


def page(rows: Sequence[Row], draws: int, note: str = "") -> str:
    """Write the page."""
    made = [row for row in rows if not row["refused"]]
    held = _share(made, TARGETS)
    is_met = BAND[0] <= held <= BAND[1]
    lawns_made = {(row["county"], row["lawn"], row["year"]) for row in made}
    away = _by_lawn(made)
    parts = [
        "# Forecasts for a harder twin",
        "<!-- Written by `make harder-twin`. -->",
        _ABOUT.format(forecasts=len(rows), draws=draws),
        f"**The 80 % range held {held:.1%} of the time** ({_sure(away)}; lawns are the unit,"
        f" since the four programmes of one share its counts). The goal is {BAND[0]:.0%} to"
        f" {BAND[1]:.0%}: {'met' if is_met else 'not met'}. {len(lawns_made)} lawns,"
        f" {len(made):,} forecasts of four ranges each; {len(rows) - len(made)} refused;"
        f" {sum(row['full'] for row in made):,} were full forecasts by the product's own rule."
        f" {_leaning(away)}",
        *([note] if note else []),
        "## By quantity",
        _quantities(made),
        _SCORES.format(spread=settings()["yardstick"]["year_spread"]),
        "## By programme",
        _groups(made, "programme", _plan_name),
        "## By the way it was worked before",
        _groups(made, "worked", _plan_name),
        "## By county",
        _groups(made, "county", str.capitalize),
        "## By kind of lawn",
        _groups(made, "lawn", lambda key: lawns()[key].says),
        "## By year",
        _groups(made, "year", str),
        "## Scores in their own units",
        _scores(made),
        _refusals(rows),
        "## Every run so far",
        "No run of more than a dozen lawns is left out. The twin was the same in all; *code* is the"
        " commit.",
        runs_so_far(),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _holds(row: Row, target: str) -> bool:
    return bool(row[f"{target}_low"] <= row[f"{target}_truth"] <= row[f"{target}_high"])


def _share(rows: Sequence[Row], targets: Sequence[str]) -> float:
    return float(np.mean([_holds(row, target) for row in rows for target in targets]))


def _by_lawn(rows: Sequence[Row]) -> list[float]:
    lawn: dict[tuple[Any, ...], list[bool]] = {}
    for row in rows:
        place = lawn.setdefault((row["county"], row["lawn"], row["year"]), [])
        place += [_holds(row, target) for target in TARGETS]
    return [float(np.mean(each)) for each in lawn.values()]


def _between(lawns_held: Sequence[float]) -> tuple[float, float]:
    """Give the 95 % interval of the share held, a lawn a unit."""
    n, held = len(lawns_held), float(np.mean(lawns_held))
    error = float(np.std(lawns_held, ddof=1) / np.sqrt(n)) if n > 1 else 1.0
    return max(held - 1.96 * error, 0.0), min(held + 1.96 * error, 1.0)


def _leaning(lawns_held: Sequence[float]) -> str:
    """Say plainly if the ranges are not as wide as they should be, goal or no goal."""
    low, high = _between(lawns_held)
    if high < LEVEL:
        return "Against such lawns the ranges are somewhat too narrow: perfect ones hold 80 %."
    return "The ranges are wider than they need be." if low > LEVEL else ""


def _sure(lawns_held: Sequence[float]) -> str:
    low, high = _between(lawns_held)
    return f"95 % interval {100 * low:.1f} to {100 * high:.1f}"


def _quantities(rows: Sequence[Row]) -> str:
    heads = "what | held | share | below | above | score | last count | other years"
    lines = [f"| {heads} |", "|---" * 8 + "|"]
    for target in TARGETS:
        hits = sum(_holds(row, target) for row in rows)
        sure = wilson(hits, len(rows))
        under = np.mean([row[f"{target}_truth"] < row[f"{target}_low"] for row in rows])
        over = np.mean([row[f"{target}_truth"] > row[f"{target}_high"] for row in rows])
        lines.append(
            f"| {NAMES[target]} | {hits:,} of {len(rows):,} | {hits / len(rows):.1%}"
            f" ({100 * sure.low:.1f} to {100 * sure.high:.1f}) | {under:.1%} | {over:.1%}"
            f" | {_against(rows, target, '_log')} |"
        )
    return "\n".join(lines)


def _against(rows: Sequence[Row], target: str, kind: str) -> str:
    """Mean score over all, and beside each yardstick's score ours on the same forecasts."""
    mine = np.mean([row[f"{target}_crps{kind}"] for row in rows])
    cells = [f"{mine:.3g}"]
    for name in ("last", "usual"):
        both = [
            (row[f"{target}_crps{kind}"], row[f"{target}_{name}{kind}"])
            for row in rows
            if row[f"{target}_{name}{kind}"] != ""
        ]
        ours, theirs = np.mean(both, axis=0) if both else (np.nan, np.nan)
        cells.append(f"{theirs:.3g} (ours there {ours:.3g})" if both else "not counted")
    return " | ".join(cells)


def _scores(rows: Sequence[Row]) -> str:
    lines = ["| what | score | last count | other years |", "|---" * 4 + "|"]
    lines += [f"| {NAMES[target]} | {_against(rows, target, '')} |" for target in TARGETS]
    return "\n".join(lines)


def _groups(rows: Sequence[Row], field: str, name: Callable[[Any], str]) -> str:
    heads = " | ".join(NAMES[target].split(" [")[0] for target in TARGETS)
    lines = [f"| | forecasts | all four | {heads} |", "|---" * 7 + "|"]
    for key in dict.fromkeys(row[field] for row in rows):
        mine = [row for row in rows if row[field] == key]
        shares = [_share(mine, TARGETS), *(_share(mine, [target]) for target in TARGETS)]
        lines.append(
            f"| {name(key)} | {len(mine):,} | " + " | ".join(f"{s:.0%}" for s in shares) + " |"
        )
    return "\n".join(lines)


def _plan_name(key: str) -> str:
    return programmes()[key].name


def _refusals(rows: Sequence[Row]) -> str:
    refused = [row for row in rows if row["refused"]]
    if not refused:
        return "No forecast was refused."
    where = dict.fromkeys(f"{row['county']} {row['lawn']} {row['year']}" for row in refused)
    return f"Refused, four programmes each: {', '.join(where)}."
