"""Gaps: short ones filled and flagged, long ones taken from other years or the days around."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.weather.gaps import fill_gaps, set_strays_aside
from swardbook.weather.joining import as_readings, join
from swardbook.weather.readings import Readings
from swardbook.weather.series import Flag
from swardbook.weather.stretches import missing_spells, whole_stretches
from tests.support.arrays import weather


def readings(first: str, length: int, without: slice | list[int] | None = None) -> Readings:
    """Make readings, one degree warmer each day; some days may be wholly missing."""
    whole = as_readings(
        weather(
            first,
            np.arange(length, dtype=np.float64),
            np.arange(10, 10 + length, dtype=np.float64),
            np.full(length, 2.0),
        )
    )
    if without is None:
        return whole
    keep = np.ones(length, dtype=np.bool_)
    keep[without] = False
    return replace(
        whole, days=whole.days[keep], lines=whole.lines[keep], tmin=whole.tmin[keep],
        tmax=whole.tmax[keep], rain=whole.rain[keep], flags=whole.flags[keep],
    )  # fmt: skip


def test_a_gap_of_five_days_is_a_straight_line_and_each_day_says_so() -> None:
    filled, findings = fill_gaps(readings("2024-03-01", 20, slice(5, 10)))

    assert filled.tmin.tolist() == pytest.approx(np.arange(20.0).tolist())
    both = int(Flag.FILLED_TEMPERATURE | Flag.FILLED_RAIN)
    assert filled.flags.tolist() == [0] * 5 + [both] * 5 + [0] * 10
    assert [finding.read for finding in findings] == [
        "temperature missing on 5 days", "rain missing on 5 days",
    ]  # fmt: skip


def test_missing_rain_is_put_at_nothing_only_with_a_finding() -> None:
    whole = readings("2024-03-01", 6)
    rain = whole.rain.copy()
    rain[2] = np.nan

    filled, (found,) = fill_gaps(replace(whole, rain=rain))

    assert filled.rain[2] == 0
    assert filled.flags[2] == int(Flag.FILLED_RAIN)
    assert (found.day, found.likely) == (
        date(2024, 3, 3), "Put at 0 mm. If it rained, type the days in.",
    )  # fmt: skip


def test_a_gap_of_six_days_with_too_little_around_it_stays_missing_by_name() -> None:
    left, findings = fill_gaps(readings("2024-03-01", 18, slice(5, 11)))

    assert np.isnan(left.tmin[5:11]).all()
    assert np.isnan(left.rain[5:11]).all()
    assert left.flags.tolist() == [0] * 5 + [int(Flag.MISSING)] * 6 + [0] * 7
    assert "Wed 6 March 2024 to Mon 11 March 2024" in findings[0].words
    assert findings[0].read == "temperature missing on 6 days, too long to fill"
    assert "The good days were taken" in findings[0].likely


def test_a_long_gap_is_taken_from_three_other_years_and_marked() -> None:
    length = 4 * 366
    season = 10 - 8 * np.cos(2 * np.pi * np.arange(length) / 365.25)
    years = as_readings(weather("2020-01-01", season - 4, season + 4, np.full(length, 2.0)))
    tmin = years.tmin.copy()
    tmin[900:930] = np.nan

    filled, (found,) = fill_gaps(replace(years, tmin=tmin))

    assert filled.tmin[900:930] == pytest.approx(years.tmin[900:930], abs=0.5)
    assert filled.tmax.tolist() == years.tmax.tolist()
    marks = int(Flag.FILLED_TEMPERATURE | Flag.FROM_OTHER_YEARS)
    assert set(filled.flags[900:930].tolist()) == {marks}
    assert "other years" in found.likely


@pytest.mark.parametrize("length", [6, 31])
def test_an_outage_in_a_first_year_is_filled_from_the_fortnight_either_side(length: int) -> None:
    whole = readings("2024-03-01", 100)
    rain = np.where(np.arange(100) % 2, 4.0, 0.0)
    air = [np.where(np.arange(100) < 40, low, low + 6.0) for low in (2.0, 9.0)]
    kept = np.ones(100, dtype=np.bool_)
    kept[40 : 40 + length] = False
    given = replace(
        whole, days=whole.days[kept], lines=whole.lines[kept], flags=whole.flags[kept],
        tmin=air[0][kept], tmax=air[1][kept], rain=rain[kept],
    )  # fmt: skip

    filled, findings = fill_gaps(given)

    gap = slice(40, 40 + length)
    assert filled.tmin[gap] == pytest.approx(np.full(length, 5.0))
    assert filled.tmax[gap] == pytest.approx(np.full(length, 12.0))
    assert filled.rain[gap] == pytest.approx(np.full(length, 2.0))
    both = int(Flag.FILLED_TEMPERATURE | Flag.FILLED_RAIN | Flag.FROM_DAYS_AROUND)
    assert set(filled.flags[gap].tolist()) == {both}
    assert np.count_nonzero(filled.flags) == length
    assert [finding.read for finding in findings] == [
        f"temperature missing on {length} days", f"rain missing on {length} days",
    ]  # fmt: skip
    assert all("poor" in finding.likely for finding in findings)


def test_an_outage_of_more_than_a_month_stays_missing_in_a_first_year() -> None:
    left, _ = fill_gaps(readings("2024-03-01", 100, slice(40, 72)))

    assert missing_spells(left) == ((date(2024, 4, 10), date(2024, 5, 11)),)
    first, second = whole_stretches(left)
    assert (len(first), len(second)) == (40, 28)
    assert second.first == date(2024, 5, 12)


def test_missing_days_sent_later_are_missing_no_more() -> None:
    left, _ = fill_gaps(readings("2024-03-01", 100, slice(40, 72)))

    joined, _ = join(as_readings(left), readings("2024-04-10", 32))
    whole, findings = fill_gaps(joined)

    assert missing_spells(whole) == ()
    assert whole.flags.tolist() == [0] * 100
    assert findings == ()


def test_days_read_at_last_lose_the_mark_of_the_days_around() -> None:
    filled, _ = fill_gaps(readings("2024-03-01", 60, slice(20, 30)))
    assert filled.flags[20] & int(Flag.FROM_DAYS_AROUND)

    joined, _ = join(as_readings(filled), readings("2024-03-21", 10))

    assert joined.flags.tolist() == [0] * 60


def test_a_missing_season_is_not_made_up_even_where_other_years_have_it() -> None:
    length = 5 * 366
    season = 10 - 8 * np.cos(2 * np.pi * np.arange(length) / 365.25)
    years = as_readings(weather("2020-01-01", season - 4, season + 4, np.full(length, 2.0)))
    tmin = years.tmin.copy()
    tmin[900:932] = np.nan

    left, _ = fill_gaps(replace(years, tmin=tmin))

    assert np.isnan(left.tmin[900:932]).all()
    assert np.isfinite(left.rain).all()
    assert len(missing_spells(left)) == 1


def test_a_last_day_that_is_not_over_is_left_off_and_said() -> None:
    whole = readings("2024-03-01", 6)
    tmax = whole.tmax.copy()
    tmax[-1] = np.nan

    filled, (found,) = fill_gaps(replace(whole, tmax=tmax))

    assert filled.last == date(2024, 3, 5)
    assert "left off" in found.likely


def test_a_file_without_one_whole_day_is_refused() -> None:
    whole = readings("2024-03-01", 3)

    with pytest.raises(BadInputError, match="no day with both temperatures"):
        fill_gaps(replace(whole, tmin=np.full(3, np.nan)))


def test_missing_extras_stay_missing() -> None:
    wind = np.array([2.0, np.nan, 3.0])
    filled, findings = fill_gaps(replace(readings("2024-03-01", 3), wind=wind))

    assert filled.wind is not None
    assert np.isnan(filled.wind).tolist() == [False, True, False]
    assert findings == ()


def test_new_days_join_on_and_days_read_again_win() -> None:
    old, new = readings("2024-03-01", 5), readings("2024-03-04", 5)

    joined, again = join(old, new)

    assert again == 2
    assert joined.days.astype(str).tolist() == [f"2024-03-0{n}" for n in range(1, 9)]
    assert joined.tmin.tolist() == [0, 1, 2, 0, 1, 2, 3, 4]


def test_a_value_the_new_file_lacks_keeps_the_old_one() -> None:
    old, new = readings("2024-03-01", 3), readings("2024-03-01", 3)
    rain = np.array([9.0, np.nan, 9.0])

    joined, _ = join(old, replace(new, rain=rain))

    assert joined.rain.tolist() == [9.0, 2.0, 9.0]


def test_a_filled_day_that_is_read_at_last_loses_its_flag() -> None:
    filled, _ = fill_gaps(readings("2024-03-01", 8, [3]))

    joined, _ = join(as_readings(filled), readings("2024-03-04", 1))

    assert joined.flags.tolist() == [0] * 8


def test_a_new_file_may_bring_a_series_that_was_not_there() -> None:
    old = readings("2024-03-01", 2)
    new = replace(readings("2024-03-03", 2), wind=np.array([1.0, 2.0]))

    joined, _ = join(old, new)

    assert joined.wind is not None
    assert np.isnan(joined.wind).tolist() == [True, True, False, False]


def test_a_filled_maximum_never_falls_below_the_measured_minimum() -> None:
    whole = readings("2024-03-01", 3)
    tmax = np.array([10.0, np.nan, 10.0])
    tmin = np.array([5.0, 14.0, 5.0])

    filled, _ = fill_gaps(replace(whole, tmin=tmin, tmax=tmax))

    assert (filled.tmin[1], filled.tmax[1]) == (14.0, 14.0)


def test_a_gap_of_more_than_ten_years_is_a_mistyped_year_and_refused() -> None:
    early, late = readings("2004-03-01", 10), readings("2024-03-01", 10)
    with pytest.raises(BadInputError, match="Is a year mistyped"):
        fill_gaps(join(early, late)[0])


def test_a_few_days_far_from_all_others_of_a_file_are_left_out_by_name() -> None:
    both, _ = join(readings("2014-03-01", 2), readings("2024-03-01", 40))
    kept, (found,) = set_strays_aside(both)
    assert (len(kept.days), kept.day(0)) == (40, date(2024, 3, 1))
    assert found.read == "2 days far from all others"
    assert found.day == date(2014, 3, 1)
