"""The plan of the ground as a drawing: zones, plots, pegs and spots to scale, told by pattern."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from html import escape

from swardbook.figures.picture import Picture, Table
from swardbook.figures.plan_marks import PATTERNS, mark_shape, pattern_defs, sample
from swardbook.figures.plan_paper import (
    EDGE,
    Paper,
    label,
    north_mark,
    paper_for,
    scale_bar,
    small_label,
    words,
)
from swardbook.foundation.units import METRIC, Units

Point = tuple[float, float]
Ring = tuple[Point, ...]
WIDE, NARROW = 680.0, 344.0
"""Width of the drawing for a desk and for a phone held upright. [px]"""


@dataclass(frozen=True, slots=True)
class Area:
    """A part of the ground that is drawn as an area.

    Parameters
    ----------
    kind : str
        ``zone``, ``plot``, ``strip`` or ``square``.
    name : str
        What it is called.
    rings : tuple
        Its edge and its holes, east and north. [m]
    pattern : str
        A pattern of `plan_marks.PATTERNS`.
    says : str
        What is to be said of it.
    zone : str
        The zone it lies in; its own name for a zone.
    is_drawn : bool
        Whether somebody drew it; else it is laid out by its area.
    """

    kind: str
    name: str
    rings: tuple[Ring, ...]
    pattern: str
    says: str
    zone: str
    is_drawn: bool = True


@dataclass(frozen=True, slots=True)
class Mark:
    """A point of the ground.

    Parameters
    ----------
    kind : str
        ``peg``, ``spot`` or ``point``.
    name : str
        What it is called.
    at : tuple of float
        East and north. [m]
    shape : str
        A shape of `plan_marks.SHAPES`.
    says : str
        What is to be said of it.
    zone : str
        The zone it lies in; empty for none.
    label : str
        What is written beside it.
    size : int
        From 1 to 4; 0 is small.
    """

    kind: str
    name: str
    at: Point
    shape: str
    says: str
    zone: str = ""
    label: str = ""
    size: int = 1


@dataclass(frozen=True, slots=True)
class Under:
    """A picture under the plan.

    Parameters
    ----------
    address : str
        Where the page finds it.
    wide_px, high_px : int
        Its size. [px]
    on_picture, on_ground : tuple of (float, float)
        Two points, from its top left [px] and on the ground. [m]
    """

    address: str
    wide_px: int
    high_px: int
    on_picture: Ring
    on_ground: Ring


@dataclass(frozen=True, slots=True)
class GroundDrawn:
    """What is drawn of the ground.

    Parameters
    ----------
    sentence, key : str
        What it shows, and what has to be known to read it.
    areas : tuple of Area
        Areas; larger ones are drawn first.
    marks : tuple of Mark
        Points, drawn over them.
    legend : tuple of (str, str)
        A pattern or shape, and what it means.
    north_deg : float
        Where north lies, clockwise from the top. [°]
    tables : tuple of Table
        The same in words.
    under : Under or None
        A picture under it.
    """

    sentence: str
    key: str
    areas: tuple[Area, ...]
    marks: tuple[Mark, ...] = ()
    legend: tuple[tuple[str, str], ...] = ()
    north_deg: float = 0.0
    tables: tuple[Table, ...] = ()
    under: Under | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """The drawing and how its pixels lie on the ground.

    Parameters
    ----------
    svg : str
        The drawing.
    west_m, north_m : float
        The ground at the drawing's top left. [m]
    px_per_m : float
        Its scale. [px m⁻¹]
    keys : tuple of (int, str)
        Numbers that stand in for names with no room.
    """

    svg: str
    west_m: float
    north_m: float
    px_per_m: float
    keys: tuple[tuple[int, str], ...] = field(default=())


def picture_of_ground(drawn: GroundDrawn, note: str = "", wide: float = WIDE) -> Picture:
    """Draw the plan with its words, to be printed or kept.

    Parameters
    ----------
    drawn : GroundDrawn
        What is drawn.
    note : str
        What has to stand beside it.
    wide : float
        Width of the drawing. [px]
    """
    key = f"{note} {drawn.key}".strip()
    paper, body, numbered = _body(drawn, wide, {})
    legend = [("", f"{n}: {name}") for n, name in numbered] + list(drawn.legend)
    above = words(EDGE, EDGE, drawn.sentence, key, wide)
    top = EDGE + above.high
    below = [
        f'<g transform="translate({EDGE + 210 * (n % _columns(wide)):.0f},'
        f'{top + paper.high + 22 + 22 * (n // _columns(wide)):.1f})">{sample(each, told)}</g>'
        for n, (each, told) in enumerate(legend)
    ]
    rows = -(-len(legend) // _columns(wide))
    high = top + paper.high + 22 + 22 * rows + EDGE
    inside = (
        f'<rect class="paper" width="{wide + 2 * EDGE:.0f}" height="{high:.0f}" fill="white"/>'
        f'{above.svg}<g transform="translate({EDGE:.0f},{top:.1f})">{body}</g>{"".join(below)}'
    )
    told = f"{key} {' '.join(_spoken(table) for table in drawn.tables)}".strip()
    svg = _whole(inside, wide + 2 * EDGE, high, drawn.sentence, told, 'role="img"')
    return Picture(drawn.sentence, key, svg, drawn.tables, {})


def plan_for_page(
    drawn: GroundDrawn, links: Mapping[tuple[str, str, str], str] | None = None,
    wide: float = WIDE, units: Units = METRIC,
) -> Drawn:  # fmt: skip
    """Draw the plan for a page: no title of its own, what can be opened is a link with a name.

    Parameters
    ----------
    drawn : GroundDrawn
        What is drawn.
    links : mapping
        Address by kind, zone and name.
    wide : float
        Width of the drawing. [px]
    units : Units
        What its bar of length is in.
    """
    paper, body, numbered = _body(drawn, wide, links or {}, units)
    inside = (
        f'<rect class="paper" width="{wide:.0f}" height="{paper.high:.0f}" fill="white"/>{body}'
    )
    about = (
        f'class="plan" role="group" data-west="{paper.west:.4f}" data-north="{paper.north:.4f}"'
        f' data-scale="{paper.scale:.6f}"'
    )
    svg = _whole(inside, wide, paper.high, drawn.sentence, drawn.key, about)
    return Drawn(svg, paper.west, paper.north, paper.scale, numbered)


def legend_for_page(drawn: GroundDrawn, page: Drawn) -> str:
    """Draw what patterns, shapes and numbers mean, one under the other.

    Parameters
    ----------
    drawn : GroundDrawn
        What is drawn.
    page : Drawn
        The drawing it goes with.
    """
    lines = [("", f"{n}: {name}") for n, name in page.keys] + list(drawn.legend)
    mark = sha256(repr(lines).encode()).hexdigest()[:8]
    rows = "".join(
        f'<g transform="translate(2,{14 + 24 * n})">{sample(each, told)}</g>'
        for n, (each, told) in enumerate(lines)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="plan key" width="330"'
        f' height="{24 * len(lines) + 4}" viewBox="0 0 330 {24 * len(lines) + 4}" role="img"'
        f' aria-labelledby="k{mark}"><title id="k{mark}">'
        f"{escape('; '.join(told for _, told in lines))}</title>{rows}</svg>\n"
    )


def _columns(wide: float) -> int:
    return max(int(wide // 210), 1)


def _body(
    drawn: GroundDrawn,
    wide: float,
    links: Mapping[tuple[str, str, str], str],
    units: Units = METRIC,
) -> tuple[Paper, str, tuple[tuple[int, str], ...]]:
    paper = paper_for([ring for area in drawn.areas for ring in area.rings],
                      [mark.at for mark in drawn.marks], wide)  # fmt: skip
    mark = sha256(repr((drawn, wide)).encode()).hexdigest()[:8]
    parts = [pattern_defs(mark)]
    if drawn.under is not None:
        parts.append(_under(drawn.under, paper))
    numbered: list[tuple[int, str]] = []
    over, taken = [], [paper.place(each.at) for each in drawn.marks]
    for area in drawn.areas:
        address = links.get((area.kind, area.zone, area.name), "")
        parts.append(_linked(_area(area, paper, mark), address, area.name, area.says))
        if area.kind == "plot":
            parts.append(small_label(area.rings[0], area.name, paper))
        if area.kind == "zone":
            said, has_room = label(area.rings, area.name, paper, len(numbered) + 1, taken)
            over.append(said)
            if not has_room:
                numbered.append((len(numbered) + 1, area.name))
    for each, (x, y) in zip(drawn.marks, taken, strict=True):
        address = links.get((each.kind, each.zone, each.name), "")
        shape = mark_shape(each.shape, x, y, each.size, each.label, wide)
        parts.append(_linked(shape, address, each.name, each.says))
    parts += over
    parts += [scale_bar(paper, wide, units), north_mark(wide, drawn.north_deg)]
    return paper, "".join(parts), tuple(numbered)


def _area(area: Area, paper: Paper, mark: str) -> str:
    path = " ".join(
        "M" + " L".join(f"{x:.1f} {y:.1f}" for x, y in map(paper.place, ring)) + " Z"
        for ring in area.rings
    )
    dash = "" if area.is_drawn else ' stroke-dasharray="7 4"'
    thick = {"zone": 1.6, "plot": 0.8, "strip": 0.8, "square": 1.2}[area.kind]
    ground = (
        ""
        if area.kind != "zone"
        else f'<path class="ground" d="{path}" fill="white" fill-rule="evenodd"/>'
    )
    fill = f"url(#{area.pattern}-{mark})" if PATTERNS[area.pattern] else "none"
    return (
        f'{ground}<path class="{area.kind}" d="{path}" fill="{fill}" fill-rule="evenodd"'
        f' stroke="#1b1b1b" stroke-width="{thick}"{dash}/>'
    )


def _linked(shape: str, address: str, name: str, says: str) -> str:
    told = escape(f"{name}: {says}" if says else name)
    inside = f"<g><title>{told}</title>{shape}</g>"
    if not address:
        return inside
    return f'<a href="{escape(address)}" aria-label="{told}">{inside}</a>'


def _under(under: Under, paper: Paper) -> str:
    """Turn, stretch alike and shift the picture so that its two points come to lie right."""
    (x1, y1), (x2, y2) = under.on_picture
    (u1, v1), (u2, v2) = (paper.place(point) for point in under.on_ground)
    one, other = complex(x2 - x1, y2 - y1), complex(u2 - u1, v2 - v1)
    turn = other / one
    shift = complex(u1, v1) - turn * complex(x1, y1)
    return (
        f'<image class="under" href="{escape(under.address)}" width="{under.wide_px}"'
        f' height="{under.high_px}" opacity="0.6" transform="matrix({turn.real:.6f}'
        f' {turn.imag:.6f} {-turn.imag:.6f} {turn.real:.6f} {shift.real:.3f} {shift.imag:.3f})"/>'
    )


def _whole(inside: str, wide: float, high: float, title: str, told: str, about: str) -> str:
    mark = sha256((inside + told).encode()).hexdigest()[:10]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.0f}" height="{high:.0f}"'
        f' viewBox="0 0 {wide:.0f} {high:.0f}" {about} aria-labelledby="p{mark}-t"'
        f' aria-describedby="p{mark}-d"><title id="p{mark}-t">{escape(title)}</title>'
        f'<desc id="p{mark}-d">{escape(told)}</desc>{inside}</svg>\n'
    )


def _spoken(table: Table) -> str:
    rows = ("; ".join(f"{head}: {cell}" for head, cell in zip(table.heads, row, strict=True))
            for row in table.rows)  # fmt: skip
    return f"{table.name}. {'. '.join(rows)}."
