"""Sealed guesses as people use them: in autumn each says what they think; next autumn tells."""

import re
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.model import kernel

NEXT = ("--on", "2012-10-12")


@pytest.fixture
def made_up(run: Run) -> Run:
    """The made-up book, with the model compiled for the tests."""
    kernel()
    run("demo")
    return run


def short_id(text: str) -> str:
    found = re.search(r"Sealed (?:already )?([0-9a-f]{8}):", text)
    assert found, text
    return found[1]


def sheet(folder: Path, hits: int = 5) -> str:
    rows = "".join(f"R{n:02d},{hits + n % 2},Ines\n" for n in range(1, 13))
    file = folder / "october.csv"
    file.write_text(f"place,annual meadow-grass,counter\n{rows}", encoding="utf-8")
    return str(file)


def test_a_year_of_guesses_from_sealing_to_settling(made_up: Run, tmp_path: Path) -> None:
    tool = made_up("seal", "--zone", "Surround", "--draws", "64")
    assert "today is Sat 8 October 2011" in tool.text
    assert not re.search(r"\d %", tool.text), "a sealed figure would lead those who guess after it"
    mine = made_up("seal", "-z", "Surround", "--who", "Ines", "--cover", "15-25 %")
    assert "You said 15 to 25 %, to hold four times in five." in mine.text
    made_up("seal", "-z", "Surround", "--who", "Bram", "--cover", "40")
    listed = made_up("seal", "--list").text
    assert listed.count("sealed  not yet") == 3
    assert not re.search(r"15 to 25|40 %", listed)

    waits = made_up("settle").text
    assert "Nothing to settle now." in waits
    assert "Wed 19 September 2012" in waits
    made_up("count", "add", "-z", "Surround", "--file", sheet(tmp_path), *NEXT)
    settled = made_up("settle", "Surround", *NEXT)
    assert "Found on Fri 12 October 2012: 22 % at 12 places by Ines: inside the range." in (
        " ".join(settled.text.split())
    )
    assert "no range was given. Off by 18 points." in " ".join(settled.text.split())
    assert "not enough data" in settled.text
    again = made_up("settle", *NEXT).text
    assert "Settled before: 3." in again
    listed = made_up("seal", "--list", *NEXT).text
    assert {short_id(tool.text), short_id(mine.text)} <= set(listed.split())
    assert "15 to 25 %" in listed
    assert max(len(line) for line in (listed + settled.text).splitlines()) <= 80


def test_opening_early_says_so_and_stands_in_the_list(made_up: Run) -> None:
    sealed = made_up("seal", "-z", "Surround", "--who", "Ines", "--cover", "15 to 25")
    name = short_id(sealed.text)
    opened = made_up("unseal", name)
    assert "Opened 347 days before its count is due." in opened.text
    [shown] = made_up("seal", "--list", "--json").json["guesses"]
    assert shown["opened_early_on"] == ["2011-10-08"]
    assert shown["at_80_percent"] == [15, 25]


@pytest.mark.long
def test_the_same_commands_give_the_same_bytes(made_up: Run, tmp_path: Path) -> None:
    asked = ("seal", "-z", "Surround", "--draws", "64", "--json")
    first, again = made_up(*asked).json, made_up(*asked).json
    assert (first.pop("is_new"), again.pop("is_new")) == (True, False)
    assert first == again
    assert "at_80_percent" not in first["guess"]
    name = first["guess"]["id"]
    made_up("count", "add", "-z", "Surround", "--file", sheet(tmp_path), *NEXT)
    made_up("settle", *NEXT)
    for command in (("unseal", name), ("settle",), ("seal", "--list")):
        one, two = (made_up(*command, *NEXT, "--json").result.stdout for _ in range(2))
        assert one == two
    told = made_up("unseal", name, *NEXT, "--json").json
    assert len(told["quantiles"]) == len(told["levels"]) == 101
    assert told["rests_on"]["weather_last"] == "2011-10-08"
    assert told["guess"]["settled"]["inside_80_percent"] in {True, False}


def test_general_knowledge_is_not_sealed_and_the_reason_told(made_up: Run) -> None:
    told = made_up("seal", "-z", "Turf nursery", "--draws", "64", code=1)
    assert "Nothing was sealed: the look-ahead is general knowledge only." in told.text
    assert "A guess of your own may be sealed" in told.text
    made_up("seal", "-z", "Turf nursery", "--who", "Bram", "--plants", "0.5-4")


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ((), "Say which zone"),
        (("-z", "Main court", "--who", "Ines"), "Say what you guess"),
        (("-z", "Main court", "--who", "Ines", "--cover", "9", "--plants", "9"), "one of --cover"),
        (("-z", "Main court", "--cover", "9"), "the person who guesses"),
        (("-z", "Main court", "--who", "Ines", "--cover", "nine"), "a range such as 8-14"),
        (("-z", "Main court", "--who", "Ines", "--cover", "1-2-3"), "a range such as 8-14"),
        (("-z", "Main court", "--who", "Ines", "--cover", "14-8"), "the lower end first"),
        (("-z", "Mian court", "--who", "Ines", "--cover", "9"), "Did you mean Main court"),
        (("-z", "Main court", "--who", "Ines", "--cover", "9", "--on", "2011-09-01"),
         "on the day it is made"),
    ],
)  # fmt: skip
def test_wrong_use_is_told_plainly(ground: Run, asked: tuple[str, ...], told: str) -> None:
    assert told in ground("seal", *asked, code=2).text


def test_with_nothing_sealed_settling_is_not_enough_data(ground: Run) -> None:
    assert "Not enough data" in ground("settle").text
    assert "No guess is sealed yet." in ground("seal", "--list").text
    assert "No sealed guess called" in ground("unseal", "abc", code=2).text
