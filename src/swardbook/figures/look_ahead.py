"""The look-ahead: where each programme is likely to lead, and how well the past was foretold."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from swardbook.figures.picture import (
    INK,
    NARROW,
    PALE,
    QUIET,
    Picture,
    Table,
    data,
    date_axis,
    finish,
    short_figure,
)
from swardbook.foundation.dates import say
from swardbook.model.expecting import Expected
from swardbook.model.look_ahead import LookAhead, Prospect
from swardbook.model.prospects import Range
from swardbook.review.words import decimals, range_words

if TYPE_CHECKING:
    from altair import Title

    from swardbook.figures.picture import Panel

WEED = "annual meadow-grass (Poa annua)"
COVER, PLANTS = "annual_meadow_grass_cover", "annual_meadow_grass_plants"
AXIS, ROW, LETTERS = 46, 38, 46
"""Room for an axis left of a panel, from programme to programme [px], letters of a programme."""
SHAPES = ("circle", "square", "diamond", "cross",
          "M-1,-0.6L-0.6,-1L0,-0.4L0.6,-1L1,-0.6L0.4,0L1,0.6L0.6,1L0,0.4L-0.6,1L-1,0.6L-0.4,0Z",
          "M0,-1L0.3,-0.3L1,0L0.3,0.3L0,1L-0.3,0.3L-1,0L-0.3,-0.3Z")  # fmt: skip
"""Shapes of programmes; none points up or down."""


def picture_of_look_ahead(look: LookAhead, zone: str, label: str, note: str = "") -> Picture:
    """Draw the likely range of annual meadow-grass by programme on each day ahead.

    Where counts taught the model, each is drawn below against what was expected before it.

    Parameters
    ----------
    look : LookAhead
        The look-ahead.
    zone : str
        Name of the zone.
    label : str
        What it rests on, in words.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    measure = PLANTS if look.question.by_plants else COVER
    panels: list[Any] = _ahead(look, measure)
    wanted = "plants/m2" if look.question.by_plants else "%"
    past = [each for each in look.expected if each.unit == wanted]
    if past:
        panels.append(_past(look, wanted))
    key = (
        f"{label[0].upper()}{label[1:]}. Bar: where four of five draws lie; stroke: the middle one."
        " Band between dashes: today. No bar is a promise."
    )
    if past:
        key += (
            " Last panel: bar, what was expected before the count; disc, what was found;"
            " open disc, found outside the bar."
        )
    marks = [f"{each.day.day} {each.day:%B %Y}" for each in look.horizons]
    rows = [_row(look, each, measure) for each in look.prospects]
    sentence = f"{zone}: {_says(look, measure)}"
    chart = alt.vconcat(*panels, spacing=20)
    heads = ("programme", *marks, f"against {_first(look)}")
    tables = [Table(f"Likely range, {_unit(measure)}", heads, tuple(rows))]
    if past:
        tables.append(_past_table(past, measure))
    return finish(chart, sentence, key, tables, note, foot=_foot(look), narrow=True)


def _foot(look: LookAhead) -> str:
    years = look.past_years
    told = (
        f"{look.question.draws:,} draws, the same for each programme; fewest effective"
        f" {look.effective_draws:,.0f}."
    )
    if not years:
        return told
    span = f"{min(years)} to {max(years)}" if len(years) > 1 else f"{years[0]}"
    number = f"{len(years)} past years" if len(years) > 1 else "1 past year"
    return f"{told} Weather ahead: {number} of this site, {span}."


def _ahead(look: LookAhead, measure: str) -> list[Panel]:
    """Draw a panel for each day ahead, one below the other on one scale."""
    now = look.now[measure].at80
    most = max(now.high, *(each.at[mark.key][measure].at80.high
                           for each in look.prospects for mark in look.horizons))  # fmt: skip
    panels = []
    for mark in look.horizons:
        is_last = mark is look.horizons[-1]
        rows = [_bar(each.programme.name, each.at[mark.key][measure]) for each in look.prospects]
        title = _axis(measure) if is_last else None
        panels.append(_horizon(rows, (now.low, now.high), 1.02 * most, title).properties(
            title=_heading(f"{mark.day.day} {mark.day:%B %Y}")
        ))  # fmt: skip
    return panels


def _horizon(
    rows: list[dict[str, Any]], now: tuple[float, float], most: float, title: str | None
) -> Panel:
    """Draw programmes as bars, each below its own words, and today as a band behind them."""
    import altair as alt

    top = 0
    for row in rows:
        lines = wrap(f"{row['programme']}: {row['said']}", LETTERS, break_on_hyphens=False)
        row |= {"top": top, "words": "\n".join(lines), "y": top + 15 * len(lines) + 8}
        top += ROW + 15 * (len(lines) - 1)
    scale = alt.Scale(domain=[0, most], nice=False)
    x = alt.X("low:Q", title=title, scale=scale, axis=alt.Axis(tickCount=5))
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[top, 0], nice=False, zero=False))
    base = alt.Chart(data(rows)).encode(y=y)
    band = alt.Chart(data([{"low": now[0], "high": now[1]}])).mark_rect(
        fill="#ececec", stroke=QUIET, strokeDash=[3, 3], strokeWidth=0.8
    )
    told = alt.Chart(data([{"y": row["top"], "words": row["words"]} for row in rows])).encode(
        y=y, x=alt.value(4), text="words:N"
    )
    words: dict[str, Any] = {
        "align": "left", "baseline": "top", "lineBreak": "\n", "lineHeight": 15
    }  # fmt: skip
    return alt.layer(
        band.encode(x=x, x2="high:Q"),
        base.mark_bar(height=11, fill=PALE, stroke=INK, strokeWidth=1).encode(x=x, x2="high:Q"),
        base.mark_tick(thickness=3, height=17, color=INK, opacity=1).encode(x="middle:Q"),
        told.mark_text(stroke="white", strokeWidth=5, **words),
        told.mark_text(**words),
    ).properties(width=NARROW - AXIS, height=top)  # fmt: skip


def _past(look: LookAhead, unit: str) -> Panel:
    import altair as alt

    rows = [
        {
            "day": each.day.isoformat(), "found": each.found, "middle": each.middle,
            "low": each.at80.low, "high": each.at80.high,
            "said": short_figure(each.found), "inside": each.was_inside,
        }
        for each in look.expected if each.unit == unit
    ]  # fmt: skip
    x = alt.X("day:T", scale=alt.Scale(type="utc", padding=24), axis=date_axis())
    title = "% of the ground" if unit == "%" else "plants a m², square-root scale"
    kind: Any = "linear" if unit == "%" else "sqrt"
    axis = alt.Axis(minExtent=AXIS - 22, maxExtent=AXIS - 22)
    y = alt.Y("low:Q", title=title, scale=alt.Scale(type=kind, domainMin=0, nice=True), axis=axis)
    base = alt.Chart(data(rows)).encode(x=x)
    found = alt.Y("found:Q")
    disc: dict[str, Any] = {
        "size": 85,
        "filled": True,
        "stroke": INK,
        "strokeWidth": 1.6,
        "opacity": 1,
    }
    return alt.layer(
        base.mark_bar(width=16, fill=PALE, stroke=INK, strokeWidth=1).encode(y=y, y2="high:Q"),
        base.mark_tick(thickness=3, width=22, color=INK, opacity=1).encode(y="middle:Q"),
        base.mark_point(shape="circle", fill=INK, **disc).encode(y=found)
        .transform_filter("datum.inside"),
        base.mark_point(shape="circle", fill="white", **disc).encode(y=found)
        .transform_filter("!datum.inside"),
        base.mark_text(align="left", dx=15).encode(y=found, text="said:N"),
    ).properties(
        width=NARROW - AXIS, height=170,
        title=_heading("The counts so far, each against what was expected before it", -AXIS),
    )  # fmt: skip


def _heading(text: str, aside: int = 0) -> Title:
    import altair as alt

    return alt.Title(text, fontSize=13, offset=7, dx=aside, frame="group")


def _past_table(past: Sequence[Expected], measure: str) -> Table:
    rows = tuple(
        (
            say(each.day), short_figure(each.found),
            range_words(each.at80, decimals(each.at80)), "inside" if each.was_inside else "outside",
        )
        for each in past
    )  # fmt: skip
    heads = ("day", "found", "expected before it", "found lies")
    return Table(f"The counts so far, {_unit(measure)}", heads, rows)


def picture_of_hours(look: LookAhead, zone: str, label: str, note: str = "") -> Picture:
    """Draw what each programme leaves next autumn against the hours it takes.

    Parameters
    ----------
    look : LookAhead
        The look-ahead.
    zone : str
        Name of the zone.
    label : str
        What it rests on, in words.
    note : str
        What has to stand beside it.
    """
    measure = PLANTS if look.question.by_plants else COVER
    chart = _hours(look, measure)
    heads = ("programme", "hours a year", _autumn(look), f"against {_first(look)}")
    table = [
        (
            each.programme.name, _span(each.hours_year), _span(each.at["autumn"][measure]),
            _against(look, each),
        )
        for each in look.prospects
    ]  # fmt: skip
    key = (
        f"{label[0].upper()}{label[1:]}. Upright line: where four of five draws lie for the weed;"
        " dashes: the same for the hours. Lower is less weed; further left is less work."
    )
    behind = Table(f"Hours, and {_unit(measure)}", heads, tuple(table))
    told = (f"{zone}: {_trade(look, measure)}", key, [behind], note)
    return finish(chart, *told, foot=_foot(look), narrow=True)


def _hours(look: LookAhead, measure: str) -> Panel:
    import altair as alt

    names = [each.programme.name for each in look.prospects]
    rows = [
        {
            "hours": each.hours_year.median,
            "hours_low": each.hours_year.at80.low, "hours_high": each.hours_year.at80.high,
            **_bar(each.programme.name, each.at["autumn"][measure]),
        }
        for each in look.prospects
    ]  # fmt: skip
    base = alt.Chart(data(rows))
    level = f"{_axis(measure)}, by {_autumn(look)}"
    upright = alt.Scale(domainMin=0, nice=True)
    y = alt.Y("middle:Q", title=level, scale=upright)
    x = alt.X("hours:Q", title="hours of work in the first year, all people together",
              axis=alt.Axis(tickCount=5), scale=alt.Scale(domainMin=0, nice=True))  # fmt: skip
    points = base.mark_point(filled=True, fill=INK, stroke="white", size=170, opacity=1)
    layers: list[Any] = [
        base.mark_rule(stroke=QUIET, strokeWidth=1.4).encode(
            x=x, y=alt.Y("low:Q", title=level, scale=upright), y2="high:Q"
        ),
        base.mark_rule(stroke=QUIET, strokeWidth=1.4, strokeDash=[5, 3]).encode(
            x="hours_low:Q", x2="hours_high:Q", y=y
        ),
    ]
    if len(names) > len(SHAPES):
        words = base.mark_text(align="left", dx=9, dy=-9)
        layers += [points.encode(x=x, y=y), words.encode(x=x, y=y, text="programme:N")]
    else:
        scale = alt.Scale(domain=names, range=list(SHAPES[: len(names)]))
        legend = alt.Legend(orient="top", columns=1 if max(map(len, names)) > 26 else 2)
        shape = alt.Shape(
            "programme:N", title="programme, at its middle", scale=scale, legend=legend
        )
        layers.append(points.encode(x=x, y=y, shape=shape))
    return alt.layer(*layers).properties(width=NARROW - AXIS, height=300)


def _says(look: LookAhead, measure: str) -> str:
    """Say the verdict first, and name a leader only where one stands apart."""
    of = {each.programme.key: each for each in look.prospects}
    led = look.leading
    if led is None:
        only = look.prospects[0]
        said = f"{_span(only.at['autumn'][measure])} {_unit(measure)}"
        return (
            f"{only.programme.name.lower()} is likely to leave {WEED} at {said} by {_autumn(look)}."
        )
    names = [of[key].programme.name.lower() for key in led.group]
    if not led.is_leader:
        told = " and ".join(", ".join(names).rsplit(", ", 1))
        return f"{WEED} by {_autumn(look)} is {led.verdict.value} between {told}."
    word = "is likely to leave" if led.verdict.value.startswith("clear") else "may leave"
    said = f"{_span(of[led.group[0]].at['autumn'][measure])} {_unit(measure)}"
    told = f"{names[0]} {word} least {WEED} by {_autumn(look)}, {said}"
    return f"{told} (verdict: {led.verdict.value})."


def _trade(look: LookAhead, measure: str) -> str:
    by_hours = sorted(look.prospects, key=lambda each: each.hours_year.median)
    least, most = by_hours[0], by_hours[-1]
    return (
        f"{least.programme.name.lower()} takes {_span(least.hours_year)} hours and leaves {WEED} at"
        f" {_span(least.at['autumn'][measure])} {_unit(measure)}; {most.programme.name.lower()}"
        f" takes {_span(most.hours_year)} and leaves it at {_span(most.at['autumn'][measure])}."
    )


def _row(look: LookAhead, prospect: Prospect, measure: str) -> tuple[str, ...]:
    spans = (_span(prospect.at[each.key][measure]) for each in look.horizons)
    return (prospect.programme.name, *spans, _against(look, prospect))


def _against(look: LookAhead, prospect: Prospect) -> str:
    if prospect.programme.key == look.question.plans[0].key or "autumn" not in prospect.against:
        return ""
    return prospect.against["autumn"].verdict.value


def _first(look: LookAhead) -> str:
    return look.question.plans[0].name.lower()


def _autumn(look: LookAhead) -> str:
    day = next(each.day for each in look.horizons if each.key == "autumn")
    return f"{day.day} {day:%B %Y}"


def _bar(name: str, found: Range) -> dict[str, Any]:
    return {
        "programme": name, "low": found.at80.low, "middle": found.median,
        "high": found.at80.high, "said": _span(found),
    }  # fmt: skip


def _span(found: Range) -> str:
    low, _, high = range_words(found.at80, decimals(found.at80)).partition(" to ")
    return low if low == high else f"{low} to {high}"


def _unit(measure: str) -> str:
    return "plants a square metre" if measure == PLANTS else "% of the ground"


def _axis(measure: str) -> str:
    return "plants a m²" if measure == PLANTS else "% of the ground"
