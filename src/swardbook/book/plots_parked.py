"""Cells of a plot sheet that could not be taken: parked like any other row."""

from __future__ import annotations

from collections.abc import Mapping

from swardbook.foundation.quantities import read_number
from swardbook.handbook.traits import Trait
from swardbook.husbandry.parked import Parked
from swardbook.husbandry.plot_records import PlotReading

MEANT = "plots"
"""What such a parked row would be once taken in."""
PLOT = "plot"
_BESIDE = ("counter", "who", "rater", "note", "notes", "remark", "placement")


def parked_cell(
    source: str, line: int | None, trait: Trait, made: PlotReading, row: Mapping[str, str],
    plots: Mapping[str, object],
) -> Parked | None:  # fmt: skip
    """Park one cell that could not be taken; None for one that was, or that was blank.

    Parameters
    ----------
    source : str
        The file it stood in, or ``typed``.
    line : int or None
        Line of the file.
    trait : Trait
        What was read.
    made : PlotReading
        The reading as it was kept.
    row : mapping of str to str
        The cells of its row by heading.
    plots : mapping
        The trial's plots, by name in small letters.
    """
    if made.value is not None or not made.why_not or not made.as_typed:
        return None
    beside = {name: row[name] for name in _BESIDE if row.get(name)}
    cells = {PLOT: made.plot, trait.english: made.as_typed, **beside}
    about = {"trait": trait.english} | ({"counter": made.counter} if made.counter else {})
    if made.plot.casefold() not in plots:
        names = sorted(plots)
        allowed = f"{names[0]} to {names[-1]}" if names else "a plot of the trial"
        allowed = f"{allowed}, for its {trait.english}"
        return Parked(MEANT, source, line, PLOT, made.plot, allowed, "", cells, about)
    return Parked(
        MEANT, source, line, trait.english, made.as_typed,
        f"{trait.lowest:g} to {trait.highest:g}", _likely(trait, made.as_typed), cells, about,
    )  # fmt: skip


def _likely(trait: Trait, text: str) -> str:
    number = read_number(text)
    if number is None or not trait.lowest <= number / 10 <= trait.highest:
        return ""
    return f"{number / 10:g}?"
