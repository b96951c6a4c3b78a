"""What a book is shown in."""

from dataclasses import replace
from pathlib import Path

import pytest

from swardbook.book.units import choose_units, shown_in
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.units import COMMA, METRIC, System, Units
from tests.support.books import small_book


def test_a_book_that_says_nothing_is_metric(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    assert shown_in(book.settings, book) == shown_in(book.settings) == METRIC


def test_a_choice_is_kept_told_in_the_diary_and_seen_without_opening(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    assert choose_units(book, "us", "") == Units(System.US)
    assert choose_units(book, "", "comma") == Units(System.US, COMMA)
    assert shown_in(book.settings) == Units(System.US, COMMA)
    changed = [each.what for each in book.store.whole_diary() if each.what.kind == "changed"]
    assert len(changed) == 2
    assert choose_units(book, "us", "comma") == Units(System.US, COMMA)
    assert len(book.store.whole_diary()) == 2


def test_the_environment_wins_over_the_book_word_by_word(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    choose_units(book, "us", "comma")
    settings = replace(book.settings, units="imperial")
    assert shown_in(settings, book) == Units(System.IMPERIAL, COMMA)
    assert shown_in(replace(settings, decimal_mark="point"), book) == Units(System.IMPERIAL)


def test_an_unknown_word_changes_nothing(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    with pytest.raises(BadInputError, match="imperial"):
        choose_units(book, "cubits", "")
    assert shown_in(book.settings, book) == METRIC
