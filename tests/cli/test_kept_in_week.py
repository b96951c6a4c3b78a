"""What a command keeps is what the week, the morning look and later commands go by."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.test_route import counted, measured
from tests.support.books import put_made_up_ground

SHORT = ("-z", "Short court")
ON = ("--on", "24 May 2011")


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The made-up ground, built once."""
    home = tmp_path_factory.mktemp("kept") / "book"
    put_made_up_ground(home)
    return home


@pytest.fixture
def demo(run: Run, book_home: Path, made_up: Path) -> Run:
    """A copy of it for each test."""
    shutil.copytree(made_up, book_home, dirs_exist_ok=True)
    return run


def tasks(run: Run, *more: str) -> dict[str, dict[str, Any]]:
    told = run("week", *SHORT, "--no-worth", *more, "--json").json
    return {each["job"]: each for each in told["tasks"]}


def section(run: Run, key: str, *more: str) -> str:
    told = run("morning", *more, "--json").json["sections"]
    return " ".join(
        line["text"] for each in told if each["key"] == key for line in each["lines"]
    )  # fmt: skip


def kept(run: Run, *command: str, on: tuple[str, ...] = ON) -> None:
    assert run(*command, *SHORT, "--keep", *on, "--json").json["kept_as"]


@pytest.mark.parametrize(
    ("command", "job", "words"),
    [
        (("cut", "plan"), "cut", "Cut by 24 May at 8 mm, line +0°: kept on 24 May."),
        (("water", "plan"), "water", "Water today, 9 mm, "),
        (("feed", "plan", "--nitrogen", "9"), "feed", "9 g N/m² for the year, 4.0 given, 5.0 left"),
        (("materials", "refill", "--holes", "20", "--size", "80"), "pull", "20 holes of 80 mm"),
        (("materials", "feed", "--npk", "12-0-9", "--nitrogen", "2"), "feed", "of 12-0-9"),
    ],
    ids=lambda each: " ".join(each[:2]) if isinstance(each, tuple) else "",
)
def test_what_is_kept_stands_in_the_week(
    demo: Run, command: tuple[str, ...], job: str, words: str
) -> None:
    if command[0] == "materials" and job == "feed":
        kept(demo, "feed", "plan")
    before = tasks(demo, *ON).get(job, {"kept": []})["kept"]
    assert not any(words in each for each in before)
    kept(demo, *command)
    assert any(words in each for each in tasks(demo, *ON)[job]["kept"])
    text = " ".join(demo("week", *SHORT, "--no-worth", *ON).text.split())
    assert f"Plan: {words}" in text or words in text


def test_a_kept_verticut_stands_in_the_week_with_depth_and_line(demo: Run) -> None:
    on = ("--on", "3 May 2011")
    kept(demo, "verticut", "plan", "--depth", "1.5", on=on)
    told = demo("diary", "kept", *on, "--json").json["kept"]
    [row] = [each for each in told if each["about"] == "verticut plan"]
    assert row["words"].startswith("Verticut 1.5 mm below height of cut")
    jobs = tasks(demo, *on)
    assert any("Verticut 1.5 mm" in line for line in jobs["verticut"]["kept"])


def test_kept_days_of_sowing_are_the_weeks_and_the_mornings(demo: Run) -> None:
    on = ("--on", "20 August 2011")
    kept(demo, "sow", "when", "--from", "27 August 2011", "--dates", "3", "--water", "--here",
         "--what", "Bobbin", on=on)  # fmt: skip
    jobs = tasks(demo, *on)
    [line] = [each for job in ("sow", "oversow") for each in jobs.get(job, {"kept": []})["kept"]]
    assert line == "Sow from 27 August to 10 September: kept on 20 August."
    assert line in section(demo, "sow", *on)
    later = demo("diary", "kept", "--on", "1 October 2011", "--json").json["kept"]
    assert [each["state"] for each in later if each["about"] == "when to sow"] == ["past"]


def test_a_kept_watch_stands_beside_the_look_for_seedlings(demo: Run) -> None:
    on = ("--on", "20 September 2010")
    kept(demo, "sow", "watch", on=on)
    [line] = tasks(demo, *on)["seedlings"]["kept"]
    assert line.startswith("Germination watch: ")
    assert line.endswith("kept on 20 September.")


def test_kept_bags_and_dressing_stand_beside_the_sowing(demo: Run) -> None:
    on = ("--on", "30 August 2010")
    kept(demo, "materials", "seed", "--rate", "30", "--lot", "BB-0417", on=on)
    kept(demo, "materials", "dressing", "--depth", "3", on=on)
    lines = tasks(demo, *on)["sow"]["kept"]
    assert any(each.startswith("Seed bags: 13.8") for each in lines)
    assert any(each.startswith("Dressing: 3 mm") for each in lines)


def test_a_kept_route_sets_the_coming_jobs_until_a_count_ages_it(
    ground: Run, tmp_path: Path
) -> None:
    counted(ground, tmp_path)
    measured(ground, "40", "38", "45", cores=("5", "4", "6", "5", "5"))
    ground("route", "compare", *SHORT, "--keep")
    task = tasks(ground)["cut"]
    assert task["name"].startswith("Cut low")
    assert "the next job of the hard renovation kept on 8 October" in task["why"]
    for _ in range(2):
        ground("cut", *SHORT, "--height", "5")
    assert tasks(ground)["scarify"]["name"] == "Scarify, 1 of 3"
    assert "Hard renovation, next: scarify, 1 of 3" in section(ground, "sow")
    ground("count", "add", *SHORT, "--place", "K1", "--found", "sown=20", "--placement", "2")
    assert "scarify" not in tasks(ground)
    aged = section(ground, "checks")
    assert "Route kept on 8 October has aged: count of Sat 8 October 2011" in aged
    [item] = [each for each in ground("look-over", "--json").json["items"]
              if each["about"] == "aged"]  # fmt: skip
    assert item["fixes"] == ["swardbook route compare --zone 'Short court' --keep"]


@pytest.mark.long
def test_a_mixture_kept_is_what_sow_when_looks_at_and_what_the_week_says_to_sow(demo: Run) -> None:
    on = ("--on", "20 August 2011")
    days = ("--from", "27 August 2011", "--dates", "1", "--water")
    assert demo("sow", "when", *SHORT, *days, *on, "--json").json["sown"] == "Bobbin, lot BB-0417"
    kept(demo, "mixture", "build", "--part", "browntop bent=20", "--part", "chewings fescue=80",
         "--name", "Old green", on=on)  # fmt: skip
    told = demo("sow", "when", *SHORT, *days, "--keep", *on, "--json").json
    assert told["sown"] == "Old green"
    lines = [line for job in tasks(demo, *on).values() for line in job["kept"]]
    assert "Mixture: Old green; kept on 20 August." in lines


def test_the_next_dose_of_a_kept_feed_plan_is_what_product_is_worked_out_for(demo: Run) -> None:
    asked = ("materials", "feed", "--npk", "12-0-9", *SHORT, *ON)
    assert "one of --nitrogen and --rate" in demo(*asked, code=2).text
    kept(demo, "feed", "plan", "--nitrogen", "9")
    dose = demo("feed", "plan", *SHORT, *ON, "--json").json["next_at_most_g_m2"]
    told = demo(*asked, "--json").json
    assert told["gives"]["nitrogen_g_m2"] == pytest.approx(dose, abs=0.05)
    assert "the next one of the feed plan kept" in " ".join(demo(*asked).text.split())


def test_a_kept_watering_of_a_sward_is_not_worth_seedlings(demo: Run) -> None:
    kept(demo, "water", "plan")
    told = demo("week", *SHORT, *ON, "--json").json["tasks"]
    [water] = [each for each in told if each["job"] == "water"]
    assert "a grown sward goes off colour first" in water["worth"]["words"]
