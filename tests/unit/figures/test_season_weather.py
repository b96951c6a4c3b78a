"""A season's weather in a picture."""

from datetime import date
from typing import Any

import pytest

from swardbook.figures.picture import Picture
from swardbook.figures.season_weather import SeasonWeather, picture_of_weather
from swardbook.weather.derive import derive
from tests.support.grounds import seasons
from tests.support.pictures import of_weather, values


def bars(picture: Picture) -> list[Any]:
    panel = picture.specification["vconcat"][1]
    return values(picture, panel["layer"][0], panel)


def test_a_long_season_has_rain_by_the_week_and_a_short_one_by_the_day() -> None:
    assert len(bars(of_weather(365))) == 53
    assert len(bars(of_weather(30))) == 30


def test_all_rain_is_in_the_bars_of_a_long_season() -> None:
    sky = seasons(2010, date(2010, 12, 31))
    picture = picture_of_weather(SeasonWeather(sky, derive(sky, 52.0, 60.0)))
    assert sum(bar["rain"] for bar in bars(picture)) == pytest.approx(sky.rain.sum())


def test_it_says_what_is_usual_or_that_it_is_not_known() -> None:
    assert "usually" in of_weather().sentence
    assert "10 years, 2000 to 2009" in of_weather().key
    sky = seasons(2010, date(2010, 12, 31))
    alone = picture_of_weather(SeasonWeather(sky, derive(sky, 52.0, 60.0)))
    assert "usually" not in alone.sentence
    assert "too few past years" in alone.key
