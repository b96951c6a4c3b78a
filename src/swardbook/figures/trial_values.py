"""The plan of a trial with a figure on each plot: dots that grow denser, and the figure itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from swardbook.figures.mowing_lines import WIDE, page, text
from swardbook.figures.picture import INK, QUIET, Picture, Table
from swardbook.husbandry.ground import Plot

CLASSES = 5
_HIGH = 52.0
_GAP = 10.0
_SHADES = ("#ffffff", "#eef2e6", "#dbe4cb", "#c3d2ab", "#a9bf8a")
"""Pale enough for dark words on them; the dots tell the class without colour."""


@dataclass(frozen=True, slots=True)
class ValuesDrawn:
    """What is drawn of a trial.

    Parameters
    ----------
    sentence : str
        What it shows.
    plots : tuple of Plot
        The plots, with their rows and columns.
    figures : mapping of str to float
        Plot to its figure; those left out or not read are absent. [`unit`]
    out : mapping of str to str
        Plot to why it does not count.
    unit : str
        Unit of the figures.
    """

    sentence: str
    plots: tuple[Plot, ...]
    figures: Mapping[str, float]
    out: Mapping[str, str]
    unit: str


def picture_of_values(drawn: ValuesDrawn, note: str = "") -> Picture:
    """Draw the plan with a figure on each plot.

    Parameters
    ----------
    drawn : ValuesDrawn
        What is drawn.
    note : str
        What has to stand beside it.
    """
    edges = class_edges(list(drawn.figures.values()))
    columns = max(plot.column for plot in drawn.plots)
    rows = sorted({plot.row for plot in drawn.plots}, reverse=True)
    wide = (WIDE - _GAP) / columns
    blocks = {plot.row: plot.block for plot in drawn.plots}
    tops, top = {}, 0.0
    for place, row in enumerate(rows):
        if place and blocks[row] != blocks[rows[place - 1]]:
            top += _GAP
        tops[row] = top
        top += _HIGH
    mark = sha256(repr((drawn.sentence, sorted(drawn.figures.items()))).encode()).hexdigest()[:8]
    parts = [_patterns(mark)]
    parts += [_plot(plot, drawn, edges, (wide, tops[plot.row]), mark) for plot in drawn.plots]
    spans = ", ".join(
        f"{name} {low:.0f} to {high:.0f}"
        for name, low, high in zip(_DOTS, edges, edges[1:], strict=False)
    )
    key = (
        f"{note} Denser dots: more ({spans} {drawn.unit}). Crossed out: does not count. Block 1 is"
        " at the bottom; gaps part the blocks."
    ).strip()
    table = Table(
        "Plots", ("plot", "mixture", drawn.unit, "left out"),
        tuple(
            (plot.name, plot.mixture,
             f"{drawn.figures[plot.name]:.0f}" if plot.name in drawn.figures else "",
             drawn.out.get(plot.name, ""))
            for plot in drawn.plots
        ),
    )  # fmt: skip
    return page(drawn.sentence, key, "".join(parts), top, table)


_DOTS = ("plain", "few dots", "some", "many", "dense")


def class_edges(figures: Sequence[float]) -> list[float]:
    """Part figures into equal steps from the lowest to the highest [unit of the figures]."""
    low, high = (min(figures), max(figures)) if figures else (0.0, 1.0)
    step = (high - low) / CLASSES or 1.0
    return [low + step * at for at in range(CLASSES + 1)]


def _plot(
    plot: Plot, drawn: ValuesDrawn, edges: Sequence[float], place: tuple[float, float], mark: str
) -> str:
    wide, top = place
    left = (plot.column - 1) * wide + _GAP / 2
    figure = drawn.figures.get(plot.name)
    fill = "none"
    if figure is not None and plot.name not in drawn.out:
        at = min(sum(figure >= edge for edge in edges[1:]), CLASSES - 1)
        fill = f"url(#v{mark}-{at})"
    inner, high = wide - 3, _HIGH - 3
    middle = left + inner / 2
    words = [
        _back(middle, top + 15, 7 * max(len(plot.mixture), len(plot.name))),
        text((middle, top + 14), plot.name, "middle", 10),
        text((middle, top + 27), plot.mixture, "middle", min(11.0, inner / 6.2)),
    ]
    if figure is not None:
        words.append(text((middle, top + 43), f"{figure:.0f}", "middle", 13, "bold"))
    cross = ""
    if plot.name in drawn.out:
        cross = (
            f'<path d="M{left:.1f} {top:.1f} l{inner:.1f} {high:.1f} M{left + inner:.1f} {top:.1f}'
            f' l{-inner:.1f} {high:.1f}" stroke="{QUIET}" stroke-width="1"/>'
        )
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{inner:.1f}" height="{high:.1f}" fill="{fill}"'
        f' stroke="{INK}"/>{cross}{"".join(words)}'
    )


def _back(middle: float, top: float, wide: float) -> str:
    """Lay a pale ground under words, so that dots do not run through them."""
    return (
        f'<rect x="{middle - wide / 2:.1f}" y="{top - 11:.1f}" width="{wide:.1f}" height="42"'
        ' fill="white" fill-opacity="0.94"/>'
    )


def _patterns(mark: str) -> str:
    """Five patterns: the same dots, more of them."""
    spots = [(3, 3), (9, 9), (9, 3), (3, 9), (6, 6)]
    found = []
    for at, shade in enumerate(_SHADES):
        size = 0.0 if at == 0 else 0.9 + 0.25 * at
        dots = "".join(
            f'<circle cx="{x}" cy="{y}" r="{size:g}" fill="{INK}"/>'
            for x, y in spots[: at + (at > 3)]
        )
        found.append(
            f'<pattern id="v{mark}-{at}" width="12" height="12" patternUnits="userSpaceOnUse">'
            f'<rect width="12" height="12" fill="{shade}"/>{dots}</pattern>'
        )
    return "".join(found)
