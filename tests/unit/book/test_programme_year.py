"""A programme laid on a year: the days that the model works, the rates of the handbook."""

from dataclasses import replace
from datetime import date

import pytest

from swardbook.book.programme_year import year_in
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.foundation.errors import NotEnoughDataError, UnknownNameError
from swardbook.model.programmes import programme
from tests.support.pictures import year


def test_it_is_the_last_whole_year_of_weather() -> None:
    laid = year("whole")
    assert (laid.months[0], laid.months[-1]) == (date(2010, 1, 1), date(2011, 1, 1))
    assert len(laid.months) == 13
    assert "the weather of 2010" in laid.weather


def test_in_the_south_a_year_begins_in_july() -> None:
    ground = made_up_ground()
    south = replace(ground, site=replace(ground.site, latitude=-40.0))
    laid = year_in(south, made_up_weather().until(TODAY), programme("whole"), "Main court")
    assert (laid.months[0], laid.months[-1]) == (date(2010, 7, 1), date(2011, 7, 1))


@pytest.mark.parametrize("name", ["whole", "dig by hand", "cut only"])
def test_hours_by_month_and_by_kind_both_add_up_to_the_whole(name: str) -> None:
    laid = year(name)
    by_kind = sum(lane.hours.middle for lane in laid.lanes if lane.hours is not None)
    assert sum(laid.by_month) == pytest.approx(laid.hours.middle)
    assert by_kind == pytest.approx(laid.hours.middle)


def test_pulling_is_the_hours_set_aside_and_says_at_most() -> None:
    pull = next(lane for lane in year("dig by hand").lanes if lane.kind == "pull")
    assert pull.at_most
    assert pull.hours is not None
    assert pull.hours.high == pytest.approx(6.0 * len(pull.days))


def test_without_a_zone_it_is_the_first_that_the_programme_is_fit_for() -> None:
    assert year("whole", "").zone == made_up_ground().zones[0].name
    with pytest.raises(UnknownNameError):
        year("whole", "Nowhere")


def test_without_a_zone_or_a_whole_year_of_weather_it_is_not_enough_data() -> None:
    ground, sky = made_up_ground(), made_up_weather()
    for place, weather in (
        (ground, None),
        (ground, sky.between(date(2011, 2, 1), date(2011, 9, 1))),
        (replace(ground, zones=()), sky),
    ):
        with pytest.raises(NotEnoughDataError, match="a picture of a programme's year"):
            year_in(place, weather, programme("whole"))
