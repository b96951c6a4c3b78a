"""Charts that a phone shows: every word of them inside the drawing."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest
from playwright.sync_api import Browser

from swardbook.figures.picture_room import give_room
from swardbook.figures.picture_shown import SLIM, taken_apart
from swardbook.foundation.units import METRIC
from tests.support.pictures import KINDS, drawn
from tests.web.conftest import needs_chromium

A_LITTLE = 1.1
"""How much wider a drawing may be that a page then shrinks."""
CUT_OFF = """() => [...document.querySelectorAll("svg")].flatMap((svg) => {
  const all = svg.getBoundingClientRect();
  return [...svg.querySelectorAll("text")].filter((text) => {
    const own = text.getBoundingClientRect();
    return own.width && text.getAttribute("opacity") !== "0" && (own.left < all.left - 2
      || own.right > all.right + 2 || own.top < all.top - 2 || own.bottom > all.bottom + 2);
  }).map((text) => text.textContent);
})"""


EACH_DAY = {"mixture", "search", "sealed", "unsealed", "settled"}
"""Those that words were cut off at; the others are looked at in the long run."""


@needs_chromium
@pytest.mark.parametrize(
    "kind",
    [pytest.param(k, marks=[] if k in EACH_DAY else [pytest.mark.long]) for k in KINDS],
)
def test_no_word_of_a_chart_is_cut_off_and_a_phone_shows_it_whole(
    browser: Browser, kind: str
) -> None:
    shown = taken_apart(drawn(kind), METRIC)
    page = browser.new_page(viewport={"width": 900, "height": 900})
    page.set_content(f"{shown.slim}{shown.broad}")
    assert page.locator("svg").count() == 2
    assert page.evaluate(CUT_OFF) == []
    page.close()
    assert float(ET.fromstring(shown.slim).attrib["width"]) <= A_LITTLE * SLIM


def test_a_drawing_grows_by_what_overhangs_and_another_stays_as_it_is() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="40" viewBox="0 0 100 40">'
        '<rect width="100" height="40" fill="white"/><g transform="translate(90,20)">'
        '<text font-size="12px" opacity="0">hidden far away and long</text>{}</g></svg>'
    )
    inside = ET.fromstring(svg.format('<text text-anchor="end" font-size="12px">abc</text>'))
    give_room(inside)
    assert inside.attrib["viewBox"] == "0 0 100 40"
    over = ET.fromstring(svg.format('<text font-size="12px">abcdef</text>'))
    give_room(over)
    wide = float(over.attrib["width"])
    assert 115 < wide < 135
    assert over.attrib["viewBox"] == f"0 0 {wide:g} 40"
    assert over[0].attrib["width"] == f"{wide:g}"
