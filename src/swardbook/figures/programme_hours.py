"""Programmes side by side: what each takes in hours, by kind of work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from swardbook.figures.lanes import LETTERS, ProgrammeYear
from swardbook.figures.picture import INK, NARROW, PALE, QUIET, Picture, Table, data, finish
from swardbook.figures.programme_year import FOR, foot_of, span_of
from swardbook.model.programmes import Amount

if TYPE_CHECKING:
    from swardbook.figures.picture import Panel

LEFT, RIGHT, STEP = 150, 66, 19
"""Room for names left of the bars and for hours right of them, and from bar to bar. [px]"""


def picture_of_programmes(years: Sequence[ProgrammeYear], note: str = "") -> Picture:
    """Draw the hours of several programmes by kind of work, the shortest first.

    Parameters
    ----------
    years : sequence of ProgrammeYear
        The programmes, of one zone and on the same weather; at least one.
    note : str
        What has to stand beside it.
    """
    ordered = sorted(years, key=lambda each: (each.hours.middle, each.name))
    first, last = ordered[0], ordered[-1]
    sentence = f"{first.name} takes {span_of(first.hours)} hours a year in {first.zone}."
    if len(ordered) > 1:
        sentence = (
            f"In {first.zone}, {first.name} takes least work, {span_of(first.hours)} hours a year,"
            f" and {last.name} most, {span_of(last.hours)}."
        )
    key = "Bar: the middle of the hours a year; line: their range, as rates of work differ."
    rows = tuple(
        (each.name, FOR[lane.kind], str(len(lane.days)), span_of(lane.hours))
        for each in ordered for lane in each.lanes if lane.hours is not None
    )  # fmt: skip
    totals = tuple((each.name, span_of(each.hours)) for each in ordered)
    tables = [Table("Hours a year", ("programme", "hours"), totals)]
    if rows:
        tables.append(Table("By kind of work", ("programme", "work", "times", "hours"), rows))
    beside = dict.fromkeys(f"{each.name}: {held}" for each in ordered for held in each.beside)
    foot = foot_of(first.weather, tuple(beside))
    return finish(_bars(ordered), sentence, key, tables, note, foot=foot, narrow=True)


def _bars(years: Sequence[ProgrammeYear]) -> Panel:
    import altair as alt

    heads: list[dict[str, Any]] = []
    bars: list[dict[str, Any]] = []
    top = 0
    for year in years:
        lines = wrap(f"{year.name}: {span_of(year.hours)} hours a year", LETTERS - 4)
        heads.append({"y": top, "words": "\n".join(lines)})
        top += 16 * len(lines)
        for name, hours in _kinds(year):
            top += STEP
            bars.append(
                {
                    "y": top - 6, "name": name, "middle": hours.middle, "low": hours.low,
                    "high": hours.high, "said": span_of(hours),
                }
            )  # fmt: skip
        top += 26
    height = top - 12
    most = max((each["high"] for each in bars), default=1.0)
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[height, 0], nice=False, zero=False))
    x = alt.X(
        "middle:Q", title="hours a year, all people together", axis=alt.Axis(tickCount=4),
        scale=alt.Scale(domain=[0, most], nice=False),
    )  # fmt: skip
    wide = NARROW - LEFT - RIGHT
    base = alt.Chart(data(bars)).encode(y=y)
    told = alt.Chart(data(heads)).encode(y=y, x=alt.value(-LEFT), text="words:N")
    words: dict[str, Any] = {
        "align": "left", "baseline": "top", "lineBreak": "\n", "lineHeight": 16
    }  # fmt: skip
    layers: list[Any] = [
        told.mark_text(stroke="white", strokeWidth=7, **words),
        base.mark_bar(height=11, fill=PALE, stroke=INK, strokeWidth=1).encode(x=x, x2=alt.datum(0)),
        base.mark_rule(stroke=INK, strokeWidth=1.6).encode(x=alt.X("low:Q"), x2="high:Q"),
        base.mark_text(align="right", color=QUIET).encode(x=alt.value(-8), text="name:N"),
        base.mark_text(align="left").encode(x=alt.value(wide + 8), text="said:N"),
        told.mark_text(fontWeight="bold", **words),
    ]
    return alt.layer(*layers).properties(width=wide, height=height)


def _kinds(year: ProgrammeYear) -> Iterator[tuple[str, Amount]]:
    for lane in year.lanes:
        if lane.hours is not None:
            yield f"{FOR[lane.kind]}{', at most' if lane.at_most else ''}", lane.hours
