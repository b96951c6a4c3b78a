"""Means of a trial with their ranges; group marks say which are told apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from swardbook.figures.picture import INK, QUIET, Picture, Table, data, finish

WIDE = 380
_ROW = 31


@dataclass(frozen=True, slots=True)
class MeanDrawn:
    """One mixture's mean.

    Parameters
    ----------
    name : str
        The mixture.
    value, low, high : float
        Its mean and 95 % range. [unit of the picture]
    marks : str
        Its group marks; empty where mixtures are not ranked.
    plots : int
        Plots it rests on.
    is_control : bool
        Whether it is there to compare with only.
    said : str
        The mean as a label has it.
    """

    name: str
    value: float
    low: float
    high: float
    marks: str
    plots: int
    is_control: bool
    said: str


def picture_of_means(
    sentence: str, means: Sequence[MeanDrawn], unit: str, key: str, foot: str, note: str = ""
) -> Picture:
    """Draw means with their ranges.

    Parameters
    ----------
    sentence : str
        What it shows.
    means : sequence of MeanDrawn
        In the order in which they stand.
    unit : str
        Unit of the axis.
    key : str
        What has to be known beyond what the marks mean.
    foot : str
        What it rests on.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    rows = [
        {"name": each.name, "value": each.value, "low": each.low, "high": each.high,
         "marks": each.marks, "said": each.said, "is_control": each.is_control}
        for each in means
    ]  # fmt: skip
    names = [each.name for each in means]
    y = alt.Y("name:N", sort=names, title=None, axis=alt.Axis(ticks=False, domain=False))
    base = alt.Chart(data(rows)).encode(y=y)
    x = alt.X("low:Q", title=unit, scale=alt.Scale(nice=True, zero=False))
    edge: dict[str, Any] = {"align": "left"}
    layers = [
        base.mark_rule(strokeWidth=2, stroke=INK).encode(x=x, x2="high:Q"),
        base.transform_filter("!datum.is_control")
        .mark_point(shape="circle", size=90, filled=True, fill=INK, stroke=INK, opacity=1)
        .encode(x="value:Q"),
        base.transform_filter("datum.is_control")
        .mark_point(shape="square", size=90, filled=True, fill="white", stroke=INK,
                    strokeWidth=1.6, opacity=1)
        .encode(x="value:Q"),
        base.mark_text(dy=-13, fill=QUIET).encode(x="value:Q", text="said:N"),
        base.mark_text(dx=10, fontWeight="bold", **edge).encode(
            x=alt.value(WIDE), text="marks:N"
        ),
    ]  # fmt: skip
    chart = alt.layer(*layers).properties(width=WIDE, height=_ROW * len(rows))
    told = f"Disc: a mixture's mean; line: its 95 % range. {key}"
    if any(each.is_control for each in means):
        told += " Open square: to compare with only."
    table = Table(
        "Means", ("mixture", unit, "95 % range", "marks", "plots"),
        tuple(
            (each.name, each.said, f"{each.low:.1f} to {each.high:.1f}", each.marks,
             str(each.plots))
            for each in means
        ),
    )  # fmt: skip
    return finish(chart, sentence, told, [table], note, foot=foot)
