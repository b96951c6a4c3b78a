"""Hold the model against what was seen and write the page: `python -m tools.calibrate`."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from swardbook.handbook.parameters import parameter
from swardbook.handbook.sources import sources
from swardbook.model.calibration import Found, Moved, effective, likeness, moved
from swardbook.model.chance import Array
from swardbook.model.draws import is_drawn
from swardbook.model.parameters import SownKind, SownKinds, parameter_keys
from swardbook.model.start import start_keys
from tools.calibration_runs import CHANCE, find
from tools.calibration_targets import TARGETS

PAGE = Path(__file__).parents[1] / "docs" / "reference" / "calibration.md"
DRAWS = 4096
LEAST_DRAWS = 200
"""Effective draws below which nothing is said of ranges."""
SPECIES = (
    "perennial ryegrass", "tall fescue", "smooth-stalked meadow-grass", "creeping bent",
)  # fmt: skip
INTRODUCTION = """No number was fitted to this table; the few that were chosen after looking at it
are named in [the model](../explanation/model.md). Nothing here promises that a forecast is
right: it says where the model agrees with what was seen, and where it does not. Each row is one run
at the handbook's stated values and {draws:,} runs with numbers drawn from their ranges. **Inside**:
the median of the draws lies in the band. **Within the draws**: it does not, but their 90 % range
reaches the band. **Missed**: it does not reach it. A wide range with its middle in the band is no
strong agreement; *in band* says how many draws lie there. *No evidence* marks rows whose numbers
were chosen from the same work or sight: agreement there shows only that the sum was done right.
Bands are the published range, or the published value with a tolerance that is judged and stated."""


def number(value: float) -> str:
    """Write a number with no more digits than it bears."""
    if math.isinf(value):
        return "any"
    return f"{value:.2f}" if abs(value) < 10 and value != round(value) else f"{value:,.0f}"


def band(low: float, high: float) -> str:
    """Write a band."""
    if math.isinf(high):
        return f"{number(low)} or more"
    return number(low) if low == high else f"{number(low)} to {number(high)}"


def target_row(found: Found) -> str:
    """Write one row of the table."""
    low, middle, high = found.spread
    target = found.target
    work = sources()[target.source]
    source = "trade sight" if target.source == "practice" else f"{work.authors} {work.year}".strip()
    verdict = found.verdict + ("" if target.independent else " (no evidence)")
    share = float(((found.draws >= target.low) & (found.draws <= target.high)).mean())
    return (
        f"| {target.what} | {source}: {target.published} | {band(target.low, target.high)}"
        f" | {number(found.central)} | {number(middle)} ({number(low)} to {number(high)})"
        f" | {share:.0%} | {verdict} |"
    )


def notes(found: Sequence[Found]) -> list[str]:
    """Write what is not alike, and what each target informs."""
    return [
        f"- *{each.target.what}*: {each.target.place}. Informs "
        + ", ".join(f"`{key}`" for key in each.target.informs)
        + "."
        for each in found
    ]


def moved_row(row: Moved) -> str:
    """Write how one number's range would move."""
    unit = parameter(row.key).unit
    ranges = [f"{b:.3g} ({a:.3g} to {c:.3g})" for a, b, c in (row.before, row.after)]
    change = f"{row.shift:+.2f} | {row.narrowing:+.0%}"
    return f"| `{row.key}` | {unit} | {ranges[0]} | {ranges[1]} | {change} |"


def scores() -> dict[str, Array]:
    """Give the scores of every number the targets draw."""
    kinds = SownKinds(tuple(SownKind(name, 500.0) for name in SPECIES))
    keys = [key for key in (*parameter_keys(kinds), *start_keys(kinds.weeds)) if is_drawn(key)]
    return {key: CHANCE.normals(key, DRAWS) for key in dict.fromkeys(keys)}


def weighing(found: Sequence[Found]) -> list[str]:
    """Write how ranges would move if draws were weighed by the published values."""
    used = [each for each in found if each.target.likeness is not None]
    weights = likeness(used)
    left = effective(weights)
    told = [
        "## What the published values would say of the ranges",
        f"Draws weighed by how near they come to {len(used)} published values at once, with"
        " tolerances wide enough for another place and other weather ("
        + "; ".join(
            f"{e.target.key} {number(e.target.likeness[0])} ± {number(e.target.likeness[1])}"
            for e in used if e.target.likeness
        )
        + f"). The weight rests on {left:,.0f} of {DRAWS:,} draws.",
    ]  # fmt: skip
    if left < LEAST_DRAWS:
        return [*told, "That is too few to say anything of ranges."]
    rows = moved(scores(), weights)
    table = [
        "| number | unit | drawn: median (90 % range) | so weighed | median moves, in standard"
        " deviations | narrower by |",
        "|---|---|---|---|---|---|",
        *(moved_row(row) for row in rows),
    ]
    return [
        *told,
        "\n".join(table),
        "Only numbers that move by more than three standard errors are shown; the others stay as"
        " they are within chance. **The handbook's ranges are left as they are**:"
        " the values are few, from one trial each, and read in abstracts; the"
        " clippings trial was on a fairway far from a lawn; and each tolerance is judged. What"
        " learns is your own counts.",
    ]


def page(found: Sequence[Found]) -> str:
    """Write the page."""
    fair = [each for each in found if each.target.independent]
    counts = {
        word: sum(each.verdict == word for each in fair)
        for word in ("inside", "within the draws", "missed")
    }
    not_inside = [each for each in found if each.verdict != "inside"]
    heads = "what | seen | band | at stated values | draws: median (90 % range) | in band | verdict"
    table = [f"| {heads} |", "|---" * 7 + "|", *(target_row(each) for each in found)]
    parts = [
        "# How the model stands against what was seen",
        "<!-- Written by `make calibrate`. -->",
        INTRODUCTION.format(draws=DRAWS).replace("\n", " "),
        f"Of {len(fair)} rows that could have gone wrong, {counts['inside']} are inside,"
        f" {counts['within the draws']} within the draws, {counts['missed']} missed.",
        "\n".join(table),
        "## Not inside",
        "\n".join(f"- {each.target.what}: {each.verdict}." for each in not_inside) or "None.",
        *weighing(found),
        "## What is not alike, and what each informs",
        "\n".join(notes(found)),
        "What the model holds and cannot show: [the model](../explanation/model.md).",
    ]
    return "\n\n".join(parts) + "\n"


def main() -> None:
    """Run every target and write the page."""
    found = []
    for target, measure in TARGETS:
        found.append(find(target, measure, DRAWS))
        print(f"{found[-1].verdict:18}{target.what}: {found[-1].central:.3g}, {found[-1].spread}")
    PAGE.write_text(page(found), encoding="utf-8")


if __name__ == "__main__":
    main()
