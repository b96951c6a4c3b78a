"""What every picture has: a sentence, a table, a drawing that can be heard as well as seen."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from textwrap import wrap
from typing import TYPE_CHECKING, Any, TypeAlias
from xml.etree import ElementTree as ET

from swardbook.figures.picture_room import give_room
from swardbook.review.words import figure

if TYPE_CHECKING:
    from altair import Axis, FacetChart, InlineData, LayerChart
    from altair.vegalite.v6.api import TopLevelMixin

    Panel: TypeAlias = LayerChart | FacetChart

WIDTH, NARROW = 620, 440
"""Width of the drawing inside its axes, and of one that a phone shows whole. [px]"""
TEXT = 12
"""Size of the smallest text. [px]"""
FEW_DAYS, YEAR = 62, 365
"""Up to so many days are told one by one. [d]"""
INK, QUIET, PALE = "#1b1b1b", "#5c5c5c", "#d4dde6"
FONT = "Liberation Sans, Arial, Helvetica, sans-serif"
"""The first is carried by the renderer, so letters take the same room on any machine."""
HEAD_WORDS = "head-words"
_SVG = "http://www.w3.org/2000/svg"
TITLE_LETTERS, KEY_LETTERS = 76, 116
NARROW_LETTERS = (56, 76)
_VEGA_LITE = "6.4"
HOUSE: Mapping[str, Any] = {
    "background": "white",
    "padding": 12,
    "font": FONT,
    "view": {"stroke": None},
    "concat": {"spacing": 18},
    "facet": {"spacing": 18},
    "title": {
        "anchor": "start", "frame": "bounds", "fontSize": 15, "lineHeight": 19, "color": INK,
        "fontWeight": "bold", "offset": 14, "subtitleFontSize": TEXT, "subtitleLineHeight": 16,
        "subtitleColor": QUIET, "subtitlePadding": 5,
    },
    "axis": {
        "labelFontSize": TEXT, "titleFontSize": TEXT, "titleFontWeight": "normal",
        "labelColor": INK, "titleColor": INK, "domainColor": QUIET, "tickColor": QUIET,
        "gridColor": "#e4e4e4", "labelLimit": 260, "titlePadding": 8, "labelPadding": 5,
    },
    "header": {"labelFontSize": TEXT, "labelFontWeight": "bold", "labelColor": INK},
    "legend": {
        "labelFontSize": TEXT, "titleFontSize": TEXT, "titleFontWeight": "normal",
        "labelColor": INK, "titleColor": INK, "labelLimit": 260, "symbolSize": 110,
        "symbolFillColor": INK, "symbolStrokeColor": INK,
    },
    "text": {"fontSize": TEXT, "color": INK},
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Table:
    """Figures that were drawn, for who would rather read them.

    Parameters
    ----------
    name : str
        What it holds.
    heads : tuple of str
        Heads of its columns, with units.
    rows : tuple of tuple of str
        Its rows, in words.
    """

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture, the sentence it shows and the tables behind it.

    Parameters
    ----------
    sentence : str
        What it shows; its title.
    key : str
        What its marks mean, in words; stands under the title.
    svg : str
        The drawing; the same values give the same bytes.
    tables : tuple of Table
        The figures that were drawn.
    specification : mapping
        The Vega-Lite specification it was rendered from.
    """

    sentence: str
    key: str
    svg: str
    tables: tuple[Table, ...]
    specification: Mapping[str, Any] = field(repr=False)


def finish(
    chart: TopLevelMixin, sentence: str, key: str, tables: Sequence[Table], note: str = "",
    *, foot: str = "", narrow: bool = False,
) -> Picture:  # fmt: skip
    """Render a chart and put its words to it.

    Parameters
    ----------
    chart : TopLevelMixin
        The chart, without a title.
    sentence, key : str
        What it shows, and what its marks mean.
    tables : sequence of Table
        The figures behind it.
    note : str
        What has to stand beside it, such as that the ground is made up.
    foot : str
        What it rests on, in a line below: the source, and how many.
    narrow : bool
        Whether a phone should show it whole.

    Returns
    -------
    Picture
        With `svg` that states its title and description for who hears it.
    """
    key = f"{note} {key}".strip()
    title, small = NARROW_LETTERS if narrow else (TITLE_LETTERS, KEY_LETTERS)
    specification: dict[str, Any] = chart.to_dict()
    if foot:
        specification = _footed(specification, lines_of(foot, small))
    specification["config"] = dict(HOUSE)
    specification["title"] = {"text": lines_of(sentence, title), "subtitle": lines_of(key, small)}
    svg = drawn_and_told(specification, sentence, key, tables, foot)
    return Picture(sentence, key, svg, tuple(tables), specification)


def drawn_and_told(
    specification: dict[str, Any], sentence: str, key: str, tables: Sequence[Table],
    foot: str = "", locale: dict[str, Any] | None = None, spare: float = 1.0,
) -> str:  # fmt: skip
    """Render a specification as an image that states its title and description.

    Parameters
    ----------
    specification : dict
        In Vega-Lite.
    sentence, key, foot : str
        What it shows, what its marks mean, what it rests on.
    tables : sequence of Table
        The figures behind it.
    locale : dict, optional
        How numbers are written; with a point unless it is given.
    spare : float
        By how much wider letters may come out than those it is drawn with. [-]
    """
    from vl_convert import vegalite_to_svg

    drawn = vegalite_to_svg(specification, vl_version=_VEGA_LITE, format_locale=locale)
    mark = sha256(json.dumps(specification, sort_keys=True).encode()).hexdigest()[:10]
    told = " ".join([key, *(_spoken(table) for table in tables), foot]).strip()
    return _spoken_for(drawn, sentence, told, mark, spare)


def head_words(words: str, high: float) -> str:
    """Mark the words at the head of a drawing, which a page leaves out: it writes them itself.

    Parameters
    ----------
    words : str
        As SVG.
    high : float
        Room they take at the top. [px]
    """
    return f'<g class="{HEAD_WORDS}" data-high="{high:.0f}">{words}</g>'


def data(rows: Sequence[Mapping[str, Any]]) -> InlineData:
    """Put rows into the specification itself, so that it stands alone."""
    import altair as alt

    return alt.InlineData(values=[dict(row) for row in rows])


def date_axis(days: int = YEAR) -> Axis:
    """Make an axis of days, told by month and year, or by the day where they are few."""
    import altair as alt

    is_short = days <= FEW_DAYS
    return alt.Axis(
        title=None, format="%-d %b %Y" if is_short else "%b %Y",
        tickCount="week" if is_short else "month", labelOverlap="parity", labelSeparation=12,
        grid=False,
    )  # fmt: skip


def short_figure(number: float) -> str:
    """Write a number as a label has room for: whole, or with one decimal below ten."""
    return figure(number, 0 if abs(number) >= 9.5 else 1)


def lines_of(text: str, letters: int) -> list[str]:
    """Break text into lines, never between the two ends of a range or before a unit."""
    joined = re.sub(r"(?<=\d) (?=to \d|%|[A-Z][a-z])|(?<=\d to) (?=\d)", "\N{NO-BREAK SPACE}", text)
    return wrap(joined, letters, break_on_hyphens=False)


def _footed(specification: Mapping[str, Any], lines: Sequence[str]) -> dict[str, Any]:
    """Put a line below everything: the foot is the title of the part that holds the drawing."""
    above = {name: specification[name] for name in ("$schema", "datasets") if name in specification}
    drawing = {name: held for name, held in specification.items() if name not in {*above, "config"}}
    foot = {
        "text": list(lines), "orient": "bottom", "fontSize": TEXT, "fontWeight": "normal",
        "color": QUIET, "lineHeight": 16,
    }  # fmt: skip
    return {**above, "vconcat": [{**drawing, "title": foot}]}


def _spoken(table: Table) -> str:
    lines = (
        ", ".join(f"{head}: {cell}" for head, cell in zip(table.heads, row, strict=True) if cell)
        for row in table.rows
    )
    return f"{table.name}. {'; '.join(lines)}."


def _spoken_for(drawn: str, title: str, description: str, mark: str, spare: float) -> str:
    """Make the drawing one image with a title and a description, and nothing else to be heard."""
    ET.register_namespace("", _SVG)
    root = ET.fromstring(drawn)
    give_room(root, spare)
    ids: dict[str, str] = {}
    for each in root.iter():
        for name in list(each.attrib):
            if name.startswith("aria-") or name in {"role", "class", "pointer-events"}:
                del each.attrib[name]
        if "id" in each.attrib:
            ids[each.attrib["id"]] = f"p{mark}-{len(ids)}"
            each.attrib["id"] = ids[each.attrib["id"]]
    for each in root.iter():
        clip = each.attrib.get("clip-path", "")
        if clip.startswith("url(#"):
            each.attrib["clip-path"] = f"url(#{ids[clip[5:-1]]})"
    root.attrib.update(
        {"role": "img", "aria-labelledby": f"p{mark}-t", "aria-describedby": f"p{mark}-d"}
    )
    for place, (tag, end, text) in enumerate((("title", "t", title), ("desc", "d", description))):
        spoken = ET.Element(f"{{{_SVG}}}{tag}", {"id": f"p{mark}-{end}"})
        spoken.text = text
        root.insert(place, spoken)
    return ET.tostring(root, encoding="unicode") + "\n"
