"""One list of everything that needs a look, each with a command that runs."""

import shlex
from pathlib import Path

from tests.cli.conftest import Run

COURT = ("--zone", "Main court")


def weather(folder: Path, last: int = 8) -> str:
    path = folder / "garden.csv"
    rows = [f"2011-10-{day:02},8,17,1" for day in range(1, last + 1)]
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]))
    return str(path)


def test_a_book_in_order_needs_no_look(ground: Run, tmp_path: Path) -> None:
    ground("weather", "import", weather(tmp_path))
    ground("cut", *COURT, "--height", "8")
    told = ground("look-over", "--json").json
    assert told["items"] == []
    assert set(told["counts"].values()) == {0}
    assert ground("look-over").text.strip() == "Nothing needs a look."


def test_every_way_that_is_offered_clears_what_it_is_offered_for(
    ground: Run, tmp_path: Path
) -> None:
    ground("weather", "import", weather(tmp_path))
    ground("count", "add", *COURT, "--place", "P1", "--found", "bare=27")
    ground("cut", *COURT, "--height", "80")
    ground("cut", "--height", "8", "--when", "2011-10-07")
    ground("count", "add", *COURT, "--place", "P9", "--found", "bare=2")
    ground("sow", *COURT, "--rate", "30", "--used", "2 kg", "--when", "2011-09-01")
    told = ground("look-over", "--json").json
    assert sorted({each["about"] for each in told["items"]}) == [
        "no lot", "no zone", "odd", "parked", "weights",
    ]  # fmt: skip
    assert all(each["would_change"] and each["fixes"] for each in told["items"])
    for item in told["items"]:
        way = item["fixes"][-1].replace("'...'", "'looked again'").replace("=...", "='Short court'")
        if item["about"] != "no lot":
            ground(*shlex.split(way)[1:])
    left = ground("look-over", "--json").json["items"]
    assert [each["about"] for each in left] == ["no lot"]


def test_a_zone_of_its_own_can_be_asked_for(ground: Run, tmp_path: Path) -> None:
    ground("weather", "import", weather(tmp_path))
    ground("cut", *COURT, "--height", "80")
    assert ground("look-over", "-z", "Short court", "--json").json["items"] == []
    assert len(ground("look-over", "-z", "main court", "--json").json["items"]) == 1


def test_weather_that_is_missing_late_or_to_come_is_listed(ground: Run, tmp_path: Path) -> None:
    assert "No weather in the book" in ground("look-over").text
    ground("weather", "import", weather(tmp_path, last=20))
    assert ground("look-over", "--json").json["items"] == []
    late, told = ground("look-over", "--on", "2011-11-20", "--json").json["items"]
    assert "Weather ends on Sat 8 October 2011, 43 days ago." in late["what"]
    assert "Forecast but never measured: Sun 9 October 2011 to Thu 20 October" in told["what"]
    ground("weather", "import", weather(tmp_path, last=30))
    [item] = ground("look-over", "--json").json["items"]
    assert "dated up to Sun 30 October 2011, after today" in item["what"]


def test_a_mix_up_of_two_bags_is_listed_until_it_is_put_right(ground: Run, tmp_path: Path) -> None:
    """The squaring-up of sowings is part of looking over a book, not of remembering to ask."""
    ground("weather", "import", weather(tmp_path))
    for code, kg in (("BB-0417", "30"), ("GP-2240", "20")):
        ground(
            "lot",
            "add",
            "--code",
            code,
            "--name",
            f"Mixture {code[0]}",
            "-p",
            "ryegrass=100",
            "--weight",
            kg,
        )
    day = ("--when", "2011-09-01", "--rate", "30")
    ground("sow", *COURT, "--lot", "BB-0417", *day, "--area", "409.6", "--used", "6912 g")
    ground(
        "sow", "-z", "Short court", "--lot", "GP-2240", *day, "--area", "230.4", "--used", "12288 g"
    )
    [item] = [each for each in ground("look-over", "--json").json["items"]
              if each["about"] == "mix-up"]  # fmt: skip
    assert "exchanged" in item["what"]
    told = ground(*shlex.split(item["fixes"][0])[1:], code=1)
    assert "Mix-up?" in told.text


def test_a_kept_squaring_up_is_worked_out_again_until_it_agrees(
    ground: Run, tmp_path: Path
) -> None:
    ground("weather", "import", weather(tmp_path))
    ground("lot", "add", "--code", "BB-0417", "--name", "Bobbin", "-p", "ryegrass=100",
           "--weight", "30")  # fmt: skip
    ground("sow", *COURT, "--lot", "BB-0417", "--when", "2011-09-01", "--rate", "30")
    ground("square-up", *COURT, "--left", "BB-0417=20 kg", "--keep", code=1)
    [item] = ground("look-over", "--json").json["items"]
    assert item["about"] == "mix-up"
    ground(*shlex.split(item["fixes"][0])[1:], code=1)
    ground("square-up", *COURT, "--left", "BB-0417=5424 g", "--keep")
    assert ground("look-over", "--json").json["items"] == []


def test_a_kept_answer_that_has_aged_is_listed_with_the_command_that_works_it_out_again(
    ground: Run, tmp_path: Path
) -> None:
    ground("weather", "import", weather(tmp_path))
    ground("materials", "dressing", *COURT, "--depth", "3", "--keep")
    assert ground("look-over", "--json").json["items"] == []
    ground("zone", "set", "Main court", "--area", "700")
    [item] = ground("look-over", "--json").json["items"]
    assert item["about"] == "aged"
    assert item["what"] == ("Dressing kept on Sat 8 October 2011: area was 819.2 m², now 700 m².")
    told = " ".join(ground("diary", "kept", "--uses").text.split())
    assert "dressing, Main court: aged" in told
    assert "Used for litres, weight and barrows" in told
    assert item["fixes"] == ["swardbook materials dressing --zone 'Main court' --keep"]
    ground(*shlex.split(item["fixes"][0])[1:-1], "--depth", "3", "--keep")
    assert ground("look-over", "--json").json["items"] == []
    [row] = ground("diary", "kept", "--json").json["kept"]
    assert (row["about"], row["state"]) == ("dressing", "in use")
