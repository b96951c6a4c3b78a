"""What no programme may do, and the rule it is told by."""

from dataclasses import replace

import pytest

from swardbook.husbandry.ground import Mower, Tolerance, Use, Zone
from swardbook.model.never import Place, breaches, breaches_in, line_between
from swardbook.model.programmes import Box, programme, programmes

COURT = Zone(
    "Court", 400.0, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0,
    Mower("cylinder", 510, lowest_mm=4.0),
)  # fmt: skip
LAWN = replace(COURT, name="Lawn", height_of_cut_mm=35.0, mower=Mower(has_box=False))
WHOLE = programme("whole")


@pytest.mark.parametrize("key", list(programmes()))
def test_no_programme_of_the_handbook_breaks_a_never_do(key: str) -> None:
    assert breaches(programmes()[key]) == ()


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"verticut_days": 5.0}, "more often than every 7 days"),
        ({"verticut_lines_deg": (20.0,)}, "the same line again"),
        ({"verticut_lines_deg": (20.0, 30.0)}, "crosses the last by less than 20"),
        ({"nitrogen_g_m2_year": 9.0, "feeds": 2}, "3 g N a m² in one dose"),
        ({"nitrogen_g_m2_year": 24.0, "feeds": 12}, "18 g N a m² in a year"),
        ({"feeds": 0}, "without feeds"),
        ({"water_mm": 5.0}, "3 mm a day"),
        ({"cut_days": (0.5, 3.0)}, "one cut a day"),
        ({"pull_hours_week": -1.0}, "less than nothing"),
    ],
)
def test_a_programme_that_breaks_a_rule_is_told_which(change: dict[str, object], rule: str) -> None:
    (found,) = breaches(replace(WHOLE, **change))  # type: ignore[arg-type]
    assert rule in found.never


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"height_of_cut_mm": 3.0}, "below what the mower reaches, 4 mm"),
        ({"height_of_cut_mm": 9.0}, "never cut perennial ryegrass below 15 mm"),
        ({"verticut_depth_mm": 4.0}, "deeper than 2 mm"),
        ({"nitrogen_g_m2_year": 15.0, "feeds": 8}, "12 g N a m² in a year on fine turf"),
        ({"pull_hours_week": 12.0}, "the 9 a week there are"),
    ],
)
def test_a_zone_has_rules_of_its_own(change: dict[str, object], rule: str) -> None:
    place = Place(COURT, (("perennial ryegrass", 15.0),), 9.0)
    told = " ".join(map(str, breaches_in(replace(WHOLE, **change), place)))  # type: ignore[arg-type]
    assert rule in told


def test_a_mower_without_a_box_boxes_nothing() -> None:
    found = breaches_in(WHOLE, Place(LAWN))
    assert [each.found for each in found] == ["box with heads"]
    assert breaches_in(replace(WHOLE, box=Box.NEVER), Place(LAWN)) == ()


def test_the_zones_own_height_is_its_owners_choice() -> None:
    assert breaches_in(WHOLE, Place(COURT, (("perennial ryegrass", 15.0),))) == ()


def test_lines_are_told_apart_by_the_smaller_angle() -> None:
    assert line_between(170.0, -170.0) == 20
    assert line_between(0.0, 180.0) == 0
    assert line_between(0.0, 90.0) == 90
