"""One guess among the counts so far: when it was sealed, and when it opens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from swardbook.figures.guess_rows import (
    GuessedCount,
    GuessRow,
    draw_rows,
    plain_figure,
    row_words,
    span_words,
)
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
)
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.figures.picture import Panel

AXIS, HEIGHT = 40, 150


@dataclass(frozen=True, slots=True)
class SoFar:
    """What was counted before [% or plants m⁻²], and on which day."""

    day: date
    value: float


@dataclass(frozen=True, slots=True)
class SealedGuess:
    """A guess, the others of the same count, and the counts so far.

    Parameters
    ----------
    count : GuessedCount
        The count that is guessed, with every guess of it.
    at : int
        Which of them this picture is of.
    counts : tuple of SoFar
        Counts of the same kind in the same way before; may be empty.
    rests_on : str
        What the guess rests on, in words.
    """

    count: GuessedCount
    at: int
    counts: tuple[SoFar, ...]
    rests_on: str = ""

    @property
    def row(self) -> GuessRow:
        """The guess that this picture is of."""
        return self.count.rows[self.at]


def picture_of_guess(guess: SealedGuess, note: str = "") -> Picture:
    """Draw one guess; a sealed one without its figures.

    Parameters
    ----------
    guess : SealedGuess
        The guess.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    count = guess.count
    chart = alt.vconcat(_times(guess), draw_rows(count, NARROW - AXIS, is_named=False), spacing=34)
    rows = tuple((say(each.sealed_on), row_words(each, count.unit)) for each in count.rows)
    tables = [Table(f"Guesses of {count.zone}, {count.month}", ("sealed on", "guess"), rows)]
    if guess.counts:
        seen = tuple((say(each.day), plain_figure(each.value)) for each in guess.counts)
        tables.append(Table("The counts so far", ("day", count.unit_words), seen))
    told = (_sentence(guess), _key(guess), tables, note)
    return finish(chart, *told, foot=_foot(guess), narrow=True)


def _sentence(guess: SealedGuess) -> str:
    count, row = guess.count, guess.row
    of = f"{count.kind} in {count.zone}"
    if not row.is_open:
        return (
            f"What {_mid(row.who)} thinks of {of} is sealed: it opens when the count of"
            f" {count.month} comes."
        )
    told = f"{row.who} said {span_words(row, count.unit)} for {of}, {count.month}"
    if count.found is None or row.off is None:
        return f"{told}."
    word = {True: "and it held", False: "and it missed", None: "one figure"}[row.inside]
    unit = "%" if count.unit == "%" else "plants a m²"
    return f"{told}; {plain_figure(count.found.value)} {unit} was found, {word}."


def _mid(who: str) -> str:
    """Write who guessed as it stands within a sentence."""
    return f"t{who[1:]}" if who.startswith("The ") else who


def _key(guess: SealedGuess) -> str:
    """Say what the marks mean, of those that are there."""
    rows = guess.count.rows
    ranged = [each for each in rows if each.is_open and each.at80 is not None]
    told = ["Above: the box is when a count opens and settles it"]
    told[0] += "; discs are the counts so far." if guess.counts else "."
    if any(not each.is_open for each in rows):
        told.append("Dashed bar: sealed, figures not shown.")
    if ranged:
        half = "; darker part: half the time" if any(each.at50 for each in ranged) else ""
        told.append(f"Bar: the range that should hold the count four times in five{half}.")
    if any(each.is_open and each.middle is not None for each in rows):
        told.append("Stroke: one figure, or the middle.")
    if guess.count.found is not None:
        told.append("Disc on a bar: what was found; open disc: it missed.")
    return " ".join(told)


def _foot(guess: SealedGuess) -> str:
    count = guess.count
    beside = f" {guess.row.beside[0].upper()}{guess.row.beside[1:]}." if guess.row.beside else ""
    number = len(guess.counts)
    few = {0: "No count so far. ", 1: "1 count so far. "}
    counted = few.get(number, f"{number} counts so far. ")
    return (
        f"Sealed on {say(guess.row.sealed_on)}; a count between {say(count.first)} and"
        f" {say(count.last)} settles it. {counted}{guess.rests_on}{beside}"
    ).strip()


def _times(guess: SealedGuess) -> Panel:
    """Draw the counts so far, the day of sealing and the days of the count that opens it."""
    import altair as alt

    count, sealed = guess.count, guess.row.sealed_on
    days = [sealed, count.last, *(each.day for each in guess.counts)]
    spare = timedelta(days=max((max(days) - min(days)).days // 30, 7))
    ends = [(min(days) - spare).isoformat(), (max(days) + spare).isoformat()]
    x = alt.X("day:T", scale=alt.Scale(type="utc", domain=ends), axis=date_axis())
    shown = [each.value for each in guess.counts]
    shown += [each.at80.high for each in [guess.row] if each.is_open and each.at80 is not None]
    shown += [guess.row.middle or 0.0] if guess.row.is_open else []
    shown += [count.found.value] if count.found is not None else []
    scale = alt.Scale(domain=[0, 1.15 * max([*shown, 1.0])], nice=True)
    axis = alt.Axis(tickCount=4, minExtent=AXIS - 20, maxExtent=AXIS - 20)
    y = alt.Y("value:Q", title=count.unit_words, scale=scale, axis=axis)
    layers = [*_window(guess, x, y), *_seen(guess.counts, x, y)]
    if count.found is not None:
        layers += _seen([SoFar(count.found.day, count.found.value)], x, y, left=True)
    return alt.layer(*layers).properties(width=NARROW - AXIS, height=HEIGHT)


def _window(guess: SealedGuess, x: Any, y: Any) -> list[Any]:
    import altair as alt

    count, row = guess.count, guess.row
    middle = date.fromordinal((count.first.toordinal() + count.last.toordinal()) // 2)
    box = {"day": count.first.isoformat(), "last": count.last.isoformat()}
    mark = {"day": row.sealed_on.isoformat(), "told": f"sealed {row.sealed_on.day}"
            f" {row.sealed_on:%B %Y}"}  # fmt: skip
    opens = f"{'the count of' if row.is_open else 'opens with the count,'} {count.month}"
    firsts = [each.day for each in guess.counts]
    early = not firsts or (row.sealed_on - min(firsts)) < (count.last - row.sealed_on) / 2
    aside: dict[str, Any] = {
        "align": "left" if early else "right", "dx": -4 if early else 4
    }  # fmt: skip
    sealed = alt.Chart(data([mark])).encode(x=x)
    window = alt.Chart(data([{**box, "told": opens}]))
    layers = [
        window.mark_rect(fill="white" if row.is_open else PALE, stroke=INK, strokeDash=[4, 3])
        .encode(x=x, x2="last:T", y=alt.value(0), y2=alt.value(HEIGHT)),
        window.mark_text(align="right", fill=QUIET)
        .encode(x=alt.X("last:T"), y=alt.value(-22), text="told:N"),
        sealed.mark_rule(stroke=QUIET, strokeDash=[2, 3])
        .encode(y=alt.value(-2), y2=alt.value(HEIGHT)),
        sealed.mark_text(**aside, fill=QUIET).encode(y=alt.value(-8), text="told:N"),
    ]  # fmt: skip
    if row.is_open and row.at80 is not None:
        bar = {"day": middle.isoformat(), "value": row.at80.low, "high": row.at80.high}
        layers.append(
            alt.Chart(data([bar])).mark_bar(width=11, fill=PALE, stroke=INK, strokeWidth=1)
            .encode(x=x, y=y, y2="high:Q")
        )  # fmt: skip
    if row.is_open and row.middle is not None:
        tick = {"day": middle.isoformat(), "value": row.middle}
        layers.append(
            alt.Chart(data([tick])).mark_tick(thickness=3, width=17, color=INK, opacity=1)
            .encode(x=x, y=y)
        )  # fmt: skip
    return layers


def _seen(counts: Sequence[SoFar], x: Any, y: Any, *, left: bool = False) -> list[Any]:
    import altair as alt

    if not counts:
        return []
    rows = [
        {"day": each.day.isoformat(), "value": each.value, "told": plain_figure(each.value)}
        for each in counts
    ]
    base = alt.Chart(data(rows)).encode(x=x, y=y)
    side: dict[str, Any] = {"align": "right" if left else "left", "dx": -9 if left else 9}
    return [
        base.mark_text(stroke="white", strokeWidth=6, **side).encode(text="told:N"),
        base.mark_text(**side).encode(text="told:N"),
        base.mark_point(shape="circle", size=80, filled=True, fill=INK, stroke=INK, opacity=1),
    ]
