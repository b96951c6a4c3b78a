"""The plan is drawn to scale, told by pattern, shape and word, and opens by links with names."""

import re
from xml.etree import ElementTree as ET

import pytest

from swardbook.figures.ground_plan import (
    Area,
    GroundDrawn,
    Mark,
    Under,
    picture_of_ground,
    plan_for_page,
)
from swardbook.figures.picture import Table
from swardbook.figures.plan_marks import PATTERNS, SHAPES
from swardbook.foundation.units import METRIC, read_units

SVG = "{http://www.w3.org/2000/svg}"
COURT = ((3.0, 3.0), (35.0, 3.0), (35.0, 28.6), (3.0, 28.6))
RING = ((0.0, 0.0), (38.0, 0.0), (38.0, 31.6), (0.0, 31.6))
DRAWN = GroundDrawn(
    "The ground, by stage.", "A key.",
    (Area("zone", "Surround", (RING, COURT), "lines", "knitting", "Surround"),
     Area("zone", "Main <court>", (COURT,), "plain", "settled", "Main <court>", is_drawn=False)),
    (Mark("peg", "P1", (10.0, 10.0), "circle", "peg", "Surround", "12%", 3),
     Mark("spot", "spot 1", (12.0, 20.0), "look", "look again", "Surround")),
    (("lines", "knitting"), ("look", "spot: look again")),
    north_deg=20.0, tables=(Table("Zones", ("zone", "m²"), (("Surround", "381.6"),)),),
)  # fmt: skip


def test_the_bar_of_length_is_round_in_the_units_chosen() -> None:
    for units, told in ((METRIC, r">(\d+) m<"), (read_units("us"), r">(\d+) ft<")):
        drawn = plan_for_page(DRAWN, units=units)
        [length] = re.findall(told, drawn.svg)
        ends = re.search(r'class="sign" d="M([\d.]+) [\d.]+ L[\d. ]+ L([\d.]+) ', drawn.svg)
        assert ends is not None
        metres = float(length) * (1.0 if units == METRIC else 0.3048)
        assert (float(ends[2]) - float(ends[1])) / drawn.px_per_m == pytest.approx(metres, abs=0.1)


def test_metres_lie_to_scale_and_north_is_up() -> None:
    drawn = plan_for_page(DRAWN)
    root = ET.fromstring(drawn.svg)
    west, north, scale = (float(root.attrib[f"data-{name}"]) for name in ("west", "north", "scale"))
    assert (west, north, scale) == pytest.approx(
        (drawn.west_m, drawn.north_m, drawn.px_per_m), abs=1e-4
    )
    [court] = [each for each in root.iter(f"{SVG}path")
               if each.get("class") == "zone" and each.get("stroke-dasharray")]  # fmt: skip
    first = re.match(r"M([\d.]+) ([\d.]+) L([\d.]+)", court.attrib["d"])
    assert first is not None
    x, y, x2 = map(float, first.groups())
    assert (x / scale + west, north - y / scale) == pytest.approx((3.0, 3.0), abs=0.01)
    assert (x2 - x) / scale == pytest.approx(32.0, abs=0.01)


def test_no_style_attribute_or_script_stands_in_it_and_names_are_escaped() -> None:
    for svg in (plan_for_page(DRAWN).svg, picture_of_ground(DRAWN, "Made-up ground.").svg):
        assert "style=" not in svg
        assert "<script" not in svg
        assert "Main &lt;court&gt;" in svg
        ET.fromstring(svg)


def test_what_can_be_opened_is_a_link_with_a_name() -> None:
    links = {("zone", "Surround", "Surround"): "/ground/Surround/"}
    root = ET.fromstring(plan_for_page(DRAWN, links).svg)
    [link] = root.iter(f"{SVG}a")
    assert link.attrib == {"href": "/ground/Surround/", "aria-label": "Surround: knitting"}


def test_a_picture_is_heard_as_well_as_seen_and_the_same_bytes_again() -> None:
    picture = picture_of_ground(DRAWN, "Made-up ground.")
    root = ET.fromstring(picture.svg)
    assert root.attrib["role"] == "img"
    assert "Surround; m²: 381.6" in (root.find(f"{SVG}desc").text or "")  # type: ignore[union-attr]
    assert picture.svg == picture_of_ground(DRAWN, "Made-up ground.").svg


def test_every_pattern_and_shape_looks_different() -> None:
    for looks in (PATTERNS, SHAPES):
        assert len(set(looks.values())) == len(looks)


def test_a_backdrop_lies_by_its_two_points() -> None:
    under = Under("/b.jpg", 800, 600, ((100, 500), (700, 500)), ((0.0, 0.0), (38.0, 0.0)))
    drawn = plan_for_page(GroundDrawn("x", "", DRAWN.areas, under=under))
    matrix = re.search(r"matrix\(([^)]*)\)", drawn.svg)
    assert matrix is not None
    a, b, c, d, e, f = map(float, matrix[1].split())
    for (px, py), (east, north) in zip(under.on_picture, under.on_ground, strict=True):
        x, y = a * px + c * py + e, b * px + d * py + f
        assert x / drawn.px_per_m + drawn.west_m == pytest.approx(east, abs=0.02)
        assert drawn.north_m - y / drawn.px_per_m == pytest.approx(north, abs=0.02)


def test_a_zone_too_narrow_for_its_name_gets_a_number_and_a_line_in_the_key() -> None:
    thin = ((0.0, 0.0), (0.5, 0.0), (0.5, 30.0), (0.0, 30.0))
    areas = (Area("zone", "A very long walk", (thin,), "plain", "", "x"),
             Area("zone", "Main", (RING,), "plain", "", "Main"))  # fmt: skip
    assert plan_for_page(GroundDrawn("x", "", areas)).keys == ((1, "A very long walk"),)
