"""A long gap loses no good day, and is named wherever an answer falls short for want of it."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.cli.conftest import Run

FIRST, LAST = date(2010, 3, 1), date(2011, 10, 8)
GAP = (date(2011, 2, 1), date(2011, 4, 30))


def station(folder: Path, gap: bool = True) -> str:
    days = [FIRST + timedelta(days=n) for n in range((LAST - FIRST).days + 1)]
    rows = [f"{day},{4 + day.month / 4},{14 + day.day / 9},{day.day % 3}" for day in days
            if not gap or not GAP[0] <= day <= GAP[1]]  # fmt: skip
    path = folder / ("gap.csv" if gap else "whole.csv")
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]), encoding="utf-8")
    return str(path)


def test_the_good_days_of_a_first_year_are_taken_and_the_missing_ones_named(
    ground: Run, tmp_path: Path
) -> None:
    told = ground("weather", "import", station(tmp_path)).text
    assert "temperature missing on 89 days, too long to fill" in told
    shown = ground("weather", "show", "--json").json
    assert shown["missing"] == [{"first": "2011-02-01", "last": "2011-04-30", "days": 89}]
    assert (shown["first"], shown["last"]) == ("2010-03-01", "2011-10-08")
    months = [month["month"] for month in shown["months"]]
    assert "2011-01" in months
    assert "2011-03" not in months
    assert "Missing: Tue 1 February 2011 to Sat 30 April 2011, 89 days." in ground(
        "weather", "show"
    ).text.replace("\n", " ")


def test_a_look_ahead_that_lacks_a_whole_year_says_which_days_are_missing(
    ground: Run, tmp_path: Path
) -> None:
    ground("weather", "import", station(tmp_path))
    told = ground("look-ahead", "--zone", "Main court", "--json").json
    assert "missing: Tue 1 February 2011 to Sat 30 April 2011 (89 days)" in told["refusals"][0]
    assert told["not_enough_data"]["needs"].startswith("at least one whole year of weather")


def test_the_week_is_planned_with_the_days_after_the_gap(ground: Run, tmp_path: Path) -> None:
    ground("weather", "import", station(tmp_path))
    assert ground("week", "--json").json["today"] == "2011-10-08"


def test_the_missing_days_sent_later_close_the_gap(ground: Run, tmp_path: Path) -> None:
    ground("weather", "import", station(tmp_path))
    ground("weather", "import", station(tmp_path, gap=False))
    assert ground("weather", "show", "--json").json["missing"] == []


def test_a_book_with_a_gap_goes_out_and_comes_in_without_loss(
    ground: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ground("weather", "import", station(tmp_path))
    before = ground("weather", "show", "--json").json
    archive = str(tmp_path / "all.zip")
    ground("export", archive)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "other"))
    ground("import", archive)
    ground("diary", "check")
    assert ground("weather", "show", "--json").json == before
