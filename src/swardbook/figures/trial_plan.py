"""The plan of a trial as it lies on the ground: plots by number and mixture, guards and paths."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.figures.mowing_lines import WIDE, page, text
from swardbook.figures.picture import INK, PALE, QUIET, Picture, Table
from swardbook.foundation.unit_words import column
from swardbook.foundation.units import METRIC, Units
from swardbook.trials.layout import Laid, LaidPlot

_SMALL = 9.5
_LETTER = 0.56
"""Width of a letter against its height, about."""


@dataclass(frozen=True, slots=True)
class PlanDrawn:
    """What is drawn of a trial.

    Parameters
    ----------
    title : str
        What it is, in one line.
    laid : Laid
        Where plots lie.
    order : str
        How plots came by their places.
    ends, sides : tuple of str
        Words for the first and last end, and for left and right; empty if not said.
    controls : frozenset of str
        Entries that are not sown.
    """

    title: str
    laid: Laid
    order: str
    ends: tuple[str, str]
    sides: tuple[str, str]
    controls: frozenset[str]


def picture_of_plan(drawn: PlanDrawn, note: str = "", units: Units = METRIC) -> Picture:
    """Draw the plan of a trial.

    Parameters
    ----------
    drawn : PlanDrawn
        What is drawn.
    note : str
        What has to stand beside it.
    units : Units
        What quantities are shown in.
    """
    laid = drawn.laid
    first, last = drawn.ends[0] or "the first end", drawn.ends[1] or "the last end"
    lies = "Block 1 is on the left" if _lies(laid) else "Block 1 is at the bottom"
    order = f"{drawn.order[0].upper()}{drawn.order[1:]}."
    key = (
        f"{note} {lies}, at {first}; the other end is {last}. Hatched: not sown. Dashed: guard."
        f" {order}"
    ).strip()
    scale = WIDE / (laid.length_m if _lies(laid) else laid.width_m)
    parts = [_hatch(), _outline(drawn, scale)]
    parts += [_plot(plot, drawn, scale) for plot in laid.plots]
    left, across = _lying("m from the left", laid, 0, laid.size.width_m, units)
    first_end, along = _lying("m from the first end", laid, 1, laid.size.length_m, units)
    rows = tuple(
        (plot.name, plot.slot.entry, plot.slot.treatment, *places)
        for plot, *places in zip(laid.plots, across, along, strict=True)
    )
    heads = ("plot", "mixture", "gets", left, first_end)
    high = (laid.width_m if _lies(laid) else laid.length_m) * scale
    return page(f"{drawn.title}.", key, "".join(parts), high, Table("Plots", heads, rows))


def _lying(head: str, laid: Laid, at: int, side_m: float, units: Units) -> tuple[str, list[str]]:
    """Give the head and the cells of where plots lie, one way, in the units chosen."""
    corners = [plot.corner_m[at] for plot in laid.plots]
    return column(head, [f"{corner:.2f} to {corner + side_m:.2f}" for corner in corners], units)


def _lies(laid: Laid) -> bool:
    """Tell whether the plan is drawn lying, its first end on the left."""
    return laid.length_m > laid.width_m


def _box(laid: Laid, corner: tuple[float, float], size: tuple[float, float], scale: float
         ) -> tuple[float, float, float, float]:  # fmt: skip
    """Left, top, width and height on the page of an oblong on the ground."""
    (x, y), (wide, long) = corner, size
    if _lies(laid):
        return y * scale, x * scale, long * scale, wide * scale
    return x * scale, (laid.length_m - y - long) * scale, wide * scale, long * scale


def _outline(drawn: PlanDrawn, scale: float) -> str:
    laid = drawn.laid
    left, top, wide, high = _box(laid, (0.0, 0.0), (laid.width_m, laid.length_m), scale)
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{high:.1f}" fill="none"'
        f' stroke="{QUIET}" stroke-dasharray="6 4"/>'
    )


def _plot(plot: LaidPlot, drawn: PlanDrawn, scale: float) -> str:
    laid = drawn.laid
    sides = (laid.size.width_m, laid.size.length_m)
    left, top, wide, high = _box(laid, plot.corner_m, sides, scale)
    fill = "url(#zone)" if plot.slot.entry in drawn.controls else "white"
    lines = [(plot.name, 11.0, "bold"), (plot.slot.entry, _SMALL, "normal")]
    if plot.slot.treatment:
        lines.append((plot.slot.treatment, _SMALL, "normal"))
    first = top + high / 2 - 6.5 * (len(lines) - 1) + 4
    words = [
        text((left + wide / 2, first + 13 * n), told, "middle",
             min(size, wide / (_LETTER * max(len(told), 1))), weight)
        for n, (told, size, weight) in enumerate(lines)
    ]  # fmt: skip
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{high:.1f}"'
        f' fill="{fill}" stroke="{INK}"/>{"".join(words)}'
    )


def _hatch() -> str:
    return (
        '<pattern id="zone" width="7" height="7" patternUnits="userSpaceOnUse"'
        f' patternTransform="rotate(45)"><rect width="7" height="7" fill="white"/>'
        f'<line x1="0" y1="0" x2="0" y2="7" stroke="{PALE}" stroke-width="5"/></pattern>'
    )
