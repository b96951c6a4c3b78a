"""When to sow: days ahead that the book holds are the forecast, and past years tell the rest."""

import os
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from swardbook.book.opening import Book
from swardbook.book.sow_when import Asked, SowWhen, sow_when
from swardbook.planning.sow_when import Said
from swardbook.planning.states import State
from swardbook.weather.forecast import Forecast
from tests.support.books import small_book
from tests.support.grounds import seasons, weather

TODAY = date(2011, 8, 10)


def book(home: Path, *, ahead: int, today: date = TODAY, rain: float = 0.0) -> Book:
    made = small_book(home, today)
    made.store.save_weather(seasons(2006, TODAY), "a station")
    if ahead:
        first = TODAY + timedelta(days=1)
        last = first + timedelta(days=ahead - 1)
        told = weather(first, last, tmin=12.0, tmax=21.0, rain=rain)
        made.store.save_forecast(Forecast(told, TODAY))
    cache = Path(os.environ["SWARDBOOK_CACHE"])
    return replace(made, settings=replace(made.settings, cache_folder=cache))


def asked(of: Book) -> SowWhen:
    return sow_when(of, Asked("Short court", "Bobbin", number=1, said=Said(True, True, 0.06)))


def test_days_after_today_in_the_book_are_the_forecast_and_past_years_come_after(
    tmp_path: Path,
) -> None:
    none = asked(book(tmp_path / "none", ahead=0))
    assert none.forecast_to is None
    some = asked(book(tmp_path / "some", ahead=6, rain=22.0))
    assert some.forecast_to == TODAY + timedelta(days=6)
    rain = next(each for each in some.conditions if each.name == "heavy rain on a slope")
    assert rain.state is State.NOT_MET
    assert "by Tue 16 August 2011" in rain.because
    assert some.first[0].value == "wait"
    assert some.days[0].mixture.events != none.days[0].mixture.events


def test_a_day_that_is_past_is_answered_by_what_was_known_on_it(tmp_path: Path) -> None:
    later = book(tmp_path / "later", ahead=6)
    past = replace(later, written_on=TODAY + timedelta(days=30))
    assert asked(past).forecast_to is None
