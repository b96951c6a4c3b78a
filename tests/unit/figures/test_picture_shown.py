"""Pictures as pages show them: whole on a phone, without the page's own words, in chosen units."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import cache

import pytest

from swardbook.figures.picture import Picture
from swardbook.figures.picture_shown import SLIM, in_units, taken_apart
from swardbook.figures.plants import picture_of_plant
from swardbook.figures.season_weather import SeasonWeather, picture_of_weather
from swardbook.foundation.units import METRIC, Units, read_units
from swardbook.handbook.plants import plants
from swardbook.weather.derive import derive
from tests.support.grounds import seasons
from tests.support.pictures import of_counts, of_mixture, of_programmes

IMPERIAL = read_units("imperial")
A_LITTLE = 1.08
"""How much wider a drawing may be that a page then shrinks."""


@cache
def weather(units: Units = METRIC) -> Picture:
    sky = seasons(2010, date(2010, 6, 30))
    part = sky.between(sky.last - timedelta(days=90), sky.last)
    return picture_of_weather(SeasonWeather(part, derive(part, 52.0, 60.0)), units=units)


def width(svg: str) -> float:
    found = re.search(r'<svg[^>]*? width="([\d.]+)"', svg)
    assert found is not None
    return float(found[1])


def texts(svg: str) -> str:
    return " ".join(re.findall(r"<text[^>]*>([^<]*)<", svg))


@pytest.mark.parametrize("draw", [weather, of_counts, of_mixture, of_programmes])
def test_a_phone_shows_a_chart_whole_and_its_sentence_once(draw: object) -> None:
    assert callable(draw)
    shown = taken_apart(draw(), METRIC)
    assert 0.6 * SLIM < width(shown.slim) <= A_LITTLE * SLIM
    assert width(shown.broad) > width(shown.slim)
    for svg in (shown.slim, shown.broad):
        assert shown.sentence[:30] not in texts(svg)
        assert f">{shown.sentence.split('(')[0]}"[:20] in svg  # it is heard


def test_a_drawing_by_hand_leaves_its_head_to_the_page() -> None:
    picture = picture_of_plant(next(iter(plants().values())))
    shown = taken_apart(picture, METRIC)
    assert picture.key.split()[0] in texts(picture.svg)
    assert "what to look for" not in texts(shown.broad)
    assert shown.key == picture.key
    assert width(shown.broad) <= SLIM


def test_a_chart_follows_the_units_chosen_everywhere() -> None:
    shown = taken_apart(weather(IMPERIAL), IMPERIAL)
    assert " in of rain" in shown.sentence
    assert "rain, inches a week" in texts(shown.broad)
    assert shown.tables[0].heads[3] == "rain in"
    assert all("/" not in row[3] for row in shown.tables[0].rows)  # water is told in decimals
    bars = re.compile(r"rain mm|mm a week")
    assert not bars.search(shown.slim)


def test_with_the_comma_the_axes_have_it_too() -> None:
    comma = read_units("imperial", "comma")
    assert re.search(r"\d,\d", texts(taken_apart(weather(comma), comma).broad))


def test_in_metric_a_picture_stays_as_it_is() -> None:
    assert in_units(weather(), METRIC) is weather()
