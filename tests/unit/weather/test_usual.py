"""What is usual: past years only, and only whole ones."""

from datetime import date

import numpy as np

from swardbook.weather.usual import usual

DAYS = np.arange(np.datetime64("2000-01-01"), np.datetime64("2011-01-01"))
YEARS = DAYS.astype("datetime64[Y]").astype(int) + 1970


def test_each_past_year_counts_once_and_this_one_not() -> None:
    found = usual(DAYS, YEARS.astype(float), date(2010, 6, 1), 30, adds_up=False)
    assert found is not None
    assert found.years == tuple(range(2000, 2010))
    assert found.middle.tolist() == [2004.5] * 30
    assert found.low[0] == np.quantile(np.arange(2000, 2010), 0.1)
    assert found.high[0] == np.quantile(np.arange(2000, 2010), 0.9)


def test_what_adds_up_is_added_from_the_first_day() -> None:
    found = usual(DAYS, np.ones(len(DAYS)), date(2010, 6, 1), 30, adds_up=True)
    assert found is not None
    assert found.middle.tolist() == list(range(1, 31))


def test_a_span_over_new_year_is_named_by_the_year_it_ends_in() -> None:
    found = usual(DAYS, np.ones(len(DAYS)), date(2009, 10, 1), 365, adds_up=False)
    assert found is not None
    assert found.years == tuple(range(2001, 2010))


def test_a_year_with_a_hole_is_left_out() -> None:
    values = np.ones(len(DAYS))
    values[YEARS == 2003] = np.nan
    found = usual(DAYS, values, date(2010, 6, 1), 30, adds_up=False)
    assert found is not None
    assert 2003 not in found.years


def test_too_few_years_are_no_range() -> None:
    assert usual(DAYS[-1500:], np.ones(1500), date(2010, 6, 1), 30, adds_up=False) is None


def test_the_29th_of_february_has_a_28th_in_other_years() -> None:
    found = usual(DAYS, np.ones(len(DAYS)), date(2008, 2, 29), 10, adds_up=False)
    assert found is not None
    assert found.years == tuple(range(2000, 2008))
