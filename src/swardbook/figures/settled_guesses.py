"""Every guess beside the count that came, and whether ranges hold as often as they should."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from swardbook.evidence.estimates import Interval
from swardbook.figures.guess_rows import GuessedCount, draw_rows, row_words
from swardbook.figures.picture import INK, NARROW, PALE, QUIET, Picture, Table, data, finish

if TYPE_CHECKING:
    from swardbook.figures.picture import Panel

STEP = 42


@dataclass(frozen=True, slots=True)
class LevelHeld:
    """How many settled ranges of one stated level held.

    Parameters
    ----------
    level : float
        Share that should hold. [-]
    ranges, held : int
        Settled ranges, and those that held.
    share : Interval or None
        95 % range of the share that holds; None where there are too few to say. [-]
    verdict : str
        What may be said.
    """

    level: float
    ranges: int
    held: int
    share: Interval | None
    verdict: str


@dataclass(frozen=True, slots=True)
class SettledGuesses:
    """Guesses, count by count, and how all of them have done.

    Parameters
    ----------
    counts : tuple of GuessedCount
        The counts that were guessed, at least one, in the order of their days.
    levels : tuple of LevelHeld
        The settled ranges by stated level.
    sealed, settled, never : int
        Guesses in the whole book: sealed, settled, and those whose count never came.
    needed : int
        Settled ranges needed to say anything of them.
    caution : str
        What has to be said beside it.
    """

    counts: tuple[GuessedCount, ...]
    levels: tuple[LevelHeld, ...]
    sealed: int
    settled: int
    never: int
    needed: int
    caution: str = ""


def picture_of_guesses(guesses: SettledGuesses, note: str = "") -> Picture:
    """Draw guesses beside what was found, and how many ranges held against what was stated.

    Parameters
    ----------
    guesses : SettledGuesses
        The guesses.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    panels: list[Any] = [draw_rows(each, NARROW, is_named=True) for each in guesses.counts]
    chart = alt.vconcat(*panels, _levels(guesses), spacing=26)
    key = (
        "Bar: the range that should hold the count four times in five, darker part: half the"
        " time; stroke: one figure, or the middle. Disc: what was found, open where it missed."
        " Dashed bar: still sealed, figures not shown."
    )
    rows = tuple(
        (each.zone, each.month, row_words(row, each.unit))
        for each in guesses.counts for row in each.rows
    )  # fmt: skip
    tables = [Table("Guesses", ("zone", "count of", "guess"), rows)]
    told = tuple((_percent(each.level), _held(each), each.verdict) for each in guesses.levels)
    heads = ("stated", "held", "verdict")
    tables.append(Table("Ranges that held, by what was stated", heads, told))
    never = f", {guesses.never} whose count never came" if guesses.never else ""
    foot = (
        f"{guesses.sealed} guesses sealed, {guesses.settled} settled{never}; none is left out."
        " Off by: the continuous ranked probability score, 0 is exact;"
        f" for one figure the distance. {guesses.caution}"
    ).strip()
    return finish(chart, _sentence(guesses), key, tables, note, foot=foot, narrow=True)


def _sentence(guesses: SettledGuesses) -> str:
    middle = guesses.levels[len(guesses.levels) // 2]
    if not guesses.settled:
        word = "guess is" if guesses.sealed == 1 else "guesses are"
        return f"{guesses.sealed} {word} sealed, and none is settled: no count has come yet."
    if not middle.ranges:
        return "The guesses that are settled were single figures, so no range could hold."
    told = f"{middle.held} of {middle.ranges} settled {_percent(middle.level)} ranges held"
    if middle.share is None:
        return f"{told}: not enough yet to say whether four in five do."
    return f"{told}: {middle.verdict}."


def _levels(guesses: SettledGuesses) -> Panel:
    """Draw for each stated level the share that held, with its range; too few are said to be."""
    import altair as alt

    rows, words = [], []
    for n, each in enumerate(guesses.levels):
        top = 4 + n * STEP
        words.append({"y": top, "words": _told(each, guesses.needed)})
        row = {"y": top + 26, "stated": 100 * each.level}
        if each.share is not None:
            row |= {"low": 100 * each.share.low, "high": 100 * each.share.high,
                    "held": 100 * each.held / each.ranges}  # fmt: skip
        rows.append(row)
    height = STEP * len(rows) + 4
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[height, 0], nice=False, zero=False))
    x = alt.X(
        "stated:Q", title="% of ranges that held", scale=alt.Scale(domain=[0, 100]),
        axis=alt.Axis(tickCount=5),
    )  # fmt: skip
    layers: list[Any] = []
    known = [row for row in rows if "low" in row]
    if known:
        base = alt.Chart(data(known)).encode(y=y)
        layers += [
            base.mark_bar(height=10, fill=PALE, stroke=INK, strokeWidth=1).encode(
                x=alt.X("low:Q"), x2="high:Q"
            ),
            base.mark_point(
                shape="circle", size=80, filled=True, fill=INK, stroke=INK, opacity=1
            ).encode(x=alt.X("held:Q")),
        ]
    every = alt.Chart(data(rows)).encode(y=y)
    layers += [
        every.mark_tick(thickness=3, height=20, color=INK, opacity=1).encode(x=x),
        *_spoken(words, y),
    ]
    title = alt.Title(
        ["Do the ranges hold as often as stated?"],
        subtitle="Stroke: stated. Disc: the share that held; bar: its 95 % range.",
        fontSize=13, subtitleFontSize=12, subtitleColor=QUIET, offset=10, frame="group",
    )  # fmt: skip
    return alt.layer(*layers).properties(width=NARROW, height=height, title=title)


def _spoken(words: Sequence[dict[str, Any]], y: Any) -> list[Any]:
    import altair as alt

    base = alt.Chart(data(words)).encode(x=alt.value(0), y=y, text="words:N")
    look: dict[str, Any] = {"align": "left", "baseline": "top"}
    return [base.mark_text(stroke="white", strokeWidth=6, **look), base.mark_text(**look)]


def _told(each: LevelHeld, needed: int) -> str:
    told = f"{_percent(each.level)} ranges: {_held(each)}"
    if each.share is None:
        return f"{told}; not enough yet, {needed} are needed to say"
    return f"{told}: {each.verdict}"


def _held(each: LevelHeld) -> str:
    return f"{each.held} of {each.ranges} held" if each.ranges else "none settled"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"
