"""Hours a week against the weed grass that they leave, and what each step of hours buys."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from swardbook.evidence.estimates import Interval
from swardbook.figures.look_ahead import WEED
from swardbook.figures.picture import (
    INK,
    NARROW,
    PALE,
    QUIET,
    Picture,
    Table,
    data,
    finish,
    short_figure,
)
from swardbook.review.words import decimals, range_words

if TYPE_CHECKING:
    from altair import Chart

    from swardbook.figures.picture import Panel

HALO: tuple[dict[str, Any], ...] = ({"stroke": "white", "strokeWidth": 6}, {})
"""Letters are drawn twice: first as white room around them."""
AXIS, HEIGHT, LETTERS = 46, 250, 46
"""Room for the axis left of the curve, height of the curve [px], letters in a line of a step."""


@dataclass(frozen=True, slots=True)
class Step:
    """A point of the curve.

    Parameters
    ----------
    hours : float
        Hours a week in season that it takes. [h]
    middle : float
        The middle of what it leaves. [plants m⁻² or %]
    at80, at90 : Interval
        Where four in five, and nine in ten, of the draws lie. [plants m⁻² or %]
    inside : float
        Share of the draws within what is fine in the zone. [-]
    buys : str
        What is done more, or otherwise, than with fewer hours.
    against_fewer : str
        The verdict against fewer hours; empty for the first.
    pulls : bool
        Whether weed is pulled.
    """

    hours: float
    middle: float
    at80: Interval
    at90: Interval
    inside: float
    buys: str
    against_fewer: str
    pulls: bool


@dataclass(frozen=True, slots=True)
class Recorded:
    """What the way recorded so far takes [h a week] and leaves [plants m⁻² or %]."""

    hours: float
    middle: float
    at80: Interval


@dataclass(frozen=True, slots=True)
class TradeOff:
    """What a search found, as a curve.

    Parameters
    ----------
    zone, label : str
        Where, and what it rests on.
    by_plants : bool
        Whether weed grass is told in plants; else in cover.
    steps : tuple of Step
        The points, the fewest hours first; at least one.
    recorded : Recorded or None
        The way recorded so far, if enough is recorded.
    fine : float
        Annual meadow-grass that is fine there. [% of the ground]
    asked : float or None
        Hours a week that were asked about. [h]
    enough : float or None
        Hours a week from which the likely range is within what is fine. [h]
    most : float
        The most hours a week that were looked at. [h]
    tried, draws : int
        How many programmes on how many draws.
    by_month : str
        The month of the autumn that it looks to.
    """

    zone: str
    label: str
    by_plants: bool
    steps: tuple[Step, ...]
    recorded: Recorded | None
    fine: float
    asked: float | None
    enough: float | None
    most: float
    tried: int
    draws: int
    by_month: str = "October"


def picture_of_search(found: TradeOff, note: str = "") -> Picture:
    """Draw hours a week against what they leave, and say what each step buys.

    Parameters
    ----------
    found : TradeOff
        What was found.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    chart = alt.vconcat(_curve(found), _steps(found), spacing=22)
    key = (
        "Numbered points: the best found for those hours; bar: where four in five draws lie, line:"
        " nine in ten."
    )
    if found.recorded is not None:
        key += " Open square: the way recorded so far."
    heads = ("step", "hours a week", f"left, {_unit(found)}, 80 %", "90 %", "within what is fine",
             "buys", "against fewer hours")  # fmt: skip
    rows = tuple(
        (
            str(n), f"{each.hours:.1f}", _span(each.at80), _span(each.at90),
            f"{round(10 * each.inside)} in 10", each.buys, each.against_fewer,
        )
        for n, each in enumerate(found.steps, 1)
    )  # fmt: skip
    tables = [Table(f"Hours against what they leave by next {found.by_month}", heads, rows)]
    if found.recorded is not None:
        told = (f"{found.recorded.hours:.1f}", _span(found.recorded.at80))
        own = ("hours a week", f"left, {_unit(found)}, 80 %")
        tables.append(Table("As recorded so far", own, (told,)))
    return finish(chart, _sentence(found), key, tables, note, foot=_foot(found), narrow=True)


def _sentence(found: TradeOff) -> str:
    fine = f"{found.fine:g} % of the ground"
    if found.enough is None:
        return (
            f"{found.zone}: no hours up to {found.most:g} a week bring {WEED} likely within the"
            f" {fine} that is fine there by next {found.by_month}."
        )
    word = "hour" if found.enough == 1 else "hours"
    told = (
        f"{found.zone}: from about {found.enough:g} {word} a week {WEED} is likely within the"
        f" {fine} that is fine there by next {found.by_month}"
    )
    if found.asked is not None and found.enough > found.asked:
        told += f", {found.enough - found.asked:g} more than the {found.asked:g} asked about"
    return f"{told}."


def _foot(found: TradeOff) -> str:
    return (
        f"{found.label[0].upper()}{found.label[1:]}. {found.tried} programmes, chosen and told on"
        f" the same {found.draws} draws and weather, so a little flattered. Hours: all people"
        " together, in the season of cuts, for this zone alone."
    )


def _curve(found: TradeOff) -> Panel:
    import altair as alt

    wide = NARROW - AXIS
    x_scale = alt.Scale(domain=[0, 1.1 * _longest(found)], nice=False)
    x = alt.X("hours:Q", title="hours a week that it takes", scale=x_scale,
              axis=alt.Axis(tickCount=6))  # fmt: skip
    kind: Any = "sqrt" if found.by_plants else "linear"
    title = f"{_unit(found)}{', square-root scale' if found.by_plants else ''}"
    axis = alt.Axis(tickCount=5, minExtent=AXIS - 22, maxExtent=AXIS - 22)
    y = alt.Y(
        "middle:Q",
        title=title,
        scale=alt.Scale(type=kind, domain=[0, _highest(found)], nice=True),
        axis=axis,
    )
    layers = [*_guides(found, x, y, wide), *_points(found, x, y)]
    return alt.layer(*layers).properties(width=wide, height=HEIGHT)


def _longest(found: TradeOff) -> float:
    shown = [each.hours for each in found.steps]
    shown += [found.recorded.hours] if found.recorded else []
    return max(*shown, found.asked or 0.0)


def _highest(found: TradeOff) -> float:
    shown = [each.at90.high for each in found.steps]
    shown += [found.recorded.at80.high] if found.recorded else []
    return 1.03 * max(*shown, 0.0 if found.by_plants else 1.1 * found.fine)


def _guides(found: TradeOff, x: Any, y: Any, wide: int) -> list[Any]:
    """Draw what is fine, the hours asked about, and where pulling comes in."""
    import altair as alt

    layers: list[Any] = []
    old = found.recorded
    aside = old is not None and old.hours > 0.7 * _longest(found)
    if not found.by_plants:
        fine = alt.Chart(data([{"middle": found.fine, "said": f"fine here: {found.fine:g} %"}]))
        layers += [
            fine.mark_rule(stroke=INK, strokeDash=[7, 3], strokeWidth=1.4).encode(y=y),
            *(
                fine.mark_text(align="right", dy=-8, **halo).encode(
                    y=y, x=alt.value(0.6 * wide if aside else wide), text="said:N"
                )
                for halo in HALO
            ),
        ]
    marks: list[dict[str, Any]] = []
    pulling = next((each for each in found.steps if each.pulls), None)
    if pulling is not None:
        marks.append({"hours": pulling.hours, "said": "pulling comes in", "y": -9})
    if found.asked is not None:
        marks.append({"hours": found.asked, "said": f"{found.asked:g} h asked about", "y": -25})
    for mark in marks:
        base = alt.Chart(data([mark])).encode(x=x)
        right = mark["hours"] > 0.6 * _longest(found)
        layers += [
            base.mark_rule(stroke=QUIET, strokeDash=[2, 3]).encode(
                y=alt.value(mark["y"] - 6), y2=alt.value(HEIGHT)
            ),
            base.mark_text(align="right" if right else "left", dx=-5 if right else 5, fill=QUIET)
            .encode(y=alt.value(mark["y"]), text="said:N"),
        ]  # fmt: skip
    return layers


def _points(found: TradeOff, x: Any, y: Any) -> list[Any]:
    import altair as alt

    rows = [
        {
            "hours": each.hours, "middle": each.middle, "number": str(n),
            "low": each.at80.low, "high": each.at80.high,
            "least": each.at90.low, "most": each.at90.high,
        }
        for n, each in enumerate(found.steps, 1)
    ]  # fmt: skip
    base = alt.Chart(data(rows)).encode(x=x)
    layers: list[Any] = [
        base.mark_line(stroke=QUIET, strokeWidth=1.2, interpolate="step-after").encode(y=y),
        base.mark_rule(stroke=INK, strokeWidth=1.2).encode(y="least:Q", y2="most:Q"),
        base.mark_bar(width=7, fill=PALE, stroke=INK, strokeWidth=1).encode(y="low:Q", y2="high:Q"),
        *_discs(base, y),
    ]
    if found.recorded is not None:
        own = {"hours": found.recorded.hours, "middle": found.recorded.middle,
               "low": found.recorded.at80.low, "high": found.recorded.at80.high}  # fmt: skip
        old = alt.Chart(data([own])).encode(x=x)
        layers += [
            old.mark_rule(stroke=INK, strokeWidth=1.2, strokeDash=[3, 2]).encode(
                y="low:Q", y2="high:Q"
            ),
            old.mark_point(
                shape="square", size=110, filled=True, fill="white", stroke=INK, strokeWidth=1.8,
                opacity=1,
            ).encode(y=y),
        ]  # fmt: skip
    return layers


def _discs(base: Chart, y: Any) -> list[Any]:
    disc = base.mark_point(shape="circle", size=210, filled=True, fill=INK, opacity=1)
    return [
        disc.encode(y=y),
        base.mark_text(color="white", fontWeight="bold", dy=1).encode(y=y, text="number:N"),
    ]


def _steps(found: TradeOff) -> Panel:
    """Say step by step what it leaves, what it does, and how sure the gain is."""
    import altair as alt

    rows: list[dict[str, Any]] = []
    top = 0
    for n, each in enumerate(found.steps, 1):
        lines = wrap(each.buys[0].upper() + each.buys[1:] + _gain(each), LETTERS)
        rows.append({"y": top, "number": str(n), "head": _head(found, each),
                     "words": "\n".join(lines)})  # fmt: skip
        top += 16 * (1 + len(lines)) + 10
    scale = alt.Scale(domain=[top, 0], nice=False, zero=False)
    base = alt.Chart(data(rows)).encode(y=alt.Y("y:Q", axis=None, scale=scale))
    words: dict[str, Any] = {"align": "left", "baseline": "top"}
    left = -AXIS + 26
    return alt.layer(
        base.mark_point(
            shape="circle", size=250, filled=True, fill=INK, opacity=1, yOffset=7
        ).encode(x=alt.value(-AXIS + 9)),
        base.mark_text(color="white", fontWeight="bold", dy=8).encode(
            x=alt.value(-AXIS + 9), text="number:N"
        ),
        base.mark_text(fontWeight="bold", **words).encode(x=alt.value(left), text="head:N"),
        base.mark_text(lineBreak="\n", lineHeight=16, dy=17, **words).encode(
            x=alt.value(left), text="words:N"
        ),
    ).properties(
        width=NARROW - AXIS, height=top,
        title=alt.Title("What each step of hours buys", fontSize=13, offset=7, dx=-AXIS,
                        frame="group"),
    )  # fmt: skip


def _head(found: TradeOff, step: Step) -> str:
    unit = "plants a m²" if found.by_plants else "%"
    return f"{short_figure(step.hours)} h a week: likely {_span(step.at80)} {unit}"


def _gain(step: Step) -> str:
    within = f"{round(10 * step.inside)} draws in 10 within what is fine"
    return f". {step.against_fewer}; {within}." if step.against_fewer else f". {within}."


def _span(interval: Interval) -> str:
    return range_words(interval, decimals(interval))


def _unit(found: TradeOff) -> str:
    return "plants a m²" if found.by_plants else "% of the ground"
