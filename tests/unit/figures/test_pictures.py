"""What holds of every picture: it can be seen in grey, heard, and drawn again to the byte."""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from swardbook.figures.picture import INK, PALE, QUIET, TEXT
from tests.support.pictures import KINDS, drawn

SVG = "{http://www.w3.org/2000/svg}"
INKS = {INK, QUIET, PALE, "white", "none", "transparent", "#ececec", "#e4e4e4"}
COLOURS = {"color", "fill", "stroke", "opacity", "fillOpacity", "strokeOpacity"}


@cache
def root(kind: str) -> ET.Element:
    return ET.fromstring(drawn(kind).svg)


def encodings(part: Any) -> Iterator[Mapping[str, Any]]:
    """Every encoding of a specification, at any depth."""
    if isinstance(part, dict):
        if isinstance(part.get("encoding"), dict):
            yield part["encoding"]
        for each in part.values():
            yield from encodings(each)
    elif isinstance(part, list):
        for each in part:
            yield from encodings(each)


@pytest.mark.parametrize("kind", KINDS)
def test_it_is_one_image_with_a_title_and_a_description_to_be_heard(kind: str) -> None:
    image, picture = root(kind), drawn(kind)
    assert image.tag == f"{SVG}svg"
    assert image.attrib["role"] == "img"
    title, told = image[0], image[1]
    assert (title.tag, title.text) == (f"{SVG}title", picture.sentence)
    assert told.tag == f"{SVG}desc"
    assert image.attrib["aria-labelledby"] == title.attrib["id"]
    assert image.attrib["aria-describedby"] == told.attrib["id"]
    assert told.text is not None
    assert told.text.startswith(picture.key)
    for table in picture.tables:
        assert all(cell in told.text for row in table.rows for cell in row)


@pytest.mark.parametrize("kind", KINDS)
def test_its_title_is_a_sentence_and_stands_in_the_drawing(kind: str) -> None:
    sentence = drawn(kind).sentence
    assert sentence.endswith(".")
    shown = " ".join("".join(each.itertext()) for each in root(kind).iter(f"{SVG}text"))
    words = [word for word in re.split(r"\s+", sentence) if word]
    assert all(word in shown for word in words)


@pytest.mark.parametrize("kind", KINDS)
def test_no_text_is_small(kind: str) -> None:
    sizes = [
        float(each.attrib["font-size"].removesuffix("px")) for each in root(kind).iter(f"{SVG}text")
    ]
    assert min(sizes) >= TEXT >= 11


@pytest.mark.parametrize("kind", KINDS)
def test_no_value_is_told_by_colour(kind: str) -> None:
    """A colour, where a value sets it, is for nobody who sees it in grey."""
    found = list(encodings(drawn(kind).specification))
    assert found
    for encoding in found:
        for channel in COLOURS & set(encoding):
            assert "field" not in encoding[channel]
    used = {
        each.attrib[name] for each in root(kind).iter() for name in ("fill", "stroke")
        if name in each.attrib
    }  # fmt: skip
    assert used <= INKS


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_in_it_runs_points_outside_or_is_an_arrow(kind: str) -> None:
    svg = drawn(kind).svg
    assert not re.search(r"<script|\son\w+=|href=|<image|<foreignObject", svg)
    assert not re.search("[\u2190-\u21ff\u25b2\u25b4\u25bc\u25be]", svg)
    assert re.findall(r"https?://[^\"]+", svg.replace("http://www.w3.org/", "")) == []
    assert "triangle" not in str(drawn(kind).specification)


@pytest.mark.parametrize("kind", KINDS)
def test_every_axis_of_numbers_has_a_unit(kind: str) -> None:
    titles = {
        encoding[axis]["title"]
        for encoding in encodings(drawn(kind).specification)
        for axis in ("x", "y")
        if encoding.get(axis, {}).get("type") == "quantitative" and encoding[axis].get("title")
    }
    assert titles
    assert all(re.search(r"%|m²|metre|°C|mm|hours", title) for title in titles)


@pytest.mark.parametrize("kind", KINDS)
def test_ids_are_its_own_and_every_reference_is_met(kind: str) -> None:
    ids = [each.attrib["id"] for each in root(kind).iter() if "id" in each.attrib]
    assert len(ids) == len(set(ids))
    assert not set(ids) & {
        each.attrib["id"]
        for other in KINDS if other != kind
        for each in root(other).iter() if "id" in each.attrib
    }  # fmt: skip
    assert set(re.findall(r"url\(#([^)]+)\)", drawn(kind).svg)) <= set(ids)


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_values_give_the_same_bytes(kind: str) -> None:
    assert KINDS[kind]().svg == drawn(kind).svg
    assert not re.search(r"20[2-9]\d-\d\d-\d\dT", drawn(kind).svg)


@pytest.mark.parametrize("kind", KINDS)
def test_its_tables_are_whole(kind: str) -> None:
    tables = drawn(kind).tables
    assert tables
    for table in tables:
        assert table.name
        assert table.rows
        assert all(len(row) == len(table.heads) for row in table.rows)
