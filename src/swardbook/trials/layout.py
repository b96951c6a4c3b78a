"""A drawn trial on the ground: where each plot lies, by two tapes, and how wide a plot is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor, hypot

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.trials.design import Drawn, Kind, Slot

_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class PlotSize:
    """How large a plot is, and how a mower goes over it.

    Parameters
    ----------
    width_m, length_m : float
        Sides; the mower goes along the length. [m]
    passes : int
        Passes across its width; 0 where no machine cuts it.
    overlap_m : float
        Overlap of two passes. [m]
    margin_m : float
        Edge that is not counted. [m]
    is_whole : bool
        Whether the width is a whole number of passes with a sensible overlap.
    """

    width_m: float
    length_m: float
    passes: int
    overlap_m: float
    margin_m: float
    is_whole: bool = True

    @property
    def area_m2(self) -> float:
        """Area that is sown [m²]."""
        return self.width_m * self.length_m

    @property
    def counted_m(self) -> tuple[float, float]:
        """Sides of what is counted [m]."""
        return self.width_m - 2 * self.margin_m, self.length_m - 2 * self.margin_m


@dataclass(frozen=True, slots=True)
class LaidPlot:
    """One plot on the ground.

    Parameters
    ----------
    slot : Slot
        What the draw put there.
    row, column : int
        Row and column on the whole ground, from 1 at the near left corner.
    corner_m : tuple of float
        Near left corner, from the left edge and from the first end, guards included. [m]
    """

    slot: Slot
    row: int
    column: int
    corner_m: tuple[float, float]

    @property
    def name(self) -> str:
        """Block and number, such as ``3-08``."""
        return f"{self.slot.block}-{self.slot.number:02d}"


@dataclass(frozen=True, slots=True)
class Laid:
    """A trial laid out.

    Parameters
    ----------
    plots : tuple of LaidPlot
        Its plots, in order.
    size : PlotSize
        Size of each.
    path_m, guard_m : float
        Path between blocks, and guard all round. [m]
    width_m, length_m : float
        Sides of the whole, guards included; the length runs from the first end. [m]
    """

    plots: tuple[LaidPlot, ...]
    size: PlotSize
    path_m: float
    guard_m: float
    width_m: float
    length_m: float

    @property
    def diagonal_m(self) -> float:
        """Corner to corner; both must be alike, or the corners are not square [m]."""
        return hypot(self.width_m, self.length_m)

    @property
    def across_m(self) -> tuple[float, ...]:
        """Marks along the tape at the first end: each edge of a column [m]."""
        return _edges((plot.corner_m[0], self.size.width_m) for plot in self.plots)

    @property
    def along_m(self) -> tuple[float, ...]:
        """Marks along the tape up the left side: each edge of a row [m]."""
        return _edges((plot.corner_m[1], self.size.length_m) for plot in self.plots)


def size_of_plot(
    mower_m: float | None, width_m: float | None = None, length_m: float | None = None,
    passes: int | None = None,
) -> PlotSize:  # fmt: skip
    """Give a plot's size in whole passes of the mower.

    Parameters
    ----------
    mower_m : float or None
        Width of the mower; None where nothing is cut by machine. [m]
    width_m, length_m : float or None
        As wanted; None takes passes of the mower, and the usual length. [m]
    passes : int or None
        Passes across its width; None takes the usual number, or what the width needs.

    Raises
    ------
    BadInputError
        If neither width nor mower is known, or width and passes do not go together.
    OutOfRangeError
        If a length has no meaning.
    """
    length = require("plot length", value("trial.plot_length") / 1000 if length_m is None
                     else length_m, 0.1, 100, "m")  # fmt: skip
    if mower_m is None:
        if width_m is None:
            raise BadInputError("the width of a plot", "none", "--plot, such as 1.5x2")
        return PlotSize(width_m, length, 0, 0.0, _margin(width_m, length))
    least = value("trial.overlap_least") / 1000
    if width_m is None:
        number = passes or round(value("trial.plot_passes"))
        usual = min(value("mowing.overlap") / 1000, mower_m / 4)
        width = floor((number * mower_m - (number - 1) * usual) * 100 + _SLACK) / 100
    else:
        width = require("plot width", width_m, 0.1, 50, "m")
        number = passes or _passes(width, mower_m, least)
    overlap = (number * mower_m - width) / (number - 1) if number > 1 else mower_m - width
    if overlap < -_SLACK:
        raise BadInputError(
            "the width of a plot", f"{width:g} m", f"at most {number * mower_m:.2f} m",
            f"{number} passes of {mower_m:.2f} m do not cover it.",
        )  # fmt: skip
    whole = least - _SLACK <= overlap <= mower_m / 4 if number > 1 else overlap <= mower_m / 4
    return PlotSize(width, length, number, max(overlap, 0.0), _margin(width, length), whole)


def whole_widths(mower_m: float, near_m: float) -> tuple[float, float]:
    """Give the nearest two plot widths that are whole passes with the usual overlap [m].

    Parameters
    ----------
    mower_m, near_m : float
        Width of the mower, and the width wanted. [m]
    """
    usual = min(value("mowing.overlap") / 1000, mower_m / 4)
    number = max(_passes(near_m, mower_m, usual) - 1, 1)
    first, second = (round(n * mower_m - (n - 1) * usual, 2) for n in (number, number + 1))
    return first, second


def lay(drawn: Drawn, size: PlotSize, path_m: float, guard_m: float) -> Laid:
    """Lay a drawn trial out: blocks one after another from the first end, strips side by side.

    Parameters
    ----------
    drawn : Drawn
        The draw.
    size : PlotSize
        Size of a plot.
    path_m, guard_m : float
        Path between blocks, and guard all round. [m]
    """
    path = require("path", path_m, 0, 20, "m")
    guard = require("guard", guard_m, 0, 20, "m")
    is_one = drawn.design.kind in {Kind.LATIN, Kind.ROW_COLUMN}
    beside = drawn.design.kind is Kind.STRIPS
    step = 0.0 if is_one else path
    row = column = 0
    along = across = guard
    plots: list[LaidPlot] = []
    for block in _blocks(drawn.slots):
        wide, deep = max(s.column for s in block), max(s.row for s in block)
        for slot in block:
            x = across + (slot.column - 1) * size.width_m
            y = along + (slot.row - 1) * size.length_m
            plots.append(
                LaidPlot(slot, row + slot.row, column + slot.column, (round(x, 4), round(y, 4)))
            )
        if beside:
            column, across = column + wide, across + wide * size.width_m + step
        else:
            row, along = row + deep, along + deep * size.length_m + step
    right = max(plot.corner_m[0] for plot in plots) + size.width_m
    far = max(plot.corner_m[1] for plot in plots) + size.length_m
    return Laid(tuple(plots), size, step, guard, round(right + guard, 4), round(far + guard, 4))


def fits(laid: Laid, sides_m: tuple[float, float]) -> tuple[bool, bool]:
    """Tell whether a trial fits with its length along the long side, and along the short one."""
    long, short = max(sides_m) + _SLACK, min(sides_m) + _SLACK
    return (
        laid.length_m <= long and laid.width_m <= short,
        laid.length_m <= short and laid.width_m <= long,
    )


def _passes(width: float, mower: float, overlap: float) -> int:
    number = 1
    while number * mower - (number - 1) * overlap < width - _SLACK and number < 200:
        number += 1
    return number


def _margin(width: float, length: float) -> float:
    return min(value("trial.margin") / 1000, width / 4, length / 4)


def _blocks(slots: Sequence[Slot]) -> list[list[Slot]]:
    found: dict[int, list[Slot]] = {}
    for slot in slots:
        found.setdefault(slot.block, []).append(slot)
    return list(found.values())


def _edges(spans: Iterable[tuple[float, float]]) -> tuple[float, ...]:
    edges = {round(edge, 3) for start, size in spans for edge in (start, start + size)}
    return tuple(sorted(edges))
