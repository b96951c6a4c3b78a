"""Lanes of work through a year, and the hours of each month, as parts of a picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from textwrap import wrap
from typing import TYPE_CHECKING, Any, TypeAlias

from swardbook.figures.picture import INK, NARROW, PALE, QUIET, data
from swardbook.model.programmes import Amount

if TYPE_CHECKING:
    from altair import Chart

    from swardbook.figures.picture import Panel

Drawn: TypeAlias = list[dict[str, Any]]
BOX, STROKE = "M-0.32,-1L-0.32,1L0.32,1L0.32,-1", "M0,-1L0,1"
MARKS = {
    "cut": (STROKE, 90.0), "boxed cut": (BOX, 90.0), "verticut": (STROKE, 130.0),
    "pull": ("circle", 34.0), "refill": ("cross", 70.0), "feed": ("diamond", 60.0),
    "water": (STROKE, 36.0),
}  # fmt: skip
"""Shape and size of a day of each kind of work; the lane's words name it too."""
BEFORE, NOW = "before", "now"
LEAST = 0.05
"""Hours of a month from which a bar is drawn. [h]"""
ROOM, LETTERS = 52, 48
"""Room left of the lanes for ``before`` and ``now`` [px], and letters in a line above a lane."""


@dataclass(frozen=True, slots=True)
class Lane:
    """One kind of work through a year.

    Parameters
    ----------
    kind : str
        A key of `MARKS`.
    name : str
        What it is, in words.
    detail : str
        Depth, dose or hours a week, in words; empty where there is nothing to say.
    days : tuple of date
        Its days.
    hours : Amount or None
        What it takes in the year; None where it goes along with other work. [h]
    lines : tuple of float
        The line taken on each of its days; empty where there is none. [°]
    at_most : bool
        Whether the hours are a bound: the ground decides how many are needed.
    """

    kind: str
    name: str
    detail: str
    days: tuple[date, ...]
    hours: Amount | None = None
    lines: tuple[float, ...] = ()
    at_most: bool = False


@dataclass(frozen=True, slots=True)
class ProgrammeYear:
    """A programme laid on a year of one zone.

    Parameters
    ----------
    name, zone : str
        Of the programme and the zone.
    months : tuple of date
        First day of each month of the year, and the day after the last.
    lanes : tuple of Lane
        The work that there is.
    without : tuple of str
        Kinds of work that are not in it.
    hours : Amount
        All of it, pulling at most. [h a year]
    by_month : tuple of float
        Middle hours of each month, pulling at most. [h]
    beside : tuple of str
        What the zone does not let it do.
    weather : str
        The weather it was laid on, in words.
    """

    name: str
    zone: str
    months: tuple[date, ...]
    lanes: tuple[Lane, ...]
    without: tuple[str, ...]
    hours: Amount
    by_month: tuple[float, ...]
    beside: tuple[str, ...] = ()
    weather: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of work: its words, and a row of marks for each programme, by name."""

    kind: str
    words: str
    lanes: tuple[tuple[Lane | None, str], ...]


def draw_lanes(rows: Sequence[Row], months: Sequence[date], width: int) -> Panel:
    """Draw lanes: a line of words each, and below it a row of marks for each programme."""
    import altair as alt

    words, marks, names, top = _laid_out(rows)
    height = top - 8
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[height, 0], nice=False, zero=False))
    x = _days(months)
    room = width - NARROW
    rules = alt.Chart(data(names)).mark_rule(stroke=PALE, strokeWidth=1).encode(
        y=y, x=alt.value(0), x2=alt.value(width)
    )  # fmt: skip
    layers: list[Any] = [rules]
    for kind, (shape, size) in MARKS.items():
        own = [each for each in marks if each["kind"] == kind]
        if own:
            layers.append(_shaped(alt.Chart(data(own)).encode(x=x, y=y), kind, shape, size))
    told = alt.Chart(data(words)).encode(y=y, x=alt.value(room), text="words:N")
    look: dict[str, Any] = {"align": "left", "baseline": "top", "lineBreak": "\n", "lineHeight": 15}
    layers.insert(1, told.mark_text(stroke="white", strokeWidth=6, **look))
    layers.append(told.mark_text(**look))
    if room:
        aside = alt.Chart(data(names)).mark_text(align="right", color=QUIET)
        layers.append(aside.encode(y=y, x=alt.value(-8), text="name:N"))
    return alt.layer(*layers).properties(width=width, height=height)


def _laid_out(rows: Sequence[Row]) -> tuple[Drawn, Drawn, Drawn, int]:
    """Put words, marks and names of rows at their heights; gives them and the height in all."""
    words: Drawn = []
    marks: Drawn = []
    names: Drawn = []
    top = 0
    for row in rows:
        lines = wrap(row.words, LETTERS)
        words.append({"y": top, "words": "\n".join(lines)})
        top += 15 * len(lines) - 4
        for lane, name in row.lanes:
            top += 18
            names.append({"y": top, "name": name})
            marks += _marks(row.kind, lane, top)
        top += 24
    return words, marks, names, top


def _shaped(base: Chart, kind: str, shape: str, size: float) -> Any:
    import altair as alt

    solid = kind in {"pull", "refill", "feed"}
    marked = base.mark_point(
        shape=shape, size=size, filled=solid, fill=INK if solid else "transparent", stroke=INK,
        strokeWidth=0 if solid else (1.4 if kind == "verticut" else 1), opacity=1,
    )  # fmt: skip
    if kind != "verticut":
        return marked
    return marked.encode(angle=alt.Angle("line:Q", scale=None))


def _marks(kind: str, lane: Lane | None, top: int) -> Iterator[dict[str, Any]]:
    if lane is None:
        return
    for at, day in enumerate(lane.days):
        line = lane.lines[at] if lane.lines else 0.0
        yield {"kind": kind, "day": day.isoformat(), "y": top, "line": line}


def draw_months(years: Sequence[tuple[str, ProgrammeYear]], width: int) -> Panel:
    """Draw the hours of each month; two programmes side by side, the one before as an outline."""
    import altair as alt

    rows = list(_bars(years))
    top = max((row["hours"] for row in rows), default=0.0) or 1.0
    axis = alt.Axis(
        tickCount=3, domain=False, ticks=False, labels=len(years) > 1, titleAnchor="end",
        titleAngle=0, titleAlign="left", titleX=width - NARROW, titleY=-14,
    )  # fmt: skip
    scale = alt.Scale(domain=[0, 1.15 * top], nice=False)
    y = alt.Y("hours:Q", title="hours a month, middle of the range", axis=axis, scale=scale)
    x = _days(years[0][1].months, "from")
    layers: list[Any] = []
    for name, _ in years:
        own = alt.Chart(data([row for row in rows if row["of"] == name]))
        fill = "white" if name == BEFORE else PALE
        bars = own.mark_rect(fill=fill, stroke=INK, strokeWidth=1, opacity=1)
        layers.append(bars.encode(x=x, x2="to:T", y=y, y2=alt.datum(0)))
        if len(years) == 1:
            figures = own.mark_text(align="left", baseline="bottom", dx=4, dy=-3)
            layers.append(figures.encode(x=x, y=y, text="said:N"))
    return alt.layer(*layers).properties(width=width, height=84)


def _bars(years: Sequence[tuple[str, ProgrammeYear]]) -> Iterator[dict[str, Any]]:
    """Give each month's bar; those of two programmes share the month."""
    for at, (name, year) in enumerate(years):
        for first, after, hours in zip(year.months, year.months[1:], year.by_month, strict=False):
            step = (after - first).days / len(years)
            low, high = at * step + 2 - at, (at + 1) * step - 1 - at
            if hours >= LEAST:
                yield {
                    "from": (first + timedelta(days=low)).isoformat(),
                    "to": (first + timedelta(days=high)).isoformat(),
                    "hours": round(hours, 3), "of": name,
                    "said": f"{hours:.0f}" if hours >= 0.5 else "",
                }  # fmt: skip


def _days(months: Sequence[date], field: str = "day") -> Any:
    import altair as alt

    starts = [each.isoformat() for each in months]
    axis = alt.Axis(
        title=None, values=starts[:-1], labelExpr="utcFormat(datum.value, '%b')", labelAlign="left",
        labelOffset=3, ticks=False, grid=True, domain=False, labelOverlap=False, labelPadding=4,
    )  # fmt: skip
    scale = alt.Scale(type="utc", domain=[starts[0], starts[-1]], nice=False)
    return alt.X(f"{field}:T", scale=scale, axis=axis)
