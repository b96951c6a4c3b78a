"""Means of a trial over time, each mixture in a panel of its own, with what was done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from swardbook.figures.picture import INK, Picture, Table, data, finish, short_figure
from swardbook.foundation.dates import say

ACROSS, WIDE, HIGH = 4, 126, 100
OTHERS = "#9a9a9a"


@dataclass(frozen=True, slots=True)
class PathDrawn:
    """One mixture over time.

    Parameters
    ----------
    name : str
        The mixture.
    days : tuple of date
        The days.
    values : tuple of float
        Its adjusted means on them. [unit of the picture]
    """

    name: str
    days: tuple[date, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Event:
    """Something done to the whole trial, or to a plot."""

    day: date
    name: str


def picture_of_paths(
    sentence: str, paths: Sequence[PathDrawn], unit: str, events: Sequence[Event] = (),
    note: str = "", gap: float | None = None,
) -> Picture:  # fmt: skip
    """Draw every mixture's path in its own panel, the others pale behind it.

    Parameters
    ----------
    sentence : str
        What it shows.
    paths : sequence of PathDrawn
        The mixtures, by name.
    unit : str
        Unit of the axis.
    events : sequence of Event
        What was done, as ticks.
    note : str
        What has to stand beside it.
    gap : float or None
        Gap that a planned pair must pass on the last day; drawn as a bar. [unit]
    """
    import altair as alt

    first = min(day for path in paths for day in path.days)
    last = max(day for path in paths for day in path.days)
    begin = min([first, *(event.day for event in events)])
    ends = [(begin - timedelta(days=14)).isoformat(), (last + timedelta(days=30)).isoformat()]
    x = alt.X("day:T", title=None, scale=alt.Scale(type="utc", domain=ends),
              axis=alt.Axis(format="%b", tickCount=4, grid=False))  # fmt: skip
    top = max(value for path in paths for value in path.values)
    y = alt.Y("value:Q", title=None, scale=alt.Scale(domain=[0, top * 1.08]))
    panels = [_panel(path, paths, x, y, unit, gap, last) for path in paths]
    parts: list[Any] = [alt.concat(*panels, columns=ACROSS)]
    if events:
        parts.append(_ticks(events, x))
    chart = alt.vconcat(*parts) if len(parts) > 1 else parts[0]
    key = "Dark line and discs: the mixture named; pale lines: the others."
    if gap is not None:
        told = "points" if unit == "%" else unit
        key += (f" Upright bar at the right: the {short_figure(gap)} {told} that a pair named"
                " beforehand must differ by on the last day.")  # fmt: skip
    rows = tuple((path.name, *(short_figure(value) for value in path.values)) for path in paths)
    table = Table(f"Means, {unit}", ("mixture", *(say(day) for day in paths[0].days)), rows)
    done = Table("Done", ("day", "what"), tuple((say(e.day), e.name) for e in events))
    return finish(chart, sentence, key, [table, done] if events else [table], note)


def _panel(
    path: PathDrawn, paths: Sequence[PathDrawn], x: Any, y: Any, unit: str, gap: float | None,
    last: date,
) -> Any:  # fmt: skip
    import altair as alt

    pale = alt.Chart(data(_rows([each for each in paths if each is not path])))
    own = alt.Chart(data(_rows([path])))
    layers = [
        pale.mark_line(stroke=OTHERS, strokeWidth=0.7, opacity=0.7).encode(
            x=x, y=y, detail="name:N"
        ),
        own.mark_line(stroke=INK, strokeWidth=2).encode(x=x, y=y),
        own.mark_point(shape="circle", size=36, filled=True, fill=INK, opacity=1).encode(x=x, y=y),
    ]
    if gap is not None:
        at = (last + timedelta(days=16)).isoformat()
        end = path.values[-1]
        bar = alt.Chart(data([{"day": at, "value": end - gap / 2, "high": end + gap / 2}]))
        layers.append(
            bar.mark_rule(strokeWidth=3, stroke=INK, clip=True).encode(x=x, y=y, y2="high:Q")
        )
    title = alt.TitleParams(path.name, fontSize=12, anchor="start", offset=4)
    return alt.layer(*layers).properties(width=WIDE, height=HIGH, title=title)


def _rows(paths: Sequence[PathDrawn]) -> list[dict[str, Any]]:
    return [
        {"name": path.name, "day": day.isoformat(), "value": value}
        for path in paths for day, value in zip(path.days, path.values, strict=True)
    ]  # fmt: skip


def _ticks(events: Sequence[Event], x: Any) -> Any:
    import altair as alt

    rows = [{"day": each.day.isoformat(), "work": each.name} for each in events]
    names = list(dict.fromkeys(each.name for each in events))
    y = alt.Y("work:N", sort=names, title=None, axis=alt.Axis(ticks=False, domain=False))
    base = alt.Chart(data(rows)).encode(x=x, y=y)
    return base.mark_tick(thickness=2, height=13, color=INK, opacity=1).properties(
        width=ACROSS * WIDE, height=22 * len(names)
    )
