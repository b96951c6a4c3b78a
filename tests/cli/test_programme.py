"""Programmes as a person uses them: list, show, edit, compare, search."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.model import kernel

MINE = ("programme", "edit", "whole", "--as", "Every three weeks")


@pytest.fixture
def made_up(run: Run) -> Run:
    """The made-up book, with the model compiled for the tests."""
    kernel()
    run("demo")
    return run


def test_the_list_has_every_field_with_its_unit_in_the_name(ground: Run) -> None:
    told = ground("programme", "list", "--json").json["programmes"]
    assert {"cut_only", "cut_and_box", "dig_by_hand", "whole"} == {each["key"] for each in told}
    whole = next(each for each in told if each["key"] == "whole")
    assert whole["cut_every_days_fine_turf_and_lawn"] == [3, 5]
    assert whole["nitrogen_g_m2_a_year"] == 9
    assert whole["verticut_depth_mm"] == 1
    assert not whole["is_own"]


def test_an_edit_is_a_new_version_and_the_old_one_stays(ground: Run) -> None:
    told = ground("programme", "edit", "Whole programme", "--set", "verticut_days=21", "--json")
    assert told.json["before"]["verticut_every_days"] == 14
    assert told.json["programme"]["version"] == 2
    shown = ground("programme", "show", "whole", "--json").json["programme"]
    assert (shown["verticut_every_days"], shown["is_own"]) == (21, True)
    every = ground("programme", "list", "--versions", "--json").json["programmes"]
    assert [each["verticut_every_days"] for each in every if each["key"] == "whole"] == [14, 21]


def test_lists_words_and_the_zones_own_height_are_read(ground: Run) -> None:
    told = ground(
        *MINE, "--set", "cut_days=2,6", "--set", "box=always", "--set", "refills=no",
        "--set", "height_of_cut_mm=zone", "--json",
    ).json["programme"]  # fmt: skip
    assert told["cut_every_days_fine_turf_and_lawn"] == [2, 6]
    assert (told["box"], told["refills"], told["height_of_cut_mm"]) == ("always", False, None)
    assert told["key"] == "every_three_weeks"


@pytest.mark.parametrize(
    ("change", "never"),
    [
        ("verticut_days=3", "never verticut more often than every 7 days"),
        ("height_of_cut_mm=3", "never cut"),
        ("nitrogen_g_m2_year=40", "g N a m²"),
        ("pull_hours_week=20", "never more hours than the 9 a week there are"),
    ],
)
def test_a_never_do_is_refused_by_name_and_nothing_is_kept(
    ground: Run, change: str, never: str
) -> None:
    told = ground("programme", "edit", "whole", "--set", change, code=1)
    assert "breaks a never-do" in told.text
    assert never in " ".join(told.text.split())
    assert len(ground("programme", "list", "--versions", "--json").json["programmes"]) == 4


def test_a_box_is_refused_where_no_mower_has_one(empty: Run) -> None:
    empty("zone", "add", "Lawn", "--area", "200", "--use", "lawn", "--height-of-cut", "35 mm",
          "--box", "no")  # fmt: skip
    told = empty("programme", "edit", "whole", "--set", "feeds=9", "--zone", "Lawn", code=1)
    assert "never box with a mower that has no box" in told.text


@pytest.mark.parametrize(
    "change",
    [
        "verticut_days",
        "feeds=2.5",
        "cut_days=often",
        "box=perhaps",
        "depth=3",
        "feeds=8",
        "name=cut only",
    ],
)
def test_what_cannot_be_read_or_changes_nothing_is_wrong_use(ground: Run, change: str) -> None:
    before = ground("programme", "list", "--versions", "--json").json
    told = ground("programme", "edit", "whole", "--set", change, code=2).result
    assert told.stderr.strip()
    assert not told.stdout
    assert ground("programme", "list", "--versions", "--json").json == before


def test_a_programme_of_ones_own_is_compared_and_survives_export_and_import(
    made_up: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, book_home: Path
) -> None:
    made_up(*MINE, "--set", "verticut_days=21")
    ask = ("look-ahead", "--zone", "Turf nursery", "--draws", "64", "--json")
    told = made_up(*ask, "-p", "Every three weeks", "-p", "cut only").json["programmes"]
    assert [each["key"] for each in told] == ["as_recorded", "every_three_weeks", "cut_only"]
    archive = tmp_path / "all.zip"
    made_up("export", str(archive))
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "other"))
    made_up("import", str(archive))
    assert made_up("programme", "show", "every three weeks", "--json").json["programme"]["is_own"]


def test_a_programme_unfit_for_the_zone_is_refused_by_the_look_ahead(made_up: Run) -> None:
    kept = made_up(*MINE, "--set", "verticut_depth_mm=14").text
    assert "Not for Short court" in kept
    told = made_up(
        "look-ahead", "--zone", "Short court", "-p", "every_three_weeks", "--draws", "64", code=1
    )
    assert "never verticut deeper than 2 mm" in " ".join(told.text.split())


def test_a_ground_too_large_for_any_hours_is_told_the_least_it_takes() -> None:
    from swardbook.book.searching import ZoneSearch
    from swardbook.cli.programme_words import search_lines
    from swardbook.model.search import Curve

    nothing = ZoneSearch(
        "Park", "general knowledge only", 64, False, 9.0, Curve((), 1, None, 31.4), None, None,
        None, None, 0.3, (),
    )  # fmt: skip
    assert "suffice for no programme; the cheapest takes about 31" in " ".join(
        search_lines(nothing)
    )


def test_a_search_says_best_curve_and_arithmetic_and_its_command_is_taken(made_up: Run) -> None:
    import shlex

    ask = ("programme", "search", "--zone", "Surround", "--hours", "4", "--draws", "64")
    first, second = (made_up(*ask, "--json").result.stdout for _ in range(2))
    assert first == second
    told = made_up(*ask, "--json").json
    assert told["best"]["hours_a_week"] <= 4
    middles = [each["hours_a_week_at_most"] for each in told["curve"]]
    assert middles == sorted(middles)
    assert told["curve"][1]["against_fewer_hours"]["verdict"]
    text = made_up(*ask).result.stdout
    assert "35 % of the ground" in text
    (command,) = [line for line in text.splitlines() if line.startswith("swardbook programme edit")]
    kept = made_up(*shlex.split(command)[1:], "--json").json["programme"]
    for name in ("box", "pull_hours_a_week", "verticut_every_days", "nitrogen_g_m2_a_year"):
        assert kept[name] == told["best"]["programme"][name]
    others = [line for line in text.splitlines() if line != command]
    assert max(map(len, others)) <= 80
