"""Drawings for the key: the answers to one question side by side, or one plant part by part."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from hashlib import sha256
from textwrap import wrap
from xml.sax.saxutils import escape

from swardbook.figures.picture import FONT, INK, PALE, QUIET, TEXT, Picture, Table, head_words
from swardbook.figures.plant_heads import HABITS, HEADS
from swardbook.figures.plant_parts import (
    AURICLES,
    BASES,
    BULBS,
    COLOURS,
    HAIRS,
    LIGULES,
    LOWERS,
    SHEATHS,
    SHOOTS,
    TIPS,
    UPPERS,
    VERNATIONS,
    Drawing,
    line,
)
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.plants import Plant, Question, questions

DRAWN: Mapping[str, Mapping[str, Drawing]] = {
    "tip": TIPS, "hair": HAIRS, "upper": UPPERS, "lower": LOWERS, "colour": COLOURS,
    "vernation": VERNATIONS, "shoot": SHOOTS, "base": BASES, "auricles": AURICLES,
    "ligule": LIGULES, "sheath": SHEATHS, "bulb": BULBS, "habit": HABITS, "head": HEADS,
}  # fmt: skip
COLUMNS, WIDE, HIGH, EDGE = 2, 152, 196, 8
_LETTERS, _TITLE_LETTERS, _KEY_LETTERS = 23, 36, 50
_SCALE = 2 * 96 / 25.4
"""Twice true size: a px of an SVG is 1/96 inch. [px mm⁻¹]"""


def picture_of_question(question: Question) -> Picture:
    """Draw the answers to a question side by side.

    Parameters
    ----------
    question : Question
        The question.

    Raises
    ------
    NotEnoughDataError
        If it is about something that cannot be drawn, such as scent.
    """
    if question.cuts:
        panels = [(name, words, _measure(question, n))
                  for n, (name, words) in enumerate(question.states.items())]  # fmt: skip
    elif question.key in DRAWN:
        panels = [(name, words, DRAWN[question.key][name]())
                  for name, words in question.states.items()]  # fmt: skip
    else:
        raise NotEnoughDataError(
            f"a picture of {question.called}", "something to be seen", "nothing that can be drawn"
        )
    rows = tuple((name, words) for name, words, _ in panels)
    key = "Each drawing is one answer."
    if question.cuts:
        key = "Each bar is the upper end of a class at twice its size; marks are 1 mm apart."
    table = Table("Answers", ("answer", "what it looks like"), rows)
    return _laid_out(question.asks, key, panels, table)


def picture_of_plant(plant: Plant) -> Picture:
    """Draw what a plant usually shows, part by part.

    Parameters
    ----------
    plant : Plant
        The plant.
    """
    panels, rows = [], []
    for key, question in questions().items():
        row = plant.shown.get(key)
        if row is None:
            continue
        if row.low is not None and row.high is not None:
            unit = f" {question.unit}" if question.cuts else ""
            told = f"{row.low:g} to {row.high:g}{unit}"
        else:
            told = " or ".join(row.usual)
            if row.sometimes:
                told += f"; sometimes {' or '.join(row.sometimes)}"
        rows.append((question.called, told, row.grade.value, ", ".join(row.sources)))
        if key in DRAWN and key not in {"colour", "lower", "bulb"}:
            panels.append((question.called, told, DRAWN[key][row.usual[0]]()))
    heads = ("part", "what it shows", "grade", "sources")
    return _laid_out(
        f"{plant.both_names}: what to look for.",
        "Each drawing shows what is usual; the words also say what is seen sometimes.",
        panels, Table("Traits", heads, tuple(rows)),
    )  # fmt: skip


def _measure(question: Question, place: int) -> str:
    """Draw the upper end of a class as a bar beside a scale in mm."""
    ends = [*question.cuts, question.cuts[-1] * 1.4]
    long = ends[place] * _SCALE
    if question.key == "width_mm":
        bar = line(f"M{60 - long / 2:.1f} 96 V18 H{60 + long / 2:.1f} V96 Z", 2, PALE)
        marks = " ".join(
            f"M{60 - long / 2 + n * _SCALE:.1f} 100 v6" for n in range(int(ends[place]) + 1)
        )
        return bar + line(marks, 1)
    bar = line(f"M46 100 V{100 - long:.1f} H74 V100 Z", 2, PALE)
    marks = " ".join(f"M36 {100 - n * _SCALE:.1f} h6" for n in range(int(ends[place]) + 1))
    return bar + line(marks, 1)


def _laid_out(
    sentence: str, key: str, panels: Sequence[tuple[str, str, str]], table: Table
) -> Picture:
    """Lay panels out in rows under a title that can be heard."""
    titles, keys = wrap(sentence, _TITLE_LETTERS), wrap(key, _KEY_LETTERS)
    top = EDGE + 20 * len(titles) + 16 * len(keys) + 10
    rows = -(-len(panels) // COLUMNS)
    width, height = COLUMNS * WIDE + 2 * EDGE, top + rows * HIGH + EDGE
    heads = [_text(EDGE, EDGE + 14 + 20 * n, part, 15, "bold") for n, part in enumerate(titles)]
    down = EDGE + 20 * len(titles) + 12
    heads += [_text(EDGE, down + 16 * n, part, TEXT, fill=QUIET) for n, part in enumerate(keys)]
    parts = [head_words("".join(heads), top - EDGE)]
    for place, (name, words, drawing) in enumerate(panels):
        x, y = EDGE + place % COLUMNS * WIDE, top + place // COLUMNS * HIGH
        parts.append(f'<g transform="translate({x + 16},{y})">{drawing}</g>')
        told = [(name, "bold"), *((part, "normal") for part in wrap(words, _LETTERS)[:4])]
        parts += [_text(x + 8, y + 126 + 15 * n, part, TEXT, weight)
                  for n, (part, weight) in enumerate(told)]  # fmt: skip
    heard = " ".join([key, f"{table.name}.", "; ".join(": ".join(row[:2]) for row in table.rows)])
    body = "".join(parts)
    mark = sha256((sentence + body).encode()).hexdigest()[:10]
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
        f' viewBox="0 0 {width} {height}" role="img" aria-labelledby="p{mark}-t"'
        f' aria-describedby="p{mark}-d"><title id="p{mark}-t">{escape(sentence)}</title>'
        f'<desc id="p{mark}-d">{escape(heard)}</desc>'
        f'<rect width="{width}" height="{height}" fill="white"/>{body}</svg>\n'
    )
    return Picture(sentence, key, svg, (table,), {})


def _text(
    x: float, y: float, words: str, size: float, weight: str = "normal", fill: str = INK
) -> str:
    return (
        f'<text x="{x:g}" y="{y:g}" font-family="{FONT}" font-size="{size:g}"'
        f' font-weight="{weight}" fill="{fill}">{escape(words)}</text>'
    )
