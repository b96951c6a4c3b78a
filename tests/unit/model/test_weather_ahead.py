"""Past years laid ahead, and nothing after today read."""

from datetime import date

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.chance import Chance
from swardbook.model.weather_ahead import laid_over, weather_ahead
from swardbook.weather.series import DailyWeather

CHANCE = Chance(("weather",))


def weather(first: date, last: date) -> DailyWeather:
    days = np.arange(np.datetime64(first), np.datetime64(last) + 1)
    marks = np.array([day.year * 1000 + day.timetuple().tm_yday for day in days.astype(object)])
    return DailyWeather(days, marks - 5.0, marks + 5.0, marks * 0.0, marks * 0)


def test_each_course_is_dated_ahead_and_holds_the_season_of_its_days() -> None:
    told = weather_ahead(
        weather(date(2000, 1, 1), date(2012, 12, 31)),
        date(2011, 10, 8),
        date(2014, 10, 11),
        16,
        CHANCE,
    )
    assert told.past_years == tuple(range(2000, 2011))
    for course in told.courses:
        assert (course.first, course.last) == (date(2011, 10, 9), date(2014, 10, 11))
        marks = course.tmean.astype(int)
        ahead = np.array([day.timetuple().tm_yday for day in course.days.astype(object)])
        assert np.max(np.abs(marks % 1000 - ahead)) <= 1
        assert np.max(marks) <= 2011281  # 8 October 2011


def test_years_take_turns_at_being_first() -> None:
    told = weather_ahead(
        weather(date(2000, 1, 1), date(2011, 10, 8)),
        date(2011, 10, 8),
        date(2012, 10, 11),
        22,
        CHANCE,
    )
    firsts = [int(course.tmean[0]) // 1000 for course in told.courses]
    assert sorted(set(firsts)) == list(told.past_years)
    assert {firsts.count(year) for year in told.past_years} == {2}


def test_a_leap_day_ahead_takes_the_day_before_it() -> None:
    told = weather_ahead(
        weather(date(2009, 1, 1), date(2011, 6, 1)), date(2011, 6, 1), date(2012, 6, 1), 1, CHANCE
    )
    assert len(told.courses[0]) == 366


def test_without_a_whole_year_there_is_no_weather_ahead() -> None:
    with pytest.raises(NotEnoughDataError, match="whole year"):
        weather_ahead(
            weather(date(2011, 1, 1), date(2011, 6, 1)),
            date(2011, 6, 1),
            date(2012, 6, 1),
            1,
            CHANCE,
        )


def test_a_year_that_lacks_days_lends_none_and_the_others_still_do() -> None:
    known = weather(date(2000, 1, 1), date(2011, 10, 8))
    known.tmin[known.index(date(2011, 3, 1)) : known.index(date(2011, 5, 1))] = np.nan
    told = weather_ahead(known, date(2011, 10, 8), date(2012, 10, 11), 22, CHANCE)
    assert told.past_years == tuple(range(2000, 2010))
    assert all(np.isfinite(course.tmin).all() for course in told.courses)


def test_without_a_whole_year_the_missing_days_are_named() -> None:
    known = weather(date(2010, 6, 1), date(2011, 10, 8))
    known.rain[known.index(date(2011, 3, 1)) : known.index(date(2011, 5, 1))] = np.nan
    with pytest.raises(NotEnoughDataError, match="missing: Tue 1 March 2011 to Sat 30 April 2011"):
        weather_ahead(known, date(2011, 10, 8), date(2012, 10, 11), 2, CHANCE)


def test_courses_begin_with_what_is_told_in_turn_and_go_on_with_past_years() -> None:
    known = weather(date(2005, 1, 1), date(2009, 12, 31))
    plain = weather_ahead(known, date(2009, 12, 31), date(2010, 3, 31), 5, Chance(("x",)))
    days = plain.courses[0].days[:3]
    none = np.zeros(3, dtype=np.int64)
    told = [
        DailyWeather(days, np.full(3, low), np.full(3, low + 5), np.full(3, 1.0), none)
        for low in (-8.0, -9.0)
    ]
    laid = laid_over(plain, told)
    assert [each.tmin[:3].tolist() for each in laid.courses] == [
        [-8.0] * 3, [-9.0] * 3, [-8.0] * 3, [-9.0] * 3, [-8.0] * 3,
    ]  # fmt: skip
    for before, after in zip(plain.courses, laid.courses, strict=True):
        assert after.tmax[3:].tolist() == before.tmax[3:].tolist()
    assert laid.past_years == plain.past_years
    assert laid_over(plain, ()) is plain
