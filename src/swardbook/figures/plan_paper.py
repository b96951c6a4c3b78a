"""The paper of the plan: from metres to pixels, room for names, the scale bar and north."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from textwrap import wrap

import numpy as np
from numpy.typing import NDArray

from swardbook.figures.picture import FONT, INK, QUIET
from swardbook.foundation.units import METRIC, Units

Point = tuple[float, float]
Values = NDArray[np.float64]
Ring = tuple[Point, ...]
EDGE = 24.0
_MARGIN, _FOOT = 26.0, 30.0
"""Room round the ground, and below it for the scale bar. [px]"""
_TALLEST = 1.6
_LETTER = 0.56
"""Width of a letter against its height, about."""
_STEPS = 20
_SIZE, _SMALL, _FREE = 12.0, 9.0, 16.0
"""Size of names, of names of plots, and what is room enough round a name. [px]"""
_BARS = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


@dataclass(frozen=True, slots=True)
class Paper:
    """How the ground lies on the paper.

    Parameters
    ----------
    west, north : float
        The ground at the top left. [m]
    scale : float
        Pixels to a metre. [px m⁻¹]
    wide, high : float
        Size of the paper. [px]
    """

    west: float
    north: float
    scale: float
    wide: float
    high: float

    def place(self, point: Point) -> Point:
        """Give where a point of the ground lies on the paper [px]."""
        return (point[0] - self.west) * self.scale, (self.north - point[1]) * self.scale


@dataclass(frozen=True, slots=True)
class Words:
    """Lines of text, and how high they stand [px]."""

    svg: str
    high: float


def paper_for(rings: Sequence[Ring], points: Sequence[Point], wide: float) -> Paper:
    """Choose the scale so that all is seen and nothing is too tall.

    Parameters
    ----------
    rings, points : sequence
        What is drawn. [m]
    wide : float
        Width of the paper. [px]
    """
    every = [point for ring in rings for point in ring] + list(points) or [(0.0, 0.0)]
    west, east = min(x for x, _ in every), max(x for x, _ in every)
    south, north = min(y for _, y in every), max(y for _, y in every)
    room = wide - 2 * _MARGIN
    scale = room / max(east - west, (north - south) / _TALLEST, 1.0)
    left = (wide - (east - west) * scale) / 2
    high = (north - south) * scale + 2 * _MARGIN + _FOOT
    return Paper(west - left / scale, north + _MARGIN / scale, scale, wide, high)


def words(left: float, top: float, sentence: str, key: str, wide: float) -> Words:
    """Write the title and what has to be known to read the plan.

    Parameters
    ----------
    left, top : float
        Where. [px]
    sentence, key : str
        The words.
    wide : float
        Room. [px]
    """
    titles, notes = wrap(sentence, int(wide / 8)), wrap(key, int(wide / 6.4))
    lines = [_text(left, top + 12 + 20 * n, part, 15, INK, "bold") for n, part in enumerate(titles)]
    under = top + 20 * len(titles)
    lines += [_text(left, under + 12 + 16 * n, part, 12, QUIET) for n, part in enumerate(notes)]
    return Words("".join(lines), 20 * len(titles) + 16 * len(notes) + 8)


def label(
    rings: Sequence[Ring], name: str, paper: Paper, number: int, taken: Sequence[Point]
) -> tuple[str, bool]:
    """Write a zone's name where there is most room; a number where there is none.

    Parameters
    ----------
    rings : sequence of tuple
        Edge and holes. [m]
    name : str
        The name.
    paper : Paper
        The paper.
    number : int
        The number to write instead.
    taken : sequence of tuple
        Where marks stand. [px]
    """
    drawn = [[paper.place(point) for point in ring] for ring in rings]
    places = _roomiest(drawn, taken)
    for lines in (name,), _halves(name):
        wide = max(len(line) for line in lines) * _SIZE * _LETTER / 2 + 2
        high = _SIZE * len(lines) / 2 + 1
        for x, y in places:
            if _fits(drawn, x, y, wide, high):
                first = y + _SIZE * 0.35 - (len(lines) - 1) * _SIZE / 2
                return "".join(
                    _text(x, first + n * _SIZE, line, _SIZE, INK, "bold", "middle", halo=True)
                    for n, line in enumerate(lines)
                ), True  # fmt: skip
    x, y = places[0] if places else drawn[0][0]
    return _text(x, y + 4, str(number), _SIZE, INK, "bold", "middle", halo=True), False


def small_label(ring: Ring, name: str, paper: Paper) -> str:
    """Write a plot's name in its middle, if there is room."""
    drawn = [paper.place(point) for point in ring]
    x, y = (sum(each[n] for each in drawn) / len(drawn) for n in (0, 1))
    if not _fits([drawn], x, y, len(name) * _SMALL * _LETTER / 2 + 1, _SMALL / 2):
        return ""
    return _text(x, y + 3, name, _SMALL, INK, "normal", "middle", halo=True)


def scale_bar(paper: Paper, wide: float, units: Units = METRIC) -> str:
    """Draw a bar of a round length with its length beside it.

    Parameters
    ----------
    paper : Paper
        The paper.
    wide : float
        Its width. [px]
    units : Units
        What its length is given in.
    """
    unit = units.unit("m", 1.0)
    name, size = ("m", paper.scale) if unit is None else (unit.name, paper.scale / unit.factor)
    length = max((bar for bar in _BARS if bar * size <= wide * 0.3), default=_BARS[0])
    long, y = length * size, paper.high - 14
    told = f"{units.marked(f'{length:g}')} {name}"
    bar = (
        f'<path class="sign" d="M{_MARGIN:g} {y - 5:.1f} L{_MARGIN:g} {y:.1f}'
        f" L{_MARGIN + long:.1f} {y:.1f} L{_MARGIN + long:.1f} {y - 5:.1f}"
        f' M{_MARGIN + long / 2:.1f} {y:.1f} L{_MARGIN + long / 2:.1f} {y - 3:.1f}"'
        f' fill="none" stroke="{INK}" stroke-width="1.4"/>'
    )
    return f"<g>{bar}{_text(_MARGIN + long + 8, y + 2, told, 12, INK)}</g>"


def north_mark(wide: float, north_deg: float) -> str:
    """Draw which way north lies.

    Parameters
    ----------
    wide : float
        Width of the paper. [px]
    north_deg : float
        Clockwise from the top. [°]
    """
    needle = (
        f'<path class="solid" d="M0 -9 L4 8 L0 4 Z" fill="{INK}"/>'
        f'<path class="sign" d="M0 -9 L-4 8 L0 4 Z" fill="white" stroke="{INK}"/>'
    )
    letter = _text(0, -11, "N", 10, INK, "bold", "middle")
    return (
        f'<g transform="translate({wide - 16:.1f},22)"><title>North</title>'
        f'<g transform="rotate({north_deg:.1f})">{needle}{letter}</g></g>'
    )


def _halves(name: str) -> tuple[str, ...]:
    parts = name.split()
    if len(parts) < 2:
        return (name,)
    best = min(range(1, len(parts)),
               key=lambda n: max(len(" ".join(parts[:n])), len(" ".join(parts[n:]))))  # fmt: skip
    return " ".join(parts[:best]), " ".join(parts[best:])


def _roomiest(rings: Sequence[Sequence[Point]], taken: Sequence[Point]) -> list[Point]:
    """List places inside, those far from edges and marks and near the middle first."""
    west, east = min(x for x, _ in rings[0]), max(x for x, _ in rings[0])
    top, foot = min(y for _, y in rings[0]), max(y for _, y in rings[0])
    middle, half = (west + east) / 2, max(east - west, 1.0) / 2
    near = [each for each in taken
            if west - 9 <= each[0] <= east + 9 and top - 9 <= each[1] <= foot + 9]  # fmt: skip
    steps = np.arange(1, _STEPS) / _STEPS
    x, y = (each.ravel() for each in np.meshgrid(
        west + (east - west) * steps, top + (foot - top) * steps))  # fmt: skip
    is_in = _inside(rings, x, y)
    x, y = x[is_in], y[is_in]
    edge = np.min([_to_edge(ring, x, y) for ring in rings], axis=0)
    free = np.full(len(x), float(_FREE))
    for px, py in near:
        free = np.minimum(free, np.maximum(abs(x - px) / 3, abs(y - py)))
    room = np.minimum(edge, _FREE) + 2 * free - 4 * abs(x - middle) / half
    found = zip((-room).tolist(), zip(x.tolist(), y.tolist(), strict=True), strict=True)
    return [place for _, place in sorted(found)]


def _fits(rings: Sequence[Sequence[Point]], x: float, y: float, wide: float, high: float) -> bool:
    across, up = np.meshgrid([-1, -0.5, 0, 0.5, 1], [-1, 1])
    return bool(_inside(rings, x + wide * across.ravel(), y + high * up.ravel()).all())


def _inside(rings: Sequence[Sequence[Point]], x: Values, y: Values) -> NDArray[np.bool_]:
    """Tell which places [n] lie inside."""
    inside = np.zeros(len(x), dtype=np.bool_)
    for ring in rings:
        for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if y1 != y2:
                is_level = (y1 > y) != (y2 > y)
                inside ^= is_level & (x < x1 + (y - y1) * (x2 - x1) / (y2 - y1))
    return inside


def _to_edge(ring: Sequence[Point], x: Values, y: Values) -> Values:
    """Give how far places [n] are from the edge."""
    nearest = np.full(len(x), np.inf)
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        dx, dy = x2 - x1, y2 - y1
        long = dx * dx + dy * dy
        share = np.clip(((x - x1) * dx + (y - y1) * dy) / (long or 1.0), 0.0, 1.0)
        nearest = np.minimum(nearest, np.hypot(x - x1 - share * dx, y - y1 - share * dy))
    return nearest


def _text(
    x: float, y: float, told: str, size: float, fill: str, weight: str = "normal",
    anchor: str = "start", *, halo: bool = False,
) -> str:  # fmt: skip
    edge = ' stroke="white" stroke-width="3" paint-order="stroke"' if halo else ""
    return (
        f'<text class="letters{" halo" if halo else ""}" x="{x:.1f}" y="{y:.1f}"'
        f' text-anchor="{anchor}" font-family="{FONT}" font-size="{size:g}"'
        f' font-weight="{weight}" fill="{fill}"{edge}>{escape(told)}</text>'
    )
