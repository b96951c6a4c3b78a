"""The course: every right answer is worked out from the book, and is what was planted there."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from swardbook.book.diary import withdraw
from swardbook.book.opening import Book, only_looking
from swardbook.book.sandbox import copy_of
from swardbook.demo.build import build
from swardbook.demo.course import Word, answer, course_of, exercises
from swardbook.demo.course_answers import CANNOT
from swardbook.demo.course_what_if import read_value, try_out, what_ifs
from swardbook.demo.names import MAIN
from swardbook.foundation.errors import (
    BadInputError,
    OutOfRangeError,
    RefusedError,
    UnknownNameError,
)
from swardbook.husbandry.happenings import Cut
from swardbook.settings import Settings

PLANTED = {
    "main_court_year": "holding",
    "may_against_august": CANNOT,
    "nothing_sown": CANNOT,
    "untouched_squares": "squares",
    "six_places": CANNOT,
    "lime_walk": "shade",
    "bobbin_or_thimble": CANNOT,
    "haystack": "height",
    "bags": "plot",
    "second_counter": CANNOT,
    "strips": CANNOT,
    "autumn_or_spring": "differ",
    "august_pull": "caution",
    "july_cuts": CANNOT,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    home: Path = tmp_path_factory.mktemp("course")
    built = build(Settings(home), lambda: date(2026, 1, 5), tell=lambda _: None).book
    yield built
    built.store.close()


def test_there_is_a_planted_truth_behind_every_question() -> None:
    assert [each.key for each in exercises()] == list(PLANTED)
    assert 8 <= len(PLANTED) <= 14


@pytest.mark.parametrize("key", PLANTED)
def test_the_right_answer_is_what_was_planted_and_every_other_is_told_so(
    book: Book, key: str
) -> None:
    asked = next(each for each in exercises() if each.key == key)
    right = answer(book, key, PLANTED[key])
    assert right.is_right
    assert right.word is Word.RIGHT
    assert right.because
    assert right.sentence.startswith("Right")
    wrong = next(each.key for each in asked.choices if each.key != PLANTED[key])
    told = answer(book, key, wrong)
    assert not told.is_right
    assert told.right.key == PLANTED[key]
    assert told.word is (Word.CANNOT if PLANTED[key] == CANNOT else Word.NOT_SO)
    assert "Right" not in told.sentence


def test_an_answer_follows_the_book_and_is_not_a_stored_one(book: Book) -> None:
    undated = [
        entry for entry in book.ground().entries(MAIN)
        if isinstance(entry.what, Cut) and not entry.when.is_dated
    ]  # fmt: skip
    assert undated
    with copy_of(book) as copy:
        for entry in undated:
            withdraw(copy, entry.id, "never happened")
        changed = answer(copy, "july_cuts", CANNOT)
    assert changed.right.key != CANNOT
    assert answer(book, "july_cuts", CANNOT).is_right


def test_texts_hold_no_figure_that_the_book_answers() -> None:
    for each in exercises():
        assert "%" not in each.question + each.lesson
        assert each.look.split()[0] in {
            "compare", "better-or-worse", "side-by-side", "mixture", "square-up", "clock",
        }  # fmt: skip


def test_on_somebodys_own_ground_there_is_no_course(book: Book) -> None:
    own = replace(book, is_made_up=False)
    with pytest.raises(RefusedError, match="swardbook demo"):
        course_of(own)
    with pytest.raises(RefusedError, match="swardbook demo"):
        answer(own, "bags", "plot")
    with pytest.raises(RefusedError, match="swardbook demo"):
        what_ifs(own)


def test_an_unknown_question_or_answer_is_refused_with_the_names_there_are(book: Book) -> None:
    with pytest.raises(UnknownNameError, match="bags"):
        answer(book, "bag", "plot")
    with pytest.raises(UnknownNameError, match="spill"):
        answer(book, "bags", "spil")


@pytest.mark.parametrize(
    ("key", "number", "before", "after"),
    [
        ("places", 10, "Clear", "Leaning"),
        ("places", 6, "Clear", "at least 8 places"),
        ("hits", 5, "Holding", "Slipping"),
        ("hits", -4, "Holding", "Better"),
        ("blocks", 3, "clear", "Not enough data"),
        ("height", 25, "Haystack: tall fescue", "No mixture is cut below"),
        ("seed-weight", 0.05, "79%", "84%"),
    ],
)
def test_one_input_changed_in_a_copy_changes_the_answer_and_never_the_book(
    book: Book, key: str, number: float, before: str, after: str
) -> None:
    chain, stamp = book.store.chain(), book.store.stamp()
    with only_looking():
        found = try_out(book, key, number)
    assert before in " ".join(found.before)
    assert after in " ".join(found.after)
    assert book.store.chain() == chain
    assert book.store.stamp() == stamp


def test_values_to_try_are_read_with_their_units_and_held_to_their_range(book: Book) -> None:
    assert read_value("height", "1 in") == pytest.approx(25.4)
    assert read_value("seed-weight", "0,05") == pytest.approx(0.05)
    with pytest.raises(BadInputError):
        read_value("places", "2.5")
    with pytest.raises(OutOfRangeError):
        try_out(book, "blocks", 9)
    with pytest.raises(UnknownNameError):
        try_out(book, "hight", 9)
