"""A zone's counts over time: intervals, same-season pairs joined, work done as ticks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from swardbook.figures.picture import (
    INK,
    QUIET,
    WIDTH,
    Picture,
    Table,
    data,
    date_axis,
    finish,
    short_figure,
)
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.observations.counts import Method
from swardbook.observations.estimating import KindEstimate
from swardbook.review.words import estimate_words

if TYPE_CHECKING:
    from altair import Chart, Scale

    from swardbook.figures.picture import Panel

ZONE, SQUARES = "zone", "honest squares"
SHAPES = {ZONE: "circle", SQUARES: "square"}
_AXES = {
    Method.POINTS: "% of the ground, by points",
    Method.PLANTS: "plants a square metre",
    Method.BY_EYE: "% of the ground, by eye",
}


@dataclass(frozen=True, slots=True)
class Counted:
    """What one occasion said of one kind.

    Parameters
    ----------
    day : date
        The day of the count.
    where : str
        ``zone`` or ``honest squares``.
    estimate : KindEstimate
        What was estimated.
    is_break : bool
        Whether someone else counted than the time before.
    label : str
        What the count is called, if anything.
    """

    day: date
    where: str
    estimate: KindEstimate
    is_break: bool = False
    label: str = ""


@dataclass(frozen=True, slots=True)
class Work:
    """Work that was done on a day, such as ``sown``."""

    day: date
    name: str


def picture_of_counts(
    sentence: str,
    counted: Sequence[Counted],
    pairs: Sequence[tuple[date, date]],
    work: Sequence[Work] = (),
    note: str = "",
) -> Picture:
    """Draw what was counted of one kind, each way of counting in a panel of its own.

    Parameters
    ----------
    sentence : str
        What it shows.
    counted : sequence of Counted
        The occasions, in order.
    pairs : sequence of tuple of date
        Days of one season that are compared: they are joined, no others.
    work : sequence of Work
        Work between the counts, as ticks.
    note : str
        What has to stand beside it.

    Raises
    ------
    NotEnoughDataError
        If no occasion has a figure.
    """
    import altair as alt

    shown = [each for each in counted if each.estimate.estimate is not None]
    if not shown:
        raise NotEnoughDataError("a picture of counts", "one count with a figure", "none")
    days = [each.day for each in shown] + [each.day for each in work]
    spare = timedelta(days=21)
    ends = [(min(days) - spare).isoformat(), (max(days) + spare).isoformat()]
    scale = alt.Scale(type="utc", domain=ends)
    methods = [each for each in _AXES if any(one.estimate.method is each for one in shown)]
    panels: list[Any] = [
        _panel([each for each in shown if each.estimate.method is method], pairs, scale)
        for method in methods
    ]
    if work:
        panels.append(_ticks(work, scale))
    chart = alt.vconcat(*panels).resolve_scale(x="shared")
    heads = ("day", "called", "where", "counted", "places", "counted by", "break")
    rows = tuple(_row(each) for each in shown)
    return finish(chart, sentence, _key(shown, pairs), [Table("Count by count", heads, rows)], note)


def _panel(shown: Sequence[Counted], pairs: Sequence[tuple[date, date]], scale: Scale) -> Panel:
    import altair as alt

    title = _AXES[shown[0].estimate.method]
    rows = [_point(each) for each in shown]
    x = alt.X("day:T", scale=scale, axis=date_axis())
    y = alt.Y("value:Q", title=title, scale=alt.Scale(domainMin=0, nice=True))
    layers: list[Any] = []
    joined = _joined(shown, pairs)
    if joined:
        lines = alt.Chart(data(joined)).mark_line(stroke=QUIET, strokeWidth=1.5, strokeDash=[6, 3])
        layers.append(lines.encode(x=x, y=y, detail="pair:N"))
    both = {each.where for each in shown} == {ZONE, SQUARES}
    for where in (ZONE, SQUARES):
        own = [row for row in rows if row["where"] == where]
        if own:
            layers += _points(alt.Chart(data(own)).encode(x=x, y=y), where, both)
    broken = [row for row in rows if row["broken"]]
    if broken:
        layers += _breaks(broken, x)
    height = 120 if len(rows) == 1 else 240
    return alt.layer(*layers).properties(width=WIDTH, height=height)


def _points(base: Chart, where: str, both: bool) -> list[Any]:
    """Draw points with their ranges and figures; two kinds of one day stand side by side."""
    is_zone = where == ZONE
    aside = (-4 if is_zone else 4) if both else 0
    fill = INK if is_zone else "white"
    left = both and is_zone
    words: dict[str, Any] = {
        "align": "right" if left else "left", "dx": -8 if left else 9, "xOffset": aside
    }  # fmt: skip
    return [
        base.mark_rule(strokeWidth=2 if is_zone else 1.2, stroke=INK, xOffset=aside)
        .encode(y="low:Q", y2="high:Q"),
        base.mark_text(stroke="white", strokeWidth=7, **words).encode(text="said:N"),
        base.mark_text(**words).encode(text="said:N"),
        base.mark_point(
            shape=SHAPES[where], size=90, filled=True, fill=fill, stroke=INK, strokeWidth=1.6,
            opacity=1, xOffset=aside,
        ),
    ]  # fmt: skip


def _breaks(broken: Sequence[dict[str, Any]], x: Any) -> list[Chart]:
    import altair as alt

    base = alt.Chart(data(broken)).encode(x=x)
    return [
        base.mark_rule(stroke=QUIET, strokeDash=[2, 3]),
        base.mark_text(align="right", dx=-4, baseline="top", fill=QUIET, text="new counter")
        .encode(y=alt.value(0)),
    ]  # fmt: skip


def _ticks(work: Sequence[Work], scale: Scale) -> Panel:
    import altair as alt

    rows = [{"day": each.day.isoformat(), "work": each.name} for each in work]
    names = list(dict.fromkeys(each.name for each in work))
    bare = alt.Axis(title=None, labels=False, ticks=False, domain=False, grid=False)
    base = alt.Chart(data(rows)).encode(
        x=alt.X("day:T", scale=scale, axis=bare),
        y=alt.Y("work:N", sort=names, title="work done", axis=alt.Axis(ticks=False, domain=False)),
    )
    return alt.layer(base.mark_tick(thickness=2, height=13, color=INK, opacity=1)).properties(
        width=WIDTH, height=24 * len(names)
    )


def _point(each: Counted) -> dict[str, Any]:
    made = each.estimate.estimate
    assert made is not None
    return {
        "day": each.day.isoformat(), "where": each.where, "value": made.value,
        "low": made.interval.low, "high": made.interval.high, "broken": each.is_break,
        "said": short_figure(made.value),
    }  # fmt: skip


def _joined(shown: Sequence[Counted], pairs: Sequence[tuple[date, date]]) -> list[dict[str, Any]]:
    """Give both ends of each pair that one person counted at both ends."""
    zone = {each.day: each for each in shown if each.where == ZONE}
    found = []
    for before, after in pairs:
        ends = [zone[day] for day in (before, after) if day in zone]
        counters = [set(each.estimate.counters) for each in ends]
        if len(ends) == 2 and (not all(counters) or counters[0] & counters[1]):
            found += [{**_point(each), "pair": f"{before} {after}"} for each in ends]
    return found


def _key(shown: Sequence[Counted], pairs: Sequence[tuple[date, date]]) -> str:
    told = ["Disc: the zone, upright line: its 95 % range."]
    if any(each.where == SQUARES for each in shown):
        told.append("Open square: the honest squares, left untreated.")
    if pairs:
        told.append("Dashes join counts of one season: only those may be compared.")
    return " ".join(told)


def _row(each: Counted) -> tuple[str, ...]:
    made = each.estimate.estimate
    assert made is not None
    counters = ", ".join(each.estimate.counters)
    told = "new counter" if each.is_break else ""
    return (
        say(each.day),
        each.label,
        each.where,
        estimate_words(made),
        str(made.n),
        counters,
        told,
    )
