"""Lines to follow over an oblong, drawn to scale: one way white, the other way shaded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from math import atan2, cos, degrees, radians, sin
from textwrap import wrap
from xml.sax.saxutils import escape

from swardbook.figures.picture import FONT, INK, PALE, QUIET, TEXT, Picture, Table, head_words
from swardbook.husbandry.passes import Pass

WIDE, EDGE, LETTERS = 640.0, 24.0, 84
_NUMBERED = 14
"""Passes that have room for a number; of more, only some are numbered."""


@dataclass(frozen=True, slots=True)
class LinesDrawn:
    """What is drawn of a plan of lines.

    Parameters
    ----------
    zone : str
        Name of the zone.
    sides_m : tuple of float
        Long and short side. [m]
    passes : tuple of Pass
        The passes in their order.
    width_m : float
        Width that the machine works. [m]
    line_deg : float
        Direction against the long side. [°]
    laps : int
        Laps round the edge first.
    last_deg : float or None
        The last line; None where it was not noted. [°]
    work : str
        What is done along them.
    """

    zone: str
    sides_m: tuple[float, float]
    passes: tuple[Pass, ...]
    width_m: float
    line_deg: float
    laps: int
    last_deg: float | None = None
    work: str = "cut"


def picture_of_lines(drawn: LinesDrawn, note: str = "") -> Picture:
    """Draw the lines to follow.

    Parameters
    ----------
    drawn : LinesDrawn
        What is drawn.
    note : str
        What has to stand beside it.
    """
    long, short = drawn.sides_m
    laps = f" after {drawn.laps} lap{'s' * (drawn.laps > 1)} round the edge" if drawn.laps else ""
    sentence = (
        f"{drawn.zone}: {len(drawn.passes)} passes to {drawn.work} at {drawn.line_deg:.0f}°"
        f" against the long side{laps}."
    )
    last = "" if drawn.last_deg is None else f" Dashed: the last line, {drawn.last_deg:.0f}°."
    key = f"{note} Pointed ends show the way; shaded passes come back.{last}".strip()
    rows = [
        (f"{n}", f"{one.start[0]:.2f}, {one.start[1]:.2f}", f"{one.end[0]:.2f}, {one.end[1]:.2f}",
         f"{one.length_m:.1f}")
        for n, one in enumerate(drawn.passes, 1)
    ]  # fmt: skip
    heads = ("pass", "from: m along, m across", "to: m along, m across", "m")
    return page(sentence, key, _body(drawn, WIDE / long, (long, short)), short * WIDE / long,
                 Table("Passes", heads, tuple(rows)))  # fmt: skip


def _body(drawn: LinesDrawn, scale: float, sides: tuple[float, float]) -> str:
    long, short = sides[0] * scale, sides[1] * scale
    every = max(-(-len(drawn.passes) // _NUMBERED), 1)
    parts = [f'<clipPath id="zone"><rect width="{long:.1f}" height="{short:.1f}"/></clipPath>']
    inside = []
    for n, one in enumerate(drawn.passes):
        (x, y), (x2, y2) = ((a * scale, short - b * scale) for a, b in (one.start, one.end))
        if n % 2:
            inside.append(_line((x, y), (x2, y2), PALE, drawn.width_m * scale))
        if n % every == 0:
            inside += [_line((x, y), (x2, y2), QUIET, 1), _head((x, y), (x2, y2))]
    if drawn.last_deg is not None:
        turn, reach = radians(drawn.last_deg), long
        cx, cy, dx, dy = long / 2, short / 2, reach * cos(turn), -reach * sin(turn)
        inside.append(_line((cx - dx, cy - dy), (cx + dx, cy + dy), INK, 1.5, "9 6"))
    parts.append(f'<g clip-path="url(#zone)">{"".join(inside)}</g>')
    parts.append(
        f'<rect width="{long:.1f}" height="{short:.1f}" fill="none" stroke="{INK}"'
        ' stroke-width="1.5"/>'
    )
    for n, one in enumerate(drawn.passes):
        if n % every == 0:
            x, y = one.start[0] * scale, short - one.start[1] * scale
            near = (min(max(x, 12), long - 12), min(max(y + 4, 12), short - 4))
            parts.append(text(near, f"{n + 1}", "middle"))
    return "".join(parts)


def page(sentence: str, key: str, body: str, high: float, table: Table) -> Picture:
    """Lay a drawing of a zone under its title and key."""
    titles, notes = wrap(sentence, LETTERS), wrap(key, LETTERS + 12)
    top = EDGE + 20 * len(titles) + 16 * len(notes) + 10
    words = [text((EDGE, EDGE + 12 + 20 * n), part, "start", 15, "bold")
             for n, part in enumerate(titles)]  # fmt: skip
    words += [text((EDGE, EDGE + 14 + 20 * len(titles) + 16 * n), part, "start", fill=QUIET)
              for n, part in enumerate(notes)]  # fmt: skip
    rows = ("; ".join(f"{head}: {cell}" for head, cell in zip(table.heads, row, strict=True))
            for row in table.rows)  # fmt: skip
    heard = f"{key} {table.name}. {'. '.join(rows)}."
    mark = sha256((sentence + key + body).encode()).hexdigest()[:10]
    width, height = WIDE + 2 * EDGE, top + high + EDGE
    head = head_words("".join(words), top - EDGE)
    body = body.replace('id="zone"', f'id="p{mark}-z"').replace("url(#zone)", f"url(#p{mark}-z)")
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}"'
        f' viewBox="0 0 {width:.0f} {height:.0f}" role="img" aria-labelledby="p{mark}-t"'
        f' aria-describedby="p{mark}-d"><title id="p{mark}-t">{escape(sentence)}</title>'
        f'<desc id="p{mark}-d">{escape(heard)}</desc>'
        f'<rect width="{width:.0f}" height="{height:.0f}" fill="white"/>{head}'
        f'<g transform="translate({EDGE:g},{top:g})">{body}</g></svg>\n'
    )
    return Picture(sentence, key, svg, (table,), {})


def _line(
    one: tuple[float, float], other: tuple[float, float], ink: str, wide: float, dash: str = ""
) -> str:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{one[0]:.1f}" y1="{one[1]:.1f}" x2="{other[0]:.1f}" y2="{other[1]:.1f}"'
        f' stroke="{ink}" stroke-width="{wide:.1f}"{dashed}/>'
    )


def _head(one: tuple[float, float], other: tuple[float, float]) -> str:
    turn = degrees(atan2(other[1] - one[1], other[0] - one[0]))
    x, y = (one[n] + (other[n] - one[n]) * 0.8 for n in (0, 1))
    return (
        f'<path d="M7 0 L-5 5 L-5 -5 Z" fill="{INK}"'
        f' transform="translate({x:.1f},{y:.1f}) rotate({turn:.1f})"/>'
    )


def text(
    place: Sequence[float], words: str, anchor: str, size: float = TEXT, weight: str = "normal",
    fill: str = INK,
) -> str:  # fmt: skip
    """Write words at a place of a drawing."""
    return (
        f'<text x="{place[0]:.1f}" y="{place[1]:.1f}" text-anchor="{anchor}" font-family="{FONT}"'
        f' font-size="{size:g}" font-weight="{weight}" fill="{fill}">{escape(words)}</text>'
    )
