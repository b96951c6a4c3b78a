"""A zone's story begins after the last missing day, and says so."""

from dataclasses import replace
from datetime import date

import numpy as np

from swardbook.book.zone_story import story_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather


def test_a_story_begins_after_the_last_missing_day_and_says_so() -> None:
    weather = made_up_weather()
    low = weather.tmin.copy()
    low[weather.index(date(2011, 2, 1)) : weather.index(date(2011, 4, 1))] = np.nan
    whole = story_of(made_up_ground(), "Main court", weather, TODAY)
    cut = story_of(made_up_ground(), "Main court", replace(weather, tmin=low), TODAY)
    assert whole.first < date(2011, 2, 1) < cut.first == date(2011, 4, 2)
    assert np.isfinite(cut.drivers.tmean).all()
    assert "missing: Tue 1 February 2011 to Thu 31 March 2011 (59 days)" in cut.assumed[0]
    assert not any("missing" in each for each in whole.assumed)
    assert {seen.day for seen in cut.seen} == {
        seen.day for seen in whole.seen if seen.day >= cut.first
    }
