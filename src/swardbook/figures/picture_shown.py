"""A picture as a page or a file shows it: in the units chosen, and as wide as there is room."""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import lru_cache
from textwrap import wrap
from typing import Any

from swardbook.figures.picture import HEAD_WORDS, HOUSE, Picture, Table, drawn_and_told, lines_of
from swardbook.figures.picture_room import OTHER_LETTERS
from swardbook.foundation.unit_words import column, in_words, without_marks
from swardbook.foundation.units import COMMA, PARTING_SPACE, Units

SLIM = 320
"""Width that a phone shows whole. [px]"""
_TITLE, _HEAD = 40, 36
"""Letters in a line of an axis title and of a panel's title in a slim picture."""
_ROOM = 150
"""Room for labels beside a slim picture. [px]"""
_FIRST, _SPARE = 0.42, 24.0
"""Share of the width that is tried first, and what may be left of a phone's width. [px]"""
_LEAST = 200.0
"""Width of a slim drawing inside its axes, at least: a page shrinks what overhangs. [px]"""
_TEXT = re.compile(r">([^<>]*\d[^<>]*)<")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_LOCALE = {"decimal": ",", "thousands": PARTING_SPACE, "grouping": [3], "currency": ["", ""]}
_BROAD = 700.0
_HEADED = re.compile(rf'<g class="{HEAD_WORDS}" data-high="([\d.]+)">.*?</g>', re.S)
_BOX = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
_HIGH = re.compile(r'(<svg[^>]*? height=")([\d.]+)')
_MEASURED = re.compile(r'<svg[^>]*? width="([\d.]+)"')


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture taken apart for a page, which writes its words itself.

    Parameters
    ----------
    sentence, key, foot : str
        What it shows, what its marks mean, what it rests on; empty where the drawing says it.
    broad, slim : str
        Its drawing without these words, for a desk and for a phone; the same where it has only one.
    tables : tuple of Table
        The figures behind it.
    """

    sentence: str
    key: str
    foot: str
    broad: str
    slim: str
    tables: tuple[Table, ...]


def in_units(picture: Picture, units: Units) -> Picture:
    """Put a picture's words, tables and labels into the units chosen.

    Axes are drawn in the units chosen where they carry one; see `season_weather`.

    Parameters
    ----------
    picture : Picture
        In metric.
    units : Units
        What the person chose.
    """
    if units.is_plain:
        return picture
    said = _said(units)
    tables = tuple(table_in_units(each, units) for each in picture.tables)
    sentence, key = said(picture.sentence), said(picture.key)
    if not picture.specification:
        svg = _TEXT.sub(lambda found: f">{said(found[1])}<", picture.svg)
        return replace(picture, sentence=sentence, key=key, svg=svg, tables=tables)
    spec = _texts(deepcopy(dict(picture.specification)), said)
    if "title" in spec:
        title = spec["title"]
        longest = [max(map(len, title[name]), default=60) for name in ("text", "subtitle")]
        spec["title"] = {"text": lines_of(sentence, longest[0]),
                         "subtitle": lines_of(key, longest[1])}  # fmt: skip
    svg = drawn_and_told(spec, sentence, key, tables, _foot(spec), _locale(units))
    return Picture(sentence, key, svg, tables, spec)


@lru_cache(maxsize=256)
def _taken_apart(held: _Held, units: Units) -> Shown:
    picture = in_units(held.picture, units)
    if not picture.specification:
        svg = _without_words(picture.svg)
        key = picture.key if svg != picture.svg else ""
        return Shown(picture.sentence, key, "", svg, svg, picture.tables)
    spec = deepcopy(dict(picture.specification))
    foot = _foot(spec)
    spec.pop("title", None)
    if foot:
        spec["vconcat"][0].pop("title")
    told = (picture.sentence, picture.key, picture.tables, foot, _locale(units))
    return Shown(picture.sentence, picture.key, foot, drawn_and_told(spec, *told),
                 _fitted(spec, told), picture.tables)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Held:
    """A picture by its drawing, which tells it from every other."""

    picture: Picture

    def __hash__(self) -> int:
        return hash(self.picture.svg)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Held) and other.picture.svg == self.picture.svg


def taken_apart(picture: Picture, units: Units) -> Shown:
    """Give a picture as a page shows it: its words apart, and a drawing that a phone shows whole.

    Parameters
    ----------
    picture : Picture
        In metric.
    units : Units
        What the person chose.
    """
    return _taken_apart(_Held(picture), units)


def _without_words(svg: str) -> str:
    """Leave out the words at the head of a drawing by hand, and the room that they take."""
    found = _HEADED.search(svg)
    box = _BOX.search(svg)
    if found is None or box is None:
        return svg
    high = float(found[1])
    left = f'viewBox="0 {high:g} {box[1]} {float(box[2]) - high:g}"'
    svg = svg.replace(found[0], "").replace(box[0], left)
    return _HIGH.sub(
        lambda each: f"{each[1]}{float(each[2]) * (1 - high / float(box[2])):g}", svg, 1
    )


def _said(units: Units) -> Any:
    return lambda text: without_marks(in_words(text, units))


def _locale(units: Units) -> dict[str, Any] | None:
    return dict(_LOCALE) if units.decimal_mark == COMMA else None


def table_in_units(table: Table, units: Units) -> Table:
    """Put a table's heads and cells into the units chosen.

    Parameters
    ----------
    table : Table
        In metric.
    units : Units
        What the person chose.
    """
    made = [
        column(head, [row[n] for row in table.rows], units) for n, head in enumerate(table.heads)
    ]
    heads = tuple(without_marks(head) for head, _ in made)
    rows = tuple(
        tuple(without_marks(cells[n]) for _, cells in made) for n in range(len(table.rows))
    )
    return Table(in_words(table.name, units), heads, rows)


def _texts(node: Any, said: Any, is_text: bool = False) -> Any:
    """Put the texts of a specification into other words: titles, marks' texts, values of rows."""
    if isinstance(node, dict):
        return {
            name: _texts(held, said, is_text=name in {"title", "text", "subtitle", "values"}
                         or (is_text and name != "$schema"))
            if name != "datasets" else {key: _texts(rows, said, True) for key, rows in held.items()}
            for name, held in node.items()
        }  # fmt: skip
    if isinstance(node, list):
        return [_texts(each, said, is_text) for each in node]
    if isinstance(node, str) and is_text and not _DAY.match(node):
        return said(node)
    return node


def _foot(spec: Mapping[str, Any]) -> str:
    """Give the line below everything, which is the title of the part that holds the drawing."""
    parts = spec.get("vconcat", ())
    title = parts[0].get("title") if len(parts) == 1 else None
    is_foot = isinstance(title, dict) and title.get("orient") == "bottom"
    return " ".join(title["text"]) if is_foot and isinstance(title, dict) else ""


def _fitted(spec: Mapping[str, Any], told: tuple[Any, ...]) -> str:
    """Draw as wide as a phone: from what lies beside the drawing, and once more if that was off."""
    share, svg = _FIRST, ""
    words = (*told, OTHER_LETTERS)
    for _ in range(3):
        made = _slim(spec, share)
        svg = drawn_and_told(made, *words)
        over = _width(svg) - SLIM
        if -_SPARE <= over <= 0:
            break
        inside = max(_inside(made), 1.0)
        least = _LEAST * share / inside
        if share == least:
            break
        share = max(share * (inside - over - 1) / inside, least)
    return svg


def _width(svg: str) -> float:
    found = _MEASURED.search(svg)
    return float(found[1]) if found else _BROAD


def _slim(spec: Mapping[str, Any], share: float) -> dict[str, Any]:
    made: dict[str, Any] = _narrowed(deepcopy(dict(spec)), share)
    axis = {**HOUSE["axis"], "labelLimit": _ROOM}
    legend = {**HOUSE["legend"], "orient": "bottom", "direction": "vertical",
              "labelLimit": SLIM - 60}  # fmt: skip
    made["config"] = {**HOUSE, "axis": axis, "legend": legend, "padding": 4}
    return made


def _narrowed(node: Any, share: float, wide: float = 0.0) -> Any:
    if isinstance(node, list):
        return [_narrowed(each, share, wide) for each in node]
    if not isinstance(node, dict):
        return node
    own = node.get("width")
    is_part = isinstance(own, int | float) and bool({"layer", "mark", "encoding"} & set(node))
    wide = float(own) if is_part and isinstance(own, int | float) else wide
    made = {
        name: held if name == "datasets" else _narrowed(held, share, wide)
        for name, held in node.items()
    }
    if is_part:
        made["width"] = round(wide * share, 1)
    if isinstance(made.get("columns"), int) and "concat" in made:
        made["columns"] = max(1, made["columns"] // 2)
    if isinstance(made.get("facet"), dict) and "column" in made["facet"]:
        made["facet"] = made["facet"]["column"]
        made["columns"] = 1
    if made.get("labelOverlap") is False:
        made["labelOverlap"] = "parity"
    for name in ("x", "x2"):
        held = made.get(name)
        if isinstance(held, dict) and set(held) == {"value"}:
            made[name] = {"value": _moved(float(held["value"]), share, wide)}
    return _with_short_title(made)


def _moved(at: float, share: float, wide: float) -> float:
    """Move a place that is given in px: what lies beside the drawing stays as far from it."""
    if at <= 0:
        return at
    return at - wide + wide * share if at >= wide else at * share


def _with_short_title(node: dict[str, Any]) -> dict[str, Any]:
    title = node.get("title")
    if isinstance(title, str) and len(title) > _TITLE:
        return {**node, "title": wrap(title, _TITLE)}
    if isinstance(title, dict) and isinstance(title.get("text"), str | list):
        text = title["text"] if isinstance(title["text"], str) else " ".join(title["text"])
        under = title.get("subtitle")
        more = {"subtitle": wrap(under, _HEAD)} if isinstance(under, str) else {}
        return {**node, "title": {**title, "text": wrap(text, _HEAD), **more}}
    return node


def _inside(spec: Any) -> float:
    """Give the width of the parts that stand side by side, without what is around them."""
    if isinstance(spec, list):
        return max(map(_inside, spec), default=0.0)
    if not isinstance(spec, dict):
        return 0.0
    if isinstance(spec.get("concat"), list):
        across = int(spec.get("columns", len(spec["concat"])))
        return max(map(_inside, spec["concat"]), default=0.0) * across
    own = spec.get("width")
    if isinstance(own, int | float):
        return float(own)
    return max((_inside(held) for name, held in spec.items()
                if name in {"vconcat", "hconcat", "layer", "spec"}), default=0.0)  # fmt: skip
