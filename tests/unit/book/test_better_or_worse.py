"""Better or worse for the whole ground: every count in order, breaks told, months kept apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from swardbook.book.better_or_worse import GroundYear, ground_year
from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import PlaceCount
from swardbook.observations.samples import Smallest
from swardbook.review.better_or_worse import Year
from tests.support.books import small_book
from tests.support.counted import WEED, around, plants, points

CUSTOMARY = Smallest.customary()


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return small_book(tmp_path)


def count(book: Book, day: str, places: tuple[PlaceCount, ...], zone: str = "Main court") -> None:
    from datetime import date

    write(book, Count(places), When.on(date.fromisoformat(day)), zone=zone)


def cover(mean: float, counter: str = "Ines") -> tuple[PlaceCount, ...]:
    return points(around(mean, 2, 4), counter, letter="P", looked=100)


def year(book: Book, zone: str = "") -> GroundYear:
    return ground_year(book, WEED, CUSTOMARY, zone)


def test_every_zone_has_a_sentence_and_its_counts_in_order(book: Book) -> None:
    for day, mean in (("2010-10-09", 30), ("2011-05-07", 35), ("2011-10-01", 20)):
        count(book, day, cover(mean))
    main, short = year(book).zones
    assert [each.day.isoformat() for each in main.counts] == [
        "2010-10-09", "2011-05-07", "2011-10-01",
    ]  # fmt: skip
    assert main.mark == "?"
    assert short.counts == ()
    assert short.instead.startswith("Not counted yet")
    assert [each.zone for each in year(book, "short court").zones] == ["Short court"]


def test_another_counter_breaks_the_line(book: Book) -> None:
    count(book, "2010-10-09", cover(30))
    count(book, "2011-10-01", cover(20, "Odalys"))
    [main] = year(book, "Main court").zones
    assert [bool(each.broken) for each in main.counts] == [False, True]
    assert main.breaks == (
        "Sat 1 October 2011: The counter changed from Ines to Odalys: a break here.",
    )


def test_another_way_of_counting_breaks_the_line(book: Book) -> None:
    count(book, "2010-10-09", cover(30))
    count(book, "2011-10-01", plants([3.0, 4.0], letter="P"))
    [main] = year(book, "Main court").zones
    assert "Counted by points, then by plants" in main.breaks[0]


def test_may_and_september_are_refused_with_the_reason_and_what_would_do(book: Book) -> None:
    count(book, "2011-05-07", cover(30))
    count(book, "2011-09-10", cover(20))
    [main] = year(book, "Main court").zones
    assert main.word is Year.CANNOT_SAY
    assert main.instead == (
        "Counted in May and September: months of different seasons are not compared, for the weed"
        " comes and goes with the year. Count the same places in September 2012."
    )


def test_words_are_counted_over_the_ground(book: Book) -> None:
    found = year(book)
    assert found.number(Year.CANNOT_SAY) == 2
    assert found.number(Year.BETTER) == 0


def test_an_unknown_zone_is_refused(book: Book) -> None:
    with pytest.raises(UnknownNameError):
        year(book, "Nowhere")
