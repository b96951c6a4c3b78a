"""Days to come, as they are typed, and by season in both halves of the world."""

from datetime import date

import pytest

from swardbook.book.from_seed import coming, day_to_come
from swardbook.foundation.errors import BadInputError

TODAY = date(2012, 3, 10)


def test_the_coming_first_of_september_is_march_in_the_south() -> None:
    assert coming(TODAY, 244, 52.0) == date(2012, 8, 31)
    assert coming(TODAY, 244, -42.0).month in {2, 3}
    assert coming(date(2011, 10, 8), 244, 52.0) > date(2011, 10, 8)


@pytest.mark.parametrize(
    ("words", "expected"),
    [("2012-09-01", date(2012, 9, 1)), ("3 May", date(2012, 5, 3)), ("1 March", date(2013, 3, 1)),
     ("29 February", date(2013, 2, 28))],
)  # fmt: skip
def test_a_day_without_a_year_is_the_next_one(words: str, expected: date) -> None:
    assert day_to_come(words, TODAY) == expected


def test_a_day_that_is_past_is_refused() -> None:
    with pytest.raises(BadInputError, match="a day after"):
        day_to_come("2012-03-10", TODAY)
