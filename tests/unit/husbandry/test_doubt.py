"""Doubts that need no ground."""

from datetime import date

import pytest

from swardbook.husbandry.doubt import closure_backwards
from swardbook.husbandry.happenings import Closure, Note
from tests.support.books import TODAY, entry


@pytest.mark.parametrize(
    ("until", "words", "change"),
    [
        (date(2010, 10, 20), "Thu 20 October 2011?", "until=2011-10-20"),
        (date(2011, 10, 1), "The two swapped?", "when=2011-10-01"),
    ],
)
def test_a_closure_that_ends_before_it_begins_is_asked_about(
    until: date, words: str, change: str
) -> None:
    [doubt] = closure_backwards(entry(1, Closure(until), TODAY), None)
    assert "before it begins on Sat 8 October 2011" in doubt.text
    assert words in doubt.text
    assert doubt.change == change


def test_a_closure_of_one_day_or_without_end_is_ordinary() -> None:
    for what in (Closure(TODAY), Closure(None), Note("closed")):
        assert list(closure_backwards(entry(1, what, TODAY), None)) == []
