"""The plan of watering at the command line."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")
TINS = ["6", "8.5", "7", "9", "5", "7.5", "8", "6.5", "9.5", "4.5", "7", "8.5"]


@pytest.fixture
def dry(ground: Run, tmp_path: Path) -> Run:
    """The small ground after ninety dry warm days up to its today."""
    last = date(2011, 10, 8)
    rows = [f"{last - timedelta(days=n)},10,22,0" for n in range(89, -1, -1)]
    file = tmp_path / "weather.csv"
    file.write_text("\n".join(["date,tmin,tmax,rain", *rows]) + "\n", encoding="utf-8")
    ground("weather", "import", str(file), code=None)
    return ground


def test_the_plan_names_days_litres_minutes_and_people(dry: Run) -> None:
    asked = ("water", "plan", *COURT, "--here", "Ines=sat:3", "--days", "3")
    found = dry(*asked, "--json").json
    assert found["kind"] == "sward"
    first = found["days"][0]
    assert (first["day"], first["who"]) == ("2011-10-08", ["Ines"])
    assert first["tap_min"] == pytest.approx(first["litres"] / 14, abs=0.01)
    assert found["loss_of_a_day_from"].startswith("the last week")
    told = " ".join(dry(*asked, "--keep").text.split())
    assert "Set out tins" in told
    assert "protection against backflow" in told
    assert "Kept " in told


def test_tins_kept_for_the_zone_give_minutes_with_the_convention_named(dry: Run) -> None:
    dry("tins", *TINS, "--minutes", "20", *COURT, "--keep")
    reading = ("-s", "quantity=infiltration", "-s", "value=5", "-s", "unit=mm/h")
    dry("diary", "add", "reading", *reading, *COURT)
    told = " ".join(dry("water", "plan", *COURT).text.split())
    assert "with the multiplier 1/(0.4 + 0.6 x evenness) = 1.21" in told
    assert "lowest quarter over mean" in told
    assert "minutes to soak in between" in told


def test_a_restriction_turns_the_plan_to_cans(dry: Run) -> None:
    dry("diary", "add", "closure", "-s", "what=hose", "-s", "until=20 October 2011", code=None)
    told = " ".join(dry("water", "plan", *COURT).text.split())
    assert "Hose restriction noted: cans and stored rain only" in told
    assert "Cans cannot carry this" in told
    small = dry("water", "plan", *COURT, "--refills", "2.2", "--json").json
    assert small["cans_can_carry_a_day"] is True


def test_water_still_records(dry: Run) -> None:
    told = dry("water", "--mm", "3", *COURT, "--json").json
    assert told["depth_mm"] == 3


def test_f23_hours_without_a_rate_are_kept_and_a_bucket_is_asked_for(run: Run) -> None:
    run("begin", "--name", "Fennowick Croquet Club", "--latitude", "52", "--elevation", "62")
    run("zone", "add", "Lawn", "--area", "200", "--use", "family lawn", "--height-of-cut", "30")
    told = run("water", "--minutes", "2 h", "--zone", "lawn").text
    assert "Time a 10 L bucket and I can turn hours into mm. Kept as 2 h for now" in told


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["water", "plan"], "Say --zone NAME"),
        (["water", "plan", *COURT, "--here", "Ines"], "Ines=mon,wed:1.5"),
        (["water", "plan", *COURT, "--here", "Ines=someday:1"], "NAME=DAYS:HOURS"),
        (["water", "plan", *COURT, "--here", "Ines=mon:30"], "NAME=DAYS:HOURS"),
        (["tins", *TINS, "--keep"], "--keep with --zone NAME"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(ground: Run, arguments: list[str], words: str) -> None:
    assert words in ground(*arguments, code=2).text


def test_without_weather_the_plan_is_not_enough_data(ground: Run) -> None:
    assert "daily weather up to today" in ground("water", "plan", *COURT).text
