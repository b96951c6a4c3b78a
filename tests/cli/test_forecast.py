"""A forecast at the command line: from a file, or days after today that the book has."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")
PLANS = pytest.mark.parametrize("plan", [("water", "plan"), ("cut", "plan")])


def written(folder: Path, name: str, first: int, last: int, rain: float = 0.0) -> str:
    """September and October 2011 as days from 1 on."""
    rows = [
        f"2011-{9 if n <= 30 else 10:02}-{n if n <= 30 else n - 30:02},8,18,{rain}"
        for n in range(first, last + 1)
    ]
    path = folder / name
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]), encoding="utf-8")
    return str(path)


@PLANS
def test_days_after_today_in_the_book_are_the_forecast(
    ground: Run, tmp_path: Path, plan: tuple[str, str]
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 38))
    assert ground(*plan, *COURT, "--json").json["forecast_to"] is None
    ground("weather", "import", written(tmp_path, "ahead.csv", 39, 42))
    told = ground(*plan, *COURT, "--json").json
    assert told["forecast_to"] == "2011-10-12"
    text = " ".join(ground(*plan, *COURT).text.split())
    assert "by the forecast to Wed 12 October 2011, then the last week" in text


@PLANS
def test_a_file_goes_before_what_the_book_has(
    ground: Run, tmp_path: Path, plan: tuple[str, str]
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 42))
    path = written(tmp_path, "ahead.csv", 37, 40)
    told = ground(*plan, *COURT, "--forecast", path, "--json").json
    assert told["forecast_to"] == "2011-10-10"


@PLANS
def test_a_forecast_of_another_time_is_refused_with_the_likely_slip(
    ground: Run, tmp_path: Path, plan: tuple[str, str]
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 38))
    old = written(tmp_path, "old.csv", 1, 30)
    told = ground(*plan, *COURT, "--forecast", old, code=None)
    assert told.code == 2
    assert "up to Fri 30 September 2011" in " ".join(told.text.split())
    assert "Is the year right?" in told.text
    late = written(tmp_path, "late.csv", 41, 44)
    text = " ".join(ground(*plan, *COURT, "--forecast", late, code=2).text.split())
    assert "Days between today and it are missing." in text


def test_a_made_up_ground_knows_nothing_of_its_days_to_come(run: Run, tmp_path: Path) -> None:
    run("demo")
    told = run("water", "plan", "--zone", "short court", "--on", "24 May 2011", "--json").json
    assert told["forecast_to"] is None


@PLANS
def test_a_day_long_past_is_not_answered_for_with_what_was_measured_after_it(
    ground: Run, tmp_path: Path, plan: tuple[str, str]
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 38))
    told = ground(*plan, *COURT, "--on", "20 September 2011", "--json").json
    assert told["forecast_to"] is None
