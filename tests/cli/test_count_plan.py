"""Planning a count, and what looks miss, at the command line."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.books import standing_on_made_up_ground


@pytest.fixture
def ground(run: Run, tmp_path: Path) -> Iterator[Run]:
    """The made-up ground, whose courts were counted for two years."""
    with standing_on_made_up_ground(tmp_path / "made up"):
        yield run


def test_a_zone_counted_before_is_planned_by_its_own_counts(ground: Run) -> None:
    told = ground("count", "plan", "--zone", "short court", "--json").json
    plants = told["plants"]
    assert told["points"] is None
    assert plants["expected_from"].startswith("counted on")
    assert plants["frames"] == 21
    assert plants["power_law"]["b"] < 2
    assert plants["places_without_a_find"] == 59
    assert plants["so_far"] is None


def test_first_frames_say_whether_to_go_on(ground: Run) -> None:
    asked = ("count", "plan", "--zone", "Short court", "--few", "1", "--many", "4")
    said = ground(*asked, "--so-far", "3,0,1,5,2,0,4,1").text
    assert "So far 8 frames: 2 plants/m² (0.96 to 4.5)." in said
    assert "Count on: about" in said
    assert "not settled yet, count on" in said
    none = ground(*asked, "--so-far", "0 0 0 0 0 0").text
    assert "none found; could still be up to" in none
    assert "Few or many: few. That is settled" in none


def test_what_a_look_misses_asks_for_more_places_without_a_find(ground: Run) -> None:
    plan = ("count", "plan", "--zone", "Short court", "--share", "5", "--json")
    assert ground(*plan, "--sees", "50").json["plants"]["places_without_a_find"] == 117


def test_cover_is_planned_by_points_where_it_was_counted_so(ground: Run) -> None:
    told = ground("count", "plan", "--zone", "Main court", "--json").json
    assert told["plants"] is None
    shown = ground("count", "show", "--zone", "Main court", "--json").json
    last = [each for each in shown["occasions"] if each["where"] == "zone"][-1]
    wanted = next(e["places_wanted"] for e in last["estimates"] if e["kind"] == told["kind"])
    assert told["points"]["places"] == wanted


def test_a_plan_for_points_takes_no_plants_and_the_reverse(ground: Run) -> None:
    for odd in (
        ("--method", "points", "--few", "1", "--many", "2"),
        ("--method", "plants", "--half-width", "5"),
        ("--method", "guess"),
        ("--so-far", "3,x"),
        ("--precision", "0"),
        ("--few", "1"),
    ):
        told = ground("count", "plan", "--zone", "Short court", *odd, code=2)
        assert told.code == 2
        assert told.result.stderr.strip()
        assert not told.result.stdout.strip()


def test_places_seen_are_shown_and_what_a_look_misses_is_not_guessed(ground: Run) -> None:
    told = ground("count", "presence", "--zone", "Short court", "--sees", "80", "--json").json
    assert told["n_places"] == 24
    assert told["n_noted"] == 18
    assert told["share_that_holds_it"] is None
    assert told["corrected_share_interval"][1] == 1.0
    assert "looked at twice" in told["refusals"][0]


def test_a_second_counter_tells_what_a_look_misses(ground: Run) -> None:
    """The same court counted again by another counter, who misses some and finds others."""
    found = [2, 0, 1, 4, 0, 3, 0, 1, 2, 0]
    for n, plants in enumerate(found, 1):
        ground("count", "add", "--zone", "Short court", "--place", f"S{n:02d}", "--area", "1",
               "--found", f"annual meadow-grass={plants}", "--counter", "Odalys")  # fmt: skip
    told = ground("count", "presence", "--zone", "Short court", "--json").json
    assert told["n_looked_at_again"] == 10
    assert 0 < told["seen_by_one_look"] <= 1
    low, high = told["share_that_holds_it_interval"]
    assert low <= told["share_that_holds_it"] <= high
