"""What is parked is read by no count, comparison, plan or story of a zone."""

from dataclasses import replace
from datetime import date
from uuid import UUID

from swardbook.book.parking import ways_out
from swardbook.book.zone_story import story_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.parked import Parked
from swardbook.review.records import occasions_of

ROW = Parked(
    "count", "autumn.csv", 4, "annual meadow-grass", "3o", "a number", "30?",
    {"place": "M01", "annual meadow-grass": "3o"}, {"method": "points", "looked": "25"},
)  # fmt: skip


def parked(number: int, day: date) -> DiaryEntry:
    return DiaryEntry(UUID(int=number), When.on(day), ROW, zone="Main court")


def test_a_parked_count_is_read_by_nothing() -> None:
    ground = made_up_ground()
    rows = tuple(parked(n, date(2011, 9, n)) for n in range(1, 20))
    diary = tuple(sorted((*ground.diary, *rows), key=lambda each: each.when.first))
    with_rows = replace(ground, diary=diary)
    assert occasions_of(with_rows, "Main court") == occasions_of(ground, "Main court")
    one, two = (story_of(each, "Main court", made_up_weather(), TODAY) for each in
                (ground, with_rows))  # fmt: skip
    assert (one.seen, one.first, one.kinds, one.assumed) == (
        two.seen, two.first, two.kinds, two.assumed,
    )  # fmt: skip


def test_a_parked_row_says_where_it_stood_what_was_read_and_how_it_goes_in() -> None:
    assert ROW.words == (
        "autumn.csv, line 4, annual meadow-grass: read '3o'; understood here: a number. 30?"
    )
    take, leave = ways_out(parked(1, TODAY))
    assert take.startswith("swardbook parked take-in 00000000 --set 'annual meadow-grass=...'")
    assert "--withdraw" in leave
