"""Weather in the book: brought in, joined, looked at."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from swardbook.book.forecast import only_told
from swardbook.book.opening import Book, new_book
from swardbook.book.weather import derive_weather, import_weather, show_weather
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.ground import Site
from swardbook.settings import Settings
from swardbook.weather.series import Flag

HEADING = "date,tmin_c,tmax_c,rain_mm"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    made = new_book(Settings(home=tmp_path / "home"), lambda: date(2024, 3, 20))
    made.store.save_site(Site("Fennowick", 52.2, 62.0))
    yield made
    made.store.close()


def lines(first: int, last: int, warmer: float = 0.0) -> list[str]:
    return [
        f"2024-03-{n:02},{n / 10 + warmer},{8 + n / 7 + warmer},{n % 3}" for n in range(first, last)
    ]


def file(folder: Path, *rows: str, name: str = "garden.csv") -> Path:
    path = folder / name
    path.write_text("\n".join([HEADING, *rows]), encoding="utf-8")
    return path


def test_a_file_is_brought_in_and_found_again(book: Book, tmp_path: Path) -> None:
    done = import_weather(book, file(tmp_path, *lines(1, 16)))

    assert (done.name, done.days_read, done.days_again, done.days_now) == ("garden", 15, 0, 15)
    stored = book.weather()
    assert stored is not None
    assert (stored.first, stored.last) == (date(2024, 3, 1), date(2024, 3, 15))


def test_a_later_file_joins_on_and_wins_where_both_have_a_day(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(1, 11)))

    done = import_weather(book, file(tmp_path, *lines(8, 16, warmer=1.0)))

    assert (done.days_again, done.days_now) == (3, 15)
    stored = book.weather()
    assert stored is not None
    assert stored.tmin[6:8].tolist() == pytest.approx([0.7, 1.8])


def test_a_gap_between_two_files_is_filled_or_named_and_nothing_is_lost(
    book: Book, tmp_path: Path
) -> None:
    import_weather(book, file(tmp_path, *lines(1, 6)))

    import_weather(book, file(tmp_path, *lines(9, 11)))
    done = import_weather(book, file(tmp_path, *lines(17, 19)))

    assert "temperature missing on 6 days, too long to fill" in [
        each.read for each in done.findings
    ]
    assert book.missing_weather() == ((date(2024, 3, 11), date(2024, 3, 16)),)
    latest = book.weather()
    assert latest is not None
    assert (latest.first, len(latest)) == (date(2024, 3, 17), 2)
    stored = book.store.weather()
    assert stored is not None
    assert len(stored) == done.days_now == 18
    assert stored.flags[5:8].tolist() == [int(Flag.FILLED_TEMPERATURE | Flag.FILLED_RAIN)] * 3


def test_the_missing_days_sent_later_take_the_place_of_filled_ones(
    book: Book, tmp_path: Path
) -> None:
    import_weather(book, file(tmp_path, *lines(1, 6), *lines(9, 11)))

    import_weather(book, file(tmp_path, *lines(6, 9)))

    stored = book.weather()
    assert stored is not None
    assert stored.flags.tolist() == [0] * 10
    assert stored.rain.tolist() == [n % 3 for n in range(1, 11)]


def test_days_after_today_are_kept_asked_about_and_not_read(book: Book, tmp_path: Path) -> None:
    done = import_weather(book, file(tmp_path, *lines(15, 26)))

    assert done.findings[0].read == "days after today"
    stored = book.weather()
    assert stored is not None
    assert stored.last == date(2024, 3, 20)


def test_weather_may_be_put_in_place_of_all_there_is(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(1, 11)))

    done = import_weather(book, file(tmp_path, *lines(15, 18)), name="gate", in_place_of_all=True)

    assert (done.name, done.days_now) == ("gate", 3)


def test_the_name_stays_until_another_is_given(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(1, 4)), name="gate")

    assert import_weather(book, file(tmp_path, *lines(4, 6), name="x.csv")).name == "gate"


def test_what_is_shown_is_by_month_with_what_was_filled_and_what_is_odd(
    book: Book, tmp_path: Path
) -> None:
    rows = [*lines(1, 6), "2024-03-08,3,9.5,250", *lines(9, 12)]
    import_weather(book, file(tmp_path, *rows))

    shown = show_weather(book)

    (month,) = shown.months
    assert (month.days, month.filled, month.odd) == (11, 2, 1)
    assert month.et0 is not None
    assert [each.read for each in shown.filled] == [
        "temperature filled on 2 days", "rain filled on 2 days",
    ]  # fmt: skip
    assert any("A record-breaking day, or 25.0?" in each.likely for each in shown.findings)


def test_a_part_may_be_shown(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(1, 16)))

    shown = show_weather(book, date(2024, 3, 5), date(2024, 3, 7))

    assert (shown.first, shown.last, shown.months[0].days) == (
        date(2024, 3, 5), date(2024, 3, 7), 3,
    )  # fmt: skip


def test_a_book_without_weather_says_what_is_needed(book: Book) -> None:
    with pytest.raises(NotEnoughDataError, match="swardbook weather import"):
        show_weather(book)


def test_days_outside_the_weather_are_not_enough_data(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(1, 5)))

    with pytest.raises(NotEnoughDataError, match="Fri 1 March 2024 to Mon 4 March 2024"):
        show_weather(book, date(2023, 1, 1), date(2023, 1, 9))


def test_deriving_needs_no_book_and_takes_text_or_a_file(tmp_path: Path) -> None:
    rows = lines(1, 16)

    from_text = derive_weather("\n".join([HEADING, *rows]), 52.2, 62.0)
    from_file = derive_weather(file(tmp_path, *rows), 52.2, 62.0)

    assert from_text.derived.et0.tolist() == from_file.derived.et0.tolist()
    assert (from_text.derived.base, from_text.derived.upper) == (5, 30)


def test_deriving_up_to_a_day_reads_nothing_after_it(tmp_path: Path) -> None:
    rows = [*lines(1, 8), "2024-03-08,3,9.5,250"]

    done = derive_weather(file(tmp_path, *rows), 52.2, 62.0, until=date(2024, 3, 7))

    assert len(done.weather) == 7
    assert done.findings == ()
    with pytest.raises(BadInputError, match="the last day"):
        derive_weather(file(tmp_path, *rows), 52.2, 62.0, until=date(2023, 3, 7))


def later(book: Book, day: int) -> Book:
    """The same book on a later day of the month."""
    return replace(book, today=date(2024, 3, day), written_on=date(2024, 3, day))


def test_days_told_ahead_are_never_records_once_they_are_past(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(15, 26)))

    stored = later(book, 27).weather()

    assert stored is not None
    assert stored.last == date(2024, 3, 20)
    assert only_told(later(book, 24)) == (date(2024, 3, 21), date(2024, 3, 23))
    assert only_told(book) is None


def test_measured_days_take_the_place_of_the_forecast_of_them(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(15, 26, warmer=4.0)))

    done = import_weather(later(book, 24), file(tmp_path, "2024-03-21,1,9,", *lines(22, 24)))

    stored = later(book, 27).weather()
    assert stored is not None
    assert (stored.last, done.days_again) == (date(2024, 3, 23), 0)
    assert stored.tmin[-3:].tolist() == pytest.approx([1.0, 2.2, 2.3])
    assert stored.flags[-3:].tolist() == [int(Flag.FILLED_RAIN), 0, 0]
    assert done.forecast is not None
    assert (done.forecast.weather.first, len(done.forecast.weather)) == (date(2024, 3, 24), 2)
    assert done.forecast.made_on == date(2024, 3, 20)


def test_a_forecast_with_nothing_left_to_tell_is_dropped(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(15, 26)))

    done = import_weather(later(book, 27), file(tmp_path, *lines(21, 26)))

    assert done.forecast is None
    assert book.store.forecast() is None


def test_a_day_long_past_is_asked_about_with_what_was_measured_since(
    book: Book, tmp_path: Path
) -> None:
    done = import_weather(replace(book, today=date(2024, 3, 5)), file(tmp_path, *lines(1, 21)))

    assert done.forecast is None
    stored = book.weather()
    assert stored is not None
    assert stored.last == date(2024, 3, 20)


def test_a_forecast_in_place_of_all_takes_no_records_away(book: Book, tmp_path: Path) -> None:
    import_weather(book, file(tmp_path, *lines(1, 16)))

    done = import_weather(book, file(tmp_path, *lines(21, 24)), in_place_of_all=True)

    assert (done.days_now, done.last) == (15, date(2024, 3, 15))
    assert done.forecast is not None
