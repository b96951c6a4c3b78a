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


@PLANS
def test_a_later_forecast_takes_the_place_of_the_old_one(
    ground: Run, tmp_path: Path, plan: tuple[str, str]
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 44))
    told = ground("weather", "import", written(tmp_path, "ahead.csv", 39, 41), "--json").json
    assert told["forecast"] == {
        "first": "2011-10-09", "last": "2011-10-11", "days": 3, "made_on": "2011-10-08",
        "courses": 0, "fetched_from": None,
    }  # fmt: skip
    assert (told["days_now"], told["last"]) == (38, "2011-10-08")
    assert ground(*plan, *COURT, "--json").json["forecast_to"] == "2011-10-11"


def test_a_forecast_is_shown_with_its_days_and_the_day_it_was_made(
    ground: Run, tmp_path: Path
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 42))
    text = " ".join(ground("weather", "show").text.split())
    assert "Sun 9 October 2011 to Wed 12 October 2011; made on Sat 8 October 2011." in text
    assert "Forecast, no record: 4 days" in text
    told = ground("weather", "show", "--json").json
    assert (told["last"], told["forecast"]["days"]) == ("2011-10-08", 4)
    assert told["forecast_never_measured"] is None


def test_a_forecast_day_that_is_past_is_a_missing_day_and_no_record(
    ground: Run, tmp_path: Path
) -> None:
    ground("weather", "import", written(tmp_path, "book.csv", 1, 42))
    told = ground("weather", "show", "--on", "2011-10-11", "--json").json
    missing = {"first": "2011-10-09", "last": "2011-10-10", "days": 2}
    assert (told["last"], told["missing"]) == ("2011-10-08", [missing])
    assert told["forecast_never_measured"] == missing
    assert told["forecast"]["days"] == 2
    text = " ".join(ground("weather", "show", "--on", "2011-10-11").text.split())
    assert "Mon 10 October 2011, 2 days, forecast but never measured." in text


def test_a_forecast_alone_is_no_weather(ground: Run, tmp_path: Path) -> None:
    told = ground("weather", "import", written(tmp_path, "ahead.csv", 39, 42)).text
    assert "no measured day yet" in told
    assert "a forecast alone" in " ".join(ground("weather", "show").text.split())
