"""Days as people say them: day first, the latest past one, and spans that stay undated."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.dates import (
    When,
    days_between,
    is_southern,
    month_here,
    read_day,
    read_when,
    same_season,
    say,
    season_day,
    season_day_from,
    season_day_until,
)
from swardbook.foundation.errors import BadInputError

TODAY = date(2025, 10, 11)
"""A Saturday."""


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("today", date(2025, 10, 11)),
        ("Yesterday", date(2025, 10, 10)),
        ("day before yesterday", date(2025, 10, 9)),
        ("tomorrow", date(2025, 10, 12)),
        ("1 day ago", date(2025, 10, 10)),
        ("10 days ago", date(2025, 10, 1)),
        ("a week ago", date(2025, 10, 4)),
        ("2 weeks ago", date(2025, 9, 27)),
        ("saturday", date(2025, 10, 11)),
        ("last Saturday", date(2025, 10, 4)),
        ("last sat", date(2025, 10, 4)),
        ("on friday", date(2025, 10, 10)),
        ("last sunday", date(2025, 10, 5)),
        ("2025-09-04", date(2025, 9, 4)),
        ("4/9/2025", date(2025, 9, 4)),
        ("03/04/2025", date(2025, 4, 3)),
        ("4.9.25", date(2025, 9, 4)),
        ("4-9-2025", date(2025, 9, 4)),
        ("4/9", date(2025, 9, 4)),
        ("12/10", date(2024, 10, 12)),
        ("4 September 2025", date(2025, 9, 4)),
        ("4th sept", date(2025, 9, 4)),
        ("Thu 4 Sep 2025", date(2025, 9, 4)),
        ("4 of September", date(2025, 9, 4)),
        ("September 4, 2025", date(2025, 9, 4)),
        ("Sep. 4", date(2025, 9, 4)),
        ("12 October", date(2024, 10, 12)),
        ("11 October", date(2025, 10, 11)),
        ("31 dec", date(2024, 12, 31)),
        ("29 Feb", date(2024, 2, 29)),
        ("29/2", date(2024, 2, 29)),
        ("  4   September   2025 ", date(2025, 9, 4)),
    ],
)
def test_a_day_is_read_day_first_and_without_a_year_as_the_latest_past_one(
    words: str, day: date
) -> None:
    assert read_day(words, TODAY) == day


@pytest.mark.parametrize(
    "words",
    [
        "", "soon", "ju 4", "13/13/2025", "31/4/2025", "30 feb", "2025-02-29", "2025-13-01",
        "4 sep 25 12", "99999999999 days ago", "9999999999999999999999 days ago", "0/0",
        "may be", "t", "29 Feb 2025", "0000-01-01", "400000 weeks ago",
    ],
)  # fmt: skip
def test_what_is_no_day_is_refused_with_what_is_understood(words: str) -> None:
    with pytest.raises(BadInputError, match="8 October 2011"):
        read_day(words, TODAY)


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("about mid-July", date(2025, 7, 11), date(2025, 7, 20)),
        ("mid july", date(2025, 7, 11), date(2025, 7, 20)),
        ("early March 2011", date(2011, 3, 1), date(2011, 3, 10)),
        ("late february 2024", date(2024, 2, 21), date(2024, 2, 29)),
        ("late February 2025", date(2025, 2, 21), date(2025, 2, 28)),
        ("in June", date(2025, 6, 1), date(2025, 6, 30)),
        ("About in June", date(2025, 6, 1), date(2025, 6, 30)),
        ("December", date(2024, 12, 1), date(2024, 12, 31)),
        ("late October", date(2024, 10, 21), date(2024, 10, 31)),
        ("early October", date(2025, 10, 1), date(2025, 10, 10)),
        ("around 3 May", date(2025, 5, 1), date(2025, 5, 5)),
        ("about yesterday", date(2025, 10, 8), date(2025, 10, 11)),
    ],
)
def test_a_span_keeps_its_words_and_stays_undated(words: str, first: date, last: date) -> None:
    when = read_when(words, TODAY)
    assert (when.first, when.last) == (first, last)
    assert not when.is_dated
    assert when.words == words
    assert when.first <= when.day <= when.last


@pytest.mark.parametrize("words", ["last saturday", "4 Sep", "2025-09-04", "saturday"])
def test_a_known_day_is_dated_and_keeps_no_words(words: str) -> None:
    when = read_when(words, TODAY)
    assert when == When.on(read_day(words, TODAY))
    assert when.is_dated
    assert when.day == when.first


@pytest.mark.parametrize("words", ["", "about", "in", "mid-", "June 0000", "about soon", "mid 4"])
def test_a_span_that_is_none_is_refused(words: str) -> None:
    with pytest.raises(BadInputError):
        read_when(words, TODAY)


@given(st.dates(date(2000, 1, 1), date(2060, 12, 31)))
def test_a_day_as_said_reads_back(day: date) -> None:
    assert read_day(say(day), TODAY) == day
    assert read_day(day.isoformat(), TODAY) == day


@given(st.dates(date(2000, 1, 1), date(2060, 12, 31)), st.dates(date(2001, 1, 1)))
def test_a_day_without_its_year_is_never_in_the_future(today: date, day: date) -> None:
    read = read_day(f"{day.day} {day:%B}", today)
    assert read <= today
    assert (read.day, read.month) == (day.day, day.month)
    assert (today - read).days < 366 or (day.day, day.month) == (29, 2)


def test_a_day_is_said_with_its_month_as_a_word() -> None:
    assert say(date(2011, 10, 8)) == "Sat 8 October 2011"


def test_days_between_hold_both_ends() -> None:
    assert days_between(date(2024, 2, 28), date(2024, 3, 1)) == [
        date(2024, 2, 28), date(2024, 2, 29), date(2024, 3, 1),
    ]  # fmt: skip
    assert days_between(date(2024, 3, 1), date(2024, 2, 28)) == []


def test_the_south_has_its_midsummer_where_the_north_has() -> None:
    assert abs(season_day(date(2025, 12, 21), -43) - season_day(date(2025, 6, 21), 52)) <= 2
    assert season_day(date(2025, 3, 1), 52) == 60
    assert is_southern(-43)
    assert not is_southern(52)


def test_the_same_season_is_within_three_weeks_of_any_years() -> None:
    assert same_season(date(2024, 10, 12), date(2025, 10, 11), 21)
    assert same_season(date(2024, 12, 28), date(2025, 1, 10), 21)
    assert same_season(date(2025, 5, 1), date(2024, 5, 22), 21)
    assert not same_season(date(2025, 5, 1), date(2025, 5, 23), 21)
    assert not same_season(date(2025, 5, 10), date(2025, 9, 13), 21)


@given(st.dates(), st.integers(0, 21))
def test_sameness_of_season_goes_both_ways(day: date, apart: int) -> None:
    try:
        other = day + timedelta(days=apart)
    except OverflowError:
        return
    assert same_season(day, other, 14) == same_season(other, day, 14)


@pytest.mark.parametrize(
    ("month", "north", "south"), [(10, "October", "April"), (3, "March", "September")]
)
def test_a_month_of_a_season_is_half_a_year_on_in_the_south(
    month: int, north: str, south: str
) -> None:
    assert month_here(month, 52.0) == north
    assert month_here(month, -43.0) == south


def test_a_day_that_no_month_has_is_said_in_words() -> None:
    with pytest.raises(BadInputError, match="There is no such day"):
        read_day("31/04/2019", date(2019, 6, 30))


@given(
    st.dates(date(1950, 1, 1), date(2090, 1, 1)), st.integers(1, 366), st.sampled_from([52, -43])
)
def test_the_nearest_days_of_a_season_day_are_those_that_stepping_finds(
    day: date, wanted: int, latitude: float
) -> None:
    for found, step in ((season_day_until, -1), (season_day_from, 1)):
        by_steps = day
        while season_day(by_steps, latitude) != wanted:
            by_steps += timedelta(days=step)
        assert found(day, wanted, latitude) == by_steps


def test_a_season_day_is_the_day_of_the_year_and_none_beyond_it_is_found() -> None:
    for day in days_between(date(2011, 1, 1), date(2012, 12, 31)):
        assert season_day(day, 52) == day.timetuple().tm_yday
    with pytest.raises(ValueError, match="367"):
        season_day_until(date(2012, 5, 1), 367, 52)
