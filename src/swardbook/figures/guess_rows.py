"""Guesses of one count as rows on the scale of what is counted, and what was found across them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from swardbook.evidence.estimates import Interval
from swardbook.figures.picture import INK, PALE, QUIET, data, short_figure
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.figures.picture import Panel

LETTERS, STEP = 48, 46
_LINE = 15
"""Height of a line of words. [px]"""
"""Letters in a line above a row, and from row to row. [px]"""
PALER = "#ececec"


@dataclass(frozen=True, slots=True)
class GuessRow:
    """One guess as it may be seen.

    Parameters
    ----------
    who : str
        Who guessed.
    sealed_on : date
        When it was sealed.
    is_open : bool
        Whether its figures may be seen; all that follows is None where they may not.
    middle : float or None
        One figure, or the middle of a range where it was given. [% or plants m⁻²]
    at80, at50 : Interval or None
        Its ranges. [% or plants m⁻²]
    inside : bool or None
        Whether the range held what was found; None where there is none, or nothing was found.
    off : float or None
        Continuous ranked probability score; None where nothing was found. [% or plants m⁻²]
    beside : str
        What has to be said beside it, such as that no count came.
    """

    who: str
    sealed_on: date
    is_open: bool
    middle: float | None = None
    at80: Interval | None = None
    at50: Interval | None = None
    inside: bool | None = None
    off: float | None = None
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Found:
    """What a count found [% or plants m⁻²], on which day, at how many places and by whom."""

    day: date
    value: float
    places: int
    counters: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GuessedCount:
    """One count that was guessed.

    Parameters
    ----------
    zone, kind : str
        Where, and what; a grass with its Latin name.
    unit : str
        ``%`` or ``plants/m2``.
    first, last : date
        The days between which a count settles the guesses.
    rows : tuple of GuessRow
        The guesses, as sealed.
    found : Found or None
        What was found; None where no count has come.
    """

    zone: str
    kind: str
    unit: str
    first: date
    last: date
    rows: tuple[GuessRow, ...]
    found: Found | None = None

    @property
    def unit_words(self) -> str:
        """The unit as it stands on an axis."""
        return "% of the ground" if self.unit == "%" else "plants a m²"

    @property
    def month(self) -> str:
        """The month that the guesses are for."""
        middle = date.fromordinal((self.first.toordinal() + self.last.toordinal()) // 2)
        return f"{middle:%B %Y}"


def plain_figure(number: float) -> str:
    """Write a figure with no more places than it bears, and no nought after the point."""
    return short_figure(number).removesuffix(".0")


def span_words(row: GuessRow, unit: str) -> str:
    """Say the figures of a guess, such as ``8 to 14 %``."""
    word = "%" if unit == "%" else "plants a m²"
    if row.at80 is None:
        return f"{plain_figure(row.middle or 0.0)} {word}"
    return f"{plain_figure(row.at80.low)} to {plain_figure(row.at80.high)} {word}"


def row_words(row: GuessRow, unit: str) -> str:
    """Say in one line who guessed what, and how it did."""
    if not row.is_open:
        return f"{row.who}: {row.beside or 'sealed'}"
    told = f"{row.who}: {span_words(row, unit)}"
    if row.off is None:
        return f"{told}; {row.beside}" if row.beside else told
    word = {True: "held", False: "missed", None: "one figure"}[row.inside]
    points = "points" if unit == "%" else "plants a m²"
    return f"{told}, {word}; off by {plain_figure(row.off)} {points}"


def draw_rows(count: GuessedCount, width: int, *, is_named: bool) -> Panel:
    """Draw the guesses of one count, one below the other.

    Parameters
    ----------
    count : GuessedCount
        The count.
    width : int
        Width of the scale. [px]
    is_named : bool
        Whether to head it with zone and month.
    """
    import altair as alt

    rows, height = _laid_out(count)
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[height, 0], nice=False, zero=False))
    scale = alt.Scale(domain=[0, _most(count)], nice=True)
    seen = any(each.is_open for each in count.rows)
    axis = alt.Axis(tickCount=6) if seen else None
    x = alt.X("value:Q", title=count.unit_words, scale=scale, axis=axis)
    layers = [*_found_line(count, x, height, width), *_ranges(rows, x, y, width), *_words(rows, y)]
    wide = {"width": width, "height": height}
    if not is_named:
        return alt.layer(*layers).properties(**wide)
    head = f"{count.zone}: {count.kind}, {count.month}"
    room = 9 + _LINE * len(_found_lines(count)) if count.found else 6
    title = alt.Title(wrap(head, LETTERS - 4), fontSize=13, offset=room, frame="group")
    return alt.layer(*layers).properties(title=title, **wide)


def _laid_out(count: GuessedCount) -> tuple[list[dict[str, Any]], int]:
    rows: list[dict[str, Any]] = []
    top = 6
    for row in count.rows:
        lines = wrap(row_words(row, count.unit), LETTERS, break_on_hyphens=False)
        top += 15 * len(lines)
        found = count.found.value if count.found is not None and row.is_open else None
        rows.append(
            {
                "top": top - 15 * len(lines), "y": top + 13, "words": "\n".join(lines),
                "shut": not row.is_open, "middle": row.middle, "value": found,
                "low": None if row.at80 is None else row.at80.low,
                "high": None if row.at80 is None else row.at80.high,
                "low50": None if row.at50 is None else row.at50.low,
                "high50": None if row.at50 is None else row.at50.high,
                "inside": row.inside is not False, "figure": row.at80 is None,
            }
        )  # fmt: skip
        top += STEP - 15
    return rows, top


def _most(count: GuessedCount) -> float:
    ends = [each.at80.high for each in count.rows if each.is_open and each.at80 is not None]
    ends += [each.middle for each in count.rows if each.is_open and each.middle is not None]
    ends += [count.found.value] if count.found is not None else []
    return 1.1 * max([*ends, 1.0])


def _found_line(count: GuessedCount, x: Any, height: int, width: int) -> list[Any]:
    import altair as alt

    if count.found is None:
        return []
    found = count.found
    lines = _found_lines(count)
    told = "\n".join(lines)
    base = alt.Chart(data([{"value": found.value, "told": told}])).encode(x=x)
    right = found.value > _most(count) / 2
    return [
        base.mark_rule(stroke=INK, strokeWidth=1.2, strokeDash=[2, 2]).encode(
            y=alt.value(0), y2=alt.value(height)
        ),
        base.mark_text(
            align="right" if right else "left", fill=QUIET, lineBreak="\n", lineHeight=_LINE
        ).encode(
            x=alt.value(width if right else 0),
            y=alt.value(-8 - _LINE * (len(lines) - 1)), text="told:N",
        ),
    ]  # fmt: skip


def _found_lines(count: GuessedCount) -> list[str]:
    """Say in lines what was found, as they stand above the guesses."""
    found = count.found
    if found is None:
        return []
    by = f" by {' and '.join(found.counters)}" if found.counters else ""
    unit = "%" if count.unit == "%" else "plants a m²"
    told = (
        f"{plain_figure(found.value)} {unit} found on {say(found.day)}, {found.places} places{by}"
    )
    return wrap(told, LETTERS - 12)


def _ranges(rows: Sequence[dict[str, Any]], x: Any, y: Any, width: int) -> list[Any]:
    import altair as alt

    layers: list[Any] = []
    shut = [row for row in rows if row["shut"]]
    if shut:
        layers.append(
            alt.Chart(data(shut))
            .mark_bar(height=16, fill="white", stroke=INK, strokeDash=[4, 3], strokeWidth=1.1)
            .encode(y=y, x=alt.value(1), x2=alt.value(width - 1))
        )
    ranged = [row for row in rows if row["low"] is not None]
    if ranged:
        base = alt.Chart(data(ranged)).encode(y=y)
        layers.append(
            base.mark_bar(height=12, fill=PALER, stroke=INK, strokeWidth=1).encode(
                x=alt.X("low:Q"), x2="high:Q"
            )
        )
        inner = [row for row in ranged if row["low50"] is not None]
        if inner:
            layers.append(
                alt.Chart(data(inner)).mark_bar(height=12, fill=PALE, stroke=INK, strokeWidth=1)
                .encode(y=y, x=alt.X("low50:Q"), x2="high50:Q")
            )  # fmt: skip
    middles = [row for row in rows if row["middle"] is not None]
    if middles:
        layers.append(
            alt.Chart(data(middles)).mark_tick(thickness=3, height=18, color=INK, opacity=1)
            .encode(y=y, x=alt.X("middle:Q"))
        )  # fmt: skip
    return [*layers, *_discs(rows, x, y)]


def _discs(rows: Sequence[dict[str, Any]], x: Any, y: Any) -> list[Any]:
    """Draw what was found on each row: a disc where it was held, an open one where missed."""
    import altair as alt

    layers = []
    for inside, fill in ((True, INK), (False, "white")):
        own = [row for row in rows if row["value"] is not None and row["inside"] is inside]
        own = [row for row in own if not row["figure"]]
        if own:
            layers.append(
                alt.Chart(data(own)).mark_point(
                    shape="circle", size=80, filled=True, fill=fill, stroke=INK, strokeWidth=1.7,
                    opacity=1,
                ).encode(y=y, x=x)
            )  # fmt: skip
    if not layers:
        # The axis needs something to stand on where nothing was found.
        stand = alt.Chart(data([{"value": 0.0, "y": 0}]))
        layers.append(stand.mark_point(opacity=0, fill=INK, stroke=INK).encode(x=x, y=y))
    return layers


def _words(rows: Sequence[dict[str, Any]], y: Any) -> list[Any]:
    import altair as alt

    base = alt.Chart(data([{"y": row["top"], "words": row["words"]} for row in rows]))
    look: dict[str, Any] = {"align": "left", "baseline": "top", "lineBreak": "\n", "lineHeight": 15}
    return [
        base.mark_text(stroke="white", strokeWidth=6, **look).encode(
            x=alt.value(0), y=y, text="words:N"
        ),
        base.mark_text(**look).encode(x=alt.value(0), y=y, text="words:N"),
    ]
