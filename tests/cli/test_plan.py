"""Clock, fit, week and morning at the front door."""

from __future__ import annotations

import json
import os
import shutil
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root
from swardbook.husbandry.happenings import Cut, Frost, Happening, Heads, Sow
from tests.support.books import MAIN, TODAY, entry, small_book
from tests.support.grounds import seasons
from tests.support.model import kernel

COMMANDS = (
    ["morning"], ["week", "--no-worth"], ["clock"], ["fit"],
    ["fit", "verticut", "--zone", "Main court"],
)  # fmt: skip


WHAT: tuple[tuple[Happening, int], ...] = (
    (Sow("BB-0417", 30.0), 400), (Heads(), 120), (Cut(8.0, True, True), 9),
    (Cut(8.0, True, True), 6), (Frost("frost"), 0),
)  # fmt: skip


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    book = small_book(tmp_path)
    book.store.save_weather(seasons(2002, TODAY), "made up")
    book.store.add(
        [
            entry(number, what, TODAY - timedelta(days=back))
            for number, (what, back) in enumerate(WHAT, 1)
        ]
    )
    book.store.close()
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def prepared(home: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The book with the model compiled for the tests, and no worth worked out before."""
    kernel()
    for compiled in Path(os.environ["SWARDBOOK_CACHE"]).glob("model-*"):
        shutil.copytree(compiled, home / "cache" / compiled.name)
    monkeypatch.setenv("SWARDBOOK_CACHE", str(home / "cache"))
    return home


def run_apart(*arguments: str, on: date = TODAY) -> Result:
    told = CliRunner().invoke(root, [*arguments, "--on", on.isoformat()])
    assert told.exit_code == 0, told.output
    return told


def run(*arguments: str) -> str:
    return run_apart(*arguments).output


@pytest.mark.parametrize("arguments", COMMANDS, ids=" ".join)
def test_text_fits_eighty_columns_and_json_is_one_stable_object(
    home: Path, arguments: list[str]
) -> None:
    text = run(*arguments)
    assert max(len(line) for line in text.splitlines()) <= 80
    first, second = run(*arguments, "--json"), run(*arguments, "--json")
    assert first == second
    payload = json.loads(first)
    assert payload["today"] == TODAY.isoformat()


def test_the_morning_look_is_at_most_a_screen_and_keeps_its_order(home: Path) -> None:
    text = run("morning")
    assert len(text.splitlines()) <= 40
    assert text.index("What stops you today") < text.index("Seeding clock")
    assert text.index("Seeding clock") < text.index("Checks due")


def test_a_state_is_told_by_word_and_by_shape(home: Path) -> None:
    text = run("fit", "cut", "--zone", "Main court")
    assert "✗ frost: not met" in text
    assert "[diary, Sat 8 October 2011]" in text
    assert "swardbook workings fit" in text


def test_every_task_of_a_week_has_what_where_how_long_and_its_worth(prepared: Path) -> None:
    eve = TODAY - timedelta(days=1)
    told = run_apart("week", "--json", on=eve)
    tasks = json.loads(told.stdout)["tasks"]
    assert tasks
    for task in tasks:
        assert task["name"]
        assert task["zones"]
        assert task["why"]
        assert task["hours_high"] >= task["hours_low"] >= 0
        assert task["worth"]["words"] != "not worked out"
    assert "what the week is worth in Main court" in told.stderr
    again = run_apart("week", "--json", on=eve)
    assert again.stdout == told.stdout
    assert again.stderr == ""


def test_the_worth_is_left_out_if_asked(home: Path) -> None:
    assert "Worth:" not in run("week", "--no-worth")


def test_an_unknown_zone_or_job_is_wrong_use_and_offers_the_nearest(home: Path) -> None:
    wrong = CliRunner().invoke(root, ["fit", "verticutt", "--zone", "Main court"])
    assert wrong.exit_code == 2
    assert "verticut" in wrong.stderr
    assert CliRunner().invoke(root, ["clock", "--zone", "Main cort"]).exit_code == 2


def test_an_earlier_day_is_answered_by_what_was_known_then(home: Path) -> None:
    told = CliRunner().invoke(root, ["fit", "cut", "-z", MAIN.name, "--on", "2011-10-05", "--json"])
    states = json.loads(told.stdout)["fit"][0]["conditions"]
    frost = next(each for each in states if each["name"] == "frost")
    assert frost["state"] != "not met"
    assert os.environ["SWARDBOOK_HOME"] == str(home)
    assert date(2011, 10, 5) < TODAY


def test_a_named_zone_stands_at_the_top_of_the_object(home: Path) -> None:
    def answer(*words: str) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(
            run_apart(*words, "--zone", "MAIN court", "--json").stdout
        )
        return found

    clock, job = answer("clock"), answer("fit", "cut")
    assert clock["zone"] == "Main court"
    assert clock["state"] == clock["clocks"][0]["state"]
    assert job["overall"] == job["fit"][0]["overall"]
    assert answer("week", "--no-worth")["zone"] == "Main court"
