"""Units, decimal comma and the southern half: shown otherwise, the same underneath."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from swardbook.book.fields import quantity
from swardbook.cli.main import root
from tests.cli.conftest import Run

WEATHER = Path(__file__).parents[2] / "docs" / "tutorials" / "weather.csv"
HALF_A_YEAR = timedelta(days=182)
TODAY = date(2020, 10, 2)
BUILD = (
    "begin --name Court --latitude {latitude} --elevation '{15 m}' --hours-a-week 9 --hose {14 l}",
    "zone add Main --sides 32x25.6 --use court --height-of-cut '{8 mm}' --mower cylinder"
    " --soil 'silty clay loam'",
    "weather import weather.csv",
    "survey cores {18 mm} 17 20 18 17 --zone Main --keep --when 2020-07-20",
    "survey ph 6.4 --zone Main --keep --when 2020-07-20",
    "lot add --code BB-0417 --name Bobbin --part 'chewings fescue=80' --part 'browntop bent=20'"
    " --weight {40 kg} --on 2020-08-03",
    "diary add scarify --zone Main --set depth_mm={8 mm} --set passes=2 --hours 9"
    " --when 2020-08-17",
    "sow --zone Main --lot BB-0417 --rate '{30 g/m2}' --used '{24.65 kg}' --watered"
    " --when 2020-08-29",
    "feed --zone Main --rate '{40 g/m2}' --npk 6-5-10 --when 2020-08-29",
    "water --zone Main --mm '{4 mm}' --by hose --place seedbed --when 2020-08-30",
    "diary add underfoot --set state=firm --zone Main --when 2020-09-28",
    "diary add 'tug test' --zone Main --set passed=yes --set 'species=browntop bent'"
    " --when 2020-09-28",
    "cut --zone Main --height '{25 mm}' --boxed --line 0 --when 2020-09-28",
)
"""What is typed; what stands in braces is typed in pounds, inches and gallons in the south."""
CUSTOMARY = {
    "15 m": "49,21259842519685 ft", "14 l": "3,698408732 gal_us", "8 mm": "0,3149606299212598 in",
    "18 mm": "0,7086614173228346 in", "40 kg": "88,18490487395103 lb",
    "30 g/m2": "6,144484227 lb/1000ft2", "24.65 kg": "54,34394762857232 lb",
    "40 g/m2": "8,192645636 lb/1000ft2", "4 mm": "0,1574803149606299 in",
    "25 mm": "0,984251968503937 in",
}  # fmt: skip
ASKED = (
    "survey show Main --on 2020-07-20",
    "route compare --zone Main --on 2020-07-20",
    "mixture --part 'chewings fescue=80' --part 'browntop bent=20' --rate 25 --area 240 --height 8",
    "sow when --zone Main --what BB-0417 --from 2020-08-29 --dates 1 --rate 30 --water --here"
    " --on 2020-08-26",
    "sow watch --zone Main --frames 284,310,251,277,320,260 --unsown 16,9,14 --leaves 3"
    " --on 2020-09-24",
    "materials seed --zone Main --rate 30 --lot BB-0417 --on 2020-08-26",
    "materials dressing --zone Main --depth 3 --material rootzone",
    "materials spoil --zone Main --tine 13 --spacing 50 --depth 100",
    "materials refill --holes 40 --size 60 --zone Main --lot BB-0417",
    "materials feed --area 819.2 --npk 6-5-10 --nitrogen 2.4 --bag '20 kg'",
    "square-up --zone Main --left 'BB-0417=15.3 kg' --on 2020-08-29",
    "feed plan --zone Main",
    "feed ledger --zone Main",
    "water plan --zone Main --days 4 --on 2020-08-30",
    "cut plan --zone Main --to '14 mm' --grass '37 mm' --sides 32x25.6",
    "verticut plan --zone Main",
    "tins 6 8.5 7 9 5 7.5 8 6.5 9.5 4.5 7 8.5 --minutes 60 --mm 4 --infiltration 6",
    "clumps register",
    "refill register",
    "what-is-wrong --zone Main",
    "catch-up --height '60 mm'",
    "morning",
    "fit cut --zone Main",
    "clock --zone Main",
    "zone show",
)
TOLD = (*ASKED, "week", "weather show", "look-over")
"""Those, and some whose figures depend on the calendar or on draws."""
QUICK = ASKED[:1] + ASKED[5:15]
"""Enough for what holds for every command alike."""
METRIC = re.compile(
    r"\d ?(?:mm|cm|m|m²|m³|g/m²|g N/m²|L|kg|g|t|°C|m/s|km/h)(?![\w²³/]| d\b| a litre)"
)
MONTHS = "January|February|March|April|May|June|July|August|September|October|November|December"
Ask = Callable[..., str]


def answering(home: Path, south: bool) -> Ask:
    """Answer commands of a book, with days told as in the north."""

    def ask(command: str, code: int | None = 0) -> str:
        words = command
        if south:
            words = re.sub(
                r"\d{4}-\d\d-\d\d", lambda day: str(date.fromisoformat(day[0]) - HALF_A_YEAR), words
            )
            words = words.replace("sep 5", "mar 5")
        made = CliRunner().invoke(root, words, prog_name="swardbook")
        if made.exception is not None and not isinstance(made.exception, SystemExit):
            raise made.exception
        assert code is None or made.exit_code == code, made.output
        return made.stdout

    return ask


@pytest.fixture(scope="module")
def homes(tmp_path_factory: pytest.TempPathFactory) -> dict[bool, Path]:
    """A court in the north, and the same half a year on in the south, typed in pounds."""
    found = {}
    for south in (False, True):
        home = tmp_path_factory.mktemp("south" if south else "north")
        with standing(home, south):
            heads, *rows = WEATHER.read_text(encoding="utf-8").splitlines()
            if south:
                rows = [f"{date.fromisoformat(row[:10]) - HALF_A_YEAR}{row[10:]}" for row in rows]
            Path("weather.csv").write_text("\n".join([heads, *rows]) + "\n", encoding="utf-8")
            for line in BUILD:
                ask = answering(home, south)
                words = line.replace("{latitude}", "-43" if south else "43")
                for metric, customary in CUSTOMARY.items():
                    typed = customary if south else metric
                    words = words.replace(f"'{{{metric}}}'", f"'{typed}'")
                    words = words.replace(f"{{{metric}}}", f"'{typed}'")
                if south and words.startswith("begin"):
                    words += " --units us --decimal-mark comma"
                ask(words)
        found[south] = home
    return found


def standing(home: Path, south: bool) -> Any:
    """Stand in the folder of a book, on its day."""
    from contextlib import contextmanager

    today = TODAY - HALF_A_YEAR if south else TODAY

    @contextmanager
    def there() -> Iterator[None]:
        with pytest.MonkeyPatch.context() as patch:
            patch.chdir(home)
            patch.setenv("SWARDBOOK_HOME", str(home / "home"))
            for name in ("DATABASE", "UNITS", "DECIMAL_MARK"):
                patch.delenv(f"SWARDBOOK_{name}", raising=False)
            patch.setattr("swardbook.cli.doors.clock_today", lambda: today)
            yield

    return there()


@pytest.fixture
def north(homes: dict[bool, Path]) -> Iterator[Ask]:
    """Ask in the north, in metric."""
    with standing(homes[False], south=False):
        yield answering(homes[False], south=False)


@pytest.fixture
def south(homes: dict[bool, Path]) -> Iterator[Ask]:
    """Ask in the south, in US units with a decimal comma."""
    with standing(homes[True], south=True):
        yield answering(homes[True], south=True)


def without_days(text: str) -> str:
    """Take days, their months and ids out of a text: they differ by what they should."""
    text = re.sub(rf"(?:\w{{3}} )?\d{{1,2}} (?:{MONTHS})(?: \d{{4}})?", "DAY", text)
    text = re.sub(rf"\b(?:\w{{3}} \d{{1,2}}(?=[,.; ])|{MONTHS})\b", "DAY", text)
    return re.sub(r"\b[0-9a-f]{8}\b", "ID", text)


def differences(north: Any, south: Any, where: str = "") -> Iterator[tuple[str, Any, Any]]:
    """Find what differs by more than the sun's distance does: it is nearest in January."""
    if isinstance(north, dict) and isinstance(south, dict):
        for name in sorted((set(north) | set(south)) - {"id", "short_id", "note", "month"}):
            yield from differences(north.get(name), south.get(name), f"{where}.{name}")
    elif isinstance(north, list) and isinstance(south, list) and len(north) == len(south):
        for number, (one, other) in enumerate(zip(north, south, strict=True)):
            yield from differences(one, other, f"{where}[{number}]")
    elif not agree(north, south):
        yield where, north, south


def agree(north: Any, south: Any) -> bool:
    """Tell whether two values say the same, half a year apart."""
    if isinstance(north, str) and isinstance(south, str):
        if re.fullmatch(r"\d{4}-\d\d-\d\d", north) and re.fullmatch(r"\d{4}-\d\d-\d\d", south):
            moved = date.fromisoformat(south) + HALF_A_YEAR - date.fromisoformat(north)
            return abs(moved.days) <= 2
        return without_days(north) == without_days(south)
    if isinstance(north, float) and isinstance(south, float):
        return abs(north - south) <= 0.12 * max(abs(north), abs(south)) + 0.02
    if type(north) is int and type(south) is int:
        return abs(north - south) <= 0.05 * max(abs(north), abs(south))
    return bool(north == south)


@pytest.mark.parametrize("command", ASKED)
def test_the_south_is_told_the_same_half_a_year_on(homes: dict[bool, Path], command: str) -> None:
    with standing(homes[False], south=False):
        here = json.loads(answering(homes[False], south=False)(f"{command} --json"))
    with standing(homes[True], south=True):
        there = json.loads(answering(homes[True], south=True)(f"{command} --json"))
    assert list(differences(here, there)) == []


@pytest.mark.parametrize("command", QUICK)
def test_json_has_the_same_bytes_in_any_units(
    south: Ask, command: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = south(f"{command} --json")
    for system, mark in (("metric", "point"), ("imperial", "comma")):
        monkeypatch.setenv("SWARDBOOK_UNITS", system)
        monkeypatch.setenv("SWARDBOOK_DECIMAL_MARK", mark)
        assert south(f"{command} --json") == first


@pytest.mark.parametrize("command", TOLD)
def test_nothing_metric_and_no_decimal_point_is_left_where_both_were_declined(
    south: Ask, command: str
) -> None:
    lines = [
        line for line in south(command).splitlines()
        if not line.lstrip().startswith("swardbook ") and "swardbook" not in line
    ]  # fmt: skip
    assert [line for line in lines if METRIC.search(line)] == []
    assert [line for line in lines if re.search(r"\d\.\d", line)] == []


@pytest.mark.parametrize(
    "command", sorted(set(TOLD) - {"feed plan --zone Main", "weather show", "week"})
)
def test_no_advice_in_the_south_names_a_month_without_its_day(south: Ask, command: str) -> None:
    bare = re.compile(rf"(?<!\d )\b(?:{MONTHS})\b")
    assert [line for line in south(command).splitlines() if bare.search(line)] == []


def test_a_week_in_the_south_looks_to_april(south: Ask) -> None:
    told = south("week")
    assert " by April" in told
    assert "October" not in told


def test_in_the_south_march_is_autumn(south: Ask) -> None:
    found = json.loads(south("survey shade --by-month 'sep 5' --zone Main --json"))
    assert [row["season"] for row in found["rows"]] == ["autumn"]


def test_what_was_typed_stays_beside_the_metric_number(south: Ask) -> None:
    entries = json.loads(south("diary show --kind cut --json"))["entries"]
    assert entries[0]["what"]["height_of_cut_mm"] == pytest.approx(25.0, abs=1e-12)
    assert entries[0]["note"] == "Typed height 0,984251968503937 in."
    assert "Typed height 0,984251968503937 in." in south("diary show --kind cut")


def test_what_was_typed_goes_with_a_note_and_with_what_is_put_right(empty: Run) -> None:
    empty("zone", "add", "Lawn", "--area", "100", "--use", "family lawn", "--height-of-cut", "30")
    kept = empty("cut", "--zone", "Lawn", "--height", "1 in", "--note", "damp", "--json").json
    assert kept["entry"]["note"] == "damp (typed: height 1 in)"
    right = empty("put-right", kept["short_id"], "--set", "height_of_cut_mm=1 1/4 in",
                  "--reason", "wrong mark", "--json").json  # fmt: skip
    assert right["entry"]["what"]["height_of_cut_mm"] == 31.75
    assert "wrong mark (typed: height of cut mm 1 1/4 in)" in right["entry"]["note"]
    metric = empty("cut", "--zone", "Lawn", "--height", "2.5 cm", "--json").json
    assert metric["entry"]["note"] == ""


def test_a_sketch_is_shown_as_it_was_typed(empty: Run) -> None:
    empty("zone", "add", "Lawn", "--area", "100", "--use", "family lawn", "--height-of-cut", "30")
    empty("peg", "add", "P1", "--zone", "Lawn", "--sketch", "4.2 m from the post")
    empty("strip", "add", "--zone", "Lawn", "--squares", "1", "--sketch", "4.2 m from the gate")
    empty("units", "us", "--decimal-mark", "comma")
    assert "4.2 m from the post" in empty("peg", "show").text
    assert "4.2 m from the gate" in " ".join(empty("strip", "show").text.split())


def test_a_hundred_looks_and_entries_leave_a_height_where_it_was(empty: Run) -> None:
    empty("zone", "add", "Lawn", "--area", "100", "--use", "family lawn", "--height-of-cut", "30")
    empty("units", "imperial", "--decimal-mark", "comma")
    printed = "1 3/16 in"
    for _ in range(5):
        said = empty("cut", "--zone", "Lawn", "--height", printed).text
        found = re.search(r"height of cut ([^,.]+ in)", said)
        assert found is not None
        printed = found[1]
        assert " ".join(printed.split()) == "1 3/16 in"
    assert quantity(printed, "mm", "height") == pytest.approx(30.1625)


def test_the_book_keeps_its_units_and_the_environment_wins(
    empty: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = empty("units", "us", "--decimal-mark", "comma", "--json").json
    assert (said["units"], said["decimal_mark"]) == ("us", "comma")
    assert "Rate 5,1 lb/1000 ft²" in empty(*mixture()).text
    monkeypatch.setenv("SWARDBOOK_UNITS", "imperial")
    monkeypatch.setenv("SWARDBOOK_DECIMAL_MARK", "point")
    assert "Rate 0.74 oz/yd²" in empty(*mixture()).text
    assert "So says the environment" in empty("units").text
    monkeypatch.setenv("SWARDBOOK_UNITS", "furlongs")
    assert "metric, imperial, us" in empty(*mixture(), code=2).text


def test_a_comma_that_was_chosen_is_read_as_one(empty: Run) -> None:
    thousands = empty(*mixture("1,250"), code=None).text
    empty("units", "--decimal-mark", "comma")
    assert "Rate 1,25 g/m²" in empty(*mixture("1,250")).text
    assert "Rate 1,25 g/m²" not in thousands
    dressed = empty("materials", "dressing", "--area", "100", "--depth", "3", "--material",
                    "rootzone", "--density", "1,625").text  # fmt: skip
    assert "1,62 kg a litre" in dressed


def test_a_refused_height_is_told_in_the_units_chosen_too(empty: Run) -> None:
    empty("units", "us")
    told = empty("zone", "add", "Lawn", "--area", "1000 ft2", "--use", "family lawn",
                 "--height-of-cut", "12 in", code=2).text  # fmt: skip
    assert "Here: 12 in, from 1/16 to 5 7/8 in." in " ".join(told.split())


def test_workings_show_the_sum_as_it_is_done(south: Ask) -> None:
    shown = south("workings feed --zone Main")
    assert "g N/m²" in shown
    assert "lb" not in shown


def mixture(rate: str = "25") -> tuple[str, ...]:
    return ("mixture", "--part", "chewings fescue=80", "--part", "browntop bent=20",
            "--rate", rate)  # fmt: skip
