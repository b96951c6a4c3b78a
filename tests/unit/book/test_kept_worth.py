"""A worth is worked out once; it is never shown for a book that has changed since."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from swardbook.book import worth as worths
from swardbook.book.kept_worth import KeptWorths, kept_worths
from swardbook.book.opening import Book
from swardbook.husbandry.happenings import Cut
from swardbook.planning.situation import situation
from swardbook.planning.tasks import Worth
from tests.support.books import MAIN, TODAY, entry, small_book
from tests.support.grounds import seasons

FOUND = Worth("skipping it leaves 2 to 9 more seeds a m² by October", 4.5, 2.0, 9.0, "seeds m⁻²")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    found = small_book(tmp_path)
    found.store.save_weather(seasons(2009, TODAY), "made up")
    return found


def only_file(kept: KeptWorths) -> Path:
    (path,) = kept.folder.glob("*.json")
    return path


def test_what_was_kept_is_found_again_to_the_bit(book: Book) -> None:
    kept_worths(book, 256).keep("Main court", "cut", FOUND)
    again = kept_worths(book, 256)
    assert again.find("Main court", "cut") == FOUND
    assert again.find("Main court", "pull") is None
    assert again.find("Short court", "cut") is None


def test_a_new_entry_zone_weather_day_or_number_of_draws_is_another_question(book: Book) -> None:
    before = kept_worths(book, 256).rests_on
    assert kept_worths(book, 512).rests_on != before
    yesterday = replace(book, today=TODAY - timedelta(days=1))
    assert kept_worths(yesterday, 256).rests_on != before
    book.store.add([entry(1, Cut(8.0, True, True), TODAY)])
    cut = kept_worths(book, 256).rests_on
    assert cut != before
    book.store.save_zone(replace(MAIN, height_of_cut_mm=9.0))
    zone = kept_worths(book, 256).rests_on
    assert zone != cut
    book.store.save_weather(seasons(2009, TODAY - timedelta(days=1)), "made up")
    assert kept_worths(book, 256).rests_on != zone


def test_another_text_of_the_program_is_another_question(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = kept_worths(book, 256).rests_on
    monkeypatch.setattr("swardbook.book.kept_worth.program", lambda: "another")
    assert kept_worths(book, 256).rests_on != before


@pytest.mark.parametrize("broken", ["", "{", "[]", '{"words": 3}'])
def test_a_broken_file_is_ignored(book: Book, broken: str) -> None:
    kept = kept_worths(book, 256)
    kept.keep("Main court", "cut", FOUND)
    only_file(kept).write_text(broken)
    assert kept.find("Main court", "cut") is None


@pytest.mark.parametrize(
    "change", [{"words": ""}, {"value": "4"}, {"value": float("nan")}, {"unit": 3}, {"more": 1}]
)
def test_a_file_with_odd_values_is_ignored(book: Book, change: dict[str, object]) -> None:
    kept = kept_worths(book, 256)
    kept.keep("Main court", "cut", FOUND)
    held = json.loads(only_file(kept).read_text())
    held["worth"] |= change
    only_file(kept).write_text(json.dumps(held))
    assert kept.find("Main court", "cut") is None


def test_a_folder_that_cannot_be_written_is_let_be(book: Book) -> None:
    book.settings.cache.mkdir(parents=True, exist_ok=True)
    (book.settings.cache / "worth").write_text("in the way")
    kept = kept_worths(book, 256)
    kept.keep("Main court", "cut", FOUND)
    assert kept.find("Main court", "cut") is None


def test_old_files_go_first(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("swardbook.book.kept_worth.MOST_KEPT", 3)
    kept = kept_worths(book, 256)
    for number in range(6):
        kept.keep("Main court", f"job {number}", FOUND)
    assert len(list(kept.folder.glob("*.json"))) == 3
    assert kept.find("Main court", "job 5") == FOUND


def test_a_job_that_the_model_cannot_weigh_says_why_and_runs_nothing(book: Book) -> None:
    told: list[str] = []
    worth = worths.worth_of(book, tell=told.append)
    sit = situation(book.ground(), MAIN.name, book.weather(), book.today)
    assert worth(sit, "tug").words == "nothing to compare: a look costs minutes"
    assert "does not weigh it" in worth(sit, "water").words
    assert "annual meadow-grass" in worth(sit, "dig clumps").words
    assert "no weather" in worth(replace(sit, weather=None), "cut").words
    assert told == []
