"""Mend or start again at the command line: three columns, one route or none, and why."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run

KEPT = (7, 12, 9, 10, 8, 11, 13, 6, 9, 10, 9, 10)
"""Points of 25 on grass worth keeping; 38 % in all."""


def counted(ground: Run, folder: Path) -> None:
    sheet = folder / "count.csv"
    rows = [f"K{n},{hits},{25 - hits - 3},3" for n, hits in enumerate(KEPT, 1)]
    sheet.write_text("place,sown,poa annua,bare\n" + "\n".join(rows) + "\n", encoding="utf-8")
    ground("peg", "add", *[f"K{n}" for n in range(1, len(KEPT) + 1)], "--zone", "short court")
    ground("count", "add", "-z", "short court", "--file", str(sheet))


def measured(ground: Run, *rings: str, cores: tuple[str, ...]) -> None:
    keep = ("-z", "short court", "--keep")
    ground("survey", "rings", *rings, "--place", "low end", *keep)
    ground("survey", "cores", *cores, *keep)


def test_thirty_eight_percent_with_thatch_and_a_wet_end(ground: Run, tmp_path: Path) -> None:
    """Job B5: the drainage result matters more than this number."""
    counted(ground, tmp_path)
    measured(ground, "25 mm in 3 h", "9", "7", cores=("24", "22", "26", "25", "23"))
    asked = ("route", "compare", "-z", "short court")
    told = ground(*asked, "--json").json
    assert told["grass_worth_keeping_percent"] == pytest.approx(38)
    assert told["advised"] == "hard renovation"
    assert [each["fault"] for each in told["first"]] == ["drainage", "thatch"]
    text = " ".join(ground(*asked).text.split())
    assert "Grass worth keeping 38 % (" in text
    assert "between about 25 and 50, so a hard renovation" in text
    assert "But it drains slowly at the low end (7 to 9 mm/h)" in text
    assert "thatch is 24 mm: take it out first" in text
    assert "or any route fails the same way" in text


def test_no_count_gives_costs_and_no_advice(ground: Run) -> None:
    told = ground("route", "compare", "-z", "main court", "--json").json
    assert told["advised"] is None
    assert "grass worth keeping" in told["not_enough_data"]["needs"]
    assert "ring test" in told["not_enough_data"]["needs"]
    assert [each["route"] for each in told["routes"]] == [
        "oversow", "hard renovation", "start again"
    ]  # fmt: skip
    for each in told["routes"]:
        assert each["hours_low"] < each["hours"] < each["hours_high"]
        assert each["chance_of_regret_percent"] is None
    text = " ".join(ground("route", "compare", "-z", "main court").text.split())
    assert "No route is advised yet" in text
    assert "don't know" in text
    assert "default" in text


def test_the_verdict_and_its_reason_come_first(ground: Run, tmp_path: Path) -> None:
    """Nobody reads three columns to find near the bottom why none of them is advised."""
    asked = ("route", "compare", "-z", "short court")
    lines = ground(*asked).text.splitlines()
    head = " ".join(lines[: lines.index("")])
    assert head.startswith("Short court: No route is advised yet: it needs points at 6 places")
    assert "a ring test since the ground was worked" in head
    assert head.index("it needs") < head.index("there is no count of it")
    assert " ".join(lines).lower().count("there is no count of it") == 1
    counted(ground, tmp_path)
    measured(ground, "9", "7", "8", cores=("24", "22", "26", "25", "23"))
    told = ground(*asked, "--json").json
    own = [name for name in told if name not in {"today", "made_up"}]
    assert own[:2] == ["zone", "verdict"]
    assert told["verdict"] == (
        "A hard renovation is advised, once drainage and thatch are put right."
    )
    assert ground(*asked).text.startswith("Short court: A hard renovation is advised")


def test_a_count_without_rings_and_cores_is_withheld_too(ground: Run, tmp_path: Path) -> None:
    counted(ground, tmp_path)
    told = ground("route", "compare", "-z", "short court", "--json").json
    assert told["advised"] is None
    assert told["doubt"]
    assert "which alone would speak for a hard renovation" in told["sentence"]
    assert "thatch cores" in told["not_enough_data"]["needs"]
    refused = ground("route", "compare", "-z", "short court", "--keep").text
    assert "Not enough data for which route" in refused


def test_a_route_is_kept_and_found_again(ground: Run, tmp_path: Path) -> None:
    counted(ground, tmp_path)
    measured(ground, "40", "38", "45", cores=("5", "4", "6", "5", "5"))
    kept = ground("route", "compare", "-z", "short court", "--keep", "--who", "Ines", "--json").json
    assert kept["first"] == []
    assert kept["kept_as"]
    shown = ground("diary", "show", "--zone", "short court", "--kind", "worked out", "--json").json
    last = shown["entries"][-1]["what"]
    assert last["about"] == "route"
    assert last["named"]["route"] == "hard renovation"
    assert last["found"]["grass_worth_keeping_percent"] == pytest.approx(38)


def test_a_route_opens_to_its_workings(ground: Run, tmp_path: Path) -> None:
    counted(ground, tmp_path)
    told = ground("workings", "route", "-z", "short court", "--json").json["workings"]
    assert told[0]["answer"] == "no route is advised"
    assert "38 %" in told[1]["answer"]
    assert [each["question"].split()[2] for each in told[2:]] == ["oversow", "hard", "start"]
    names = {each["name"] for each in told[2]["inputs"]}
    assert {"area", "route hours scarify", "route money dress", "route seed oversow"} <= names
    assert all(each["grade"] for each in told[2]["inputs"] if each["name"].startswith("route"))


def test_creeping_throughout_starts_again(ground: Run, tmp_path: Path) -> None:
    counted(ground, tmp_path)
    measured(ground, "40", "38", "45", cores=("5", "4", "6", "5", "5"))
    told = ground("route", "compare", "-z", "short court", "--creeping", "--json").json
    assert told["advised"] == "start again"
    assert "creeping perennials stand throughout" in told["sentence"]


def test_own_jobs_stand_in_the_columns_and_no_product_is_named(ground: Run) -> None:
    for day in ("1 Aug", "3 Aug", "5 Aug"):
        ground("diary", "add", "scarify", "-z", "short court", "--when", day, "--hours", "2.5",
               "--money", "78")  # fmt: skip
    asked = ("route", "compare", "-z", "main court", "--jobs")
    text = ground(*asked).text
    assert "own (3)" in text
    assert "Hours by your own past jobs: scarify" in text
    assert "swardbook diary add treatment --zone 'Main court'" in text
    assert "the label's waiting time as printed" in " ".join(text.split())
    assert "The label, the register and licensed practice decide." in " ".join(text.split())


def test_a_stale_seedbed_shows_its_flushes_and_forecasts_none(ground: Run) -> None:
    """Practice: no ratio forecast."""
    seen = ("diary", "add", "seedlings", "-z", "short court", "-s", "species=annual meadow-grass")
    assert "stripped or scarified" in ground("route", "stale-seedbed", "-z", "short court").text
    ground("diary", "add", "strip", "-z", "short court", "--when", "9 Aug")
    assert "small frames" in ground("route", "stale-seedbed", "-z", "short court").text
    ground(*seen, "-s", "per_m2=310", "--when", "17 Aug")
    ground(*seen, "-s", "per_m2=85", "--when", "30 Aug")
    asked = ("route", "stale-seedbed", "-z", "short court", "--on", "1 Sep 2011")
    told = ground(*asked, "--json").json
    assert [each["seedlings_per_m2"] for each in told["flushes"]] == [310, 85]
    assert told["another_flush_up_on"] == "2011-09-18"
    text = " ".join(ground(*asked).text.split())
    assert "no ratio is carried forward" in text
    assert "27 %" not in text


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("compare",), "Which zone?"),
        (("compare", "-z", "nowhere"), "No zone called"),
        (("stale-seedbed",), "--zone"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(
    ground: Run, arguments: tuple[str, ...], words: str
) -> None:
    assert words in ground("route", *arguments, code=2).text
