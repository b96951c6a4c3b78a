"""Sun."""

import numpy as np
import pandas as pd
import pvlib
import pyet
import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.weather.sun import (
    clear_sky_radiation,
    day_length,
    day_of_year,
    extraterrestrial_radiation,
    light_sum,
    radiation_from_temperature,
)
from tests.support.arrays import days, scalar

YEAR = np.arange(np.datetime64("2016-01-01"), np.datetime64("2017-01-01"))


@pytest.mark.parametrize("latitude", [-55.0, -33.9, 0.0, 13.73, 51.5, 55.95, 65.0])
def test_agrees_with_pyet_on_every_day_of_a_leap_year(latitude: float) -> None:
    index = pd.DatetimeIndex(YEAR)
    number = day_of_year(YEAR)

    theirs = pyet.extraterrestrial_r(index, np.radians(latitude))
    hours = pyet.daylight_hours(index, np.radians(latitude))

    assert extraterrestrial_radiation(number, latitude) == pytest.approx(theirs.values, abs=1e-6)
    assert day_length(number, latitude) == pytest.approx(np.asarray(hours), abs=1e-9)


@pytest.mark.parametrize("latitude", [-41.3, 0.5, 38.0, 52.2, 55.2])
def test_day_length_agrees_with_the_geometric_sunrise_of_pvlib(latitude: float) -> None:
    number, sun = day_of_year(YEAR), pvlib.solarposition
    noon = pd.DatetimeIndex(YEAR + np.timedelta64(12, "h"), tz="UTC")
    # The simple tilt of the sun that both know; a finer one moves an autumn day by a quarter hour.
    for tilt, within in ((sun.declination_cooper69, 0.04), (sun.declination_spencer71, 0.3)):
        told = sun.sun_rise_set_transit_geometric(noon, latitude, 0.0, tilt(number), 0.0 * number)
        hours = (pd.DatetimeIndex(told[1]) - pd.DatetimeIndex(told[0])) / pd.Timedelta(hours=1)
        assert day_length(number, latitude) == pytest.approx(np.asarray(hours), abs=within)


@pytest.mark.parametrize("latitude", [-41.3, 38.0, 52.2])
def test_radiation_outside_the_air_agrees_with_pvlib_summed_over_the_day(latitude: float) -> None:
    dates = YEAR[::30]
    numbers = day_of_year(dates)
    ours = extraterrestrial_radiation(numbers, latitude)
    for date, number, found in zip(dates, numbers, ours, strict=True):
        times = pd.date_range(pd.Timestamp(date, tz="UTC"), periods=144, freq="10min")
        where = pvlib.solarposition.get_solarposition(times, latitude, 0.0)
        height = np.cos(np.radians(where["zenith"].to_numpy())).clip(min=0)
        top = pvlib.irradiance.get_extra_radiation(int(number)) * height
        # The simple tilt of the sun again: worst in October, and worst far north.
        assert found == pytest.approx(float(top.sum()) * 600 / 1e6, rel=0.07, abs=0.4)


# latitude; hours an almanac's day is longer at least and at most; how low radiation may be [%]
ALMANAC = [(-41.3, -0.01, 0.20, 0.5), (0.5, 0.10, 0.14, 0.6), (38.0, 0.14, 0.30, 4),
           (49.9, 0.18, 0.40, 6), (52.2, 0.20, 0.43, 7), (55.9, 0.22, 0.49, 8),
           (58.7, 0.25, 0.54, 10)]  # fmt: skip


@pytest.mark.parametrize(("latitude", "least", "most", "low"), ALMANAC)
def test_every_day_of_a_year_is_as_near_the_almanac_as_its_text_says(
    latitude: float, least: float, most: float, low: float
) -> None:
    """Judged by the solar position algorithm: refraction is in it, and a finer tilt of the sun."""
    number, sun = day_of_year(YEAR), pvlib.solarposition
    told = sun.sun_rise_set_transit_spa(pd.DatetimeIndex(YEAR, tz="UTC"), latitude, 0.0)
    hours = (told["sunset"] - told["sunrise"]).dt.total_seconds().to_numpy() / 3600
    longer = hours - day_length(number, latitude)
    assert least < longer.min()
    assert longer.max() < most

    times = pd.date_range("2016-01-01", periods=366 * 48, freq="30min", tz="UTC")
    zenith = sun.spa_python(times, latitude, 0.0)["zenith"].to_numpy()
    top = np.array([pvlib.irradiance.get_extra_radiation(int(day)) for day in number])
    whole = np.cos(np.radians(zenith)).clip(min=0).reshape(366, 48).sum(axis=1) * top * 1800 / 1e6
    ours = extraterrestrial_radiation(number, latitude)
    assert (ours > whole * (1 - low / 100)).all()
    assert (ours < whole * 1.035).all()
    assert (ours > whole - 1.05).all()


def test_a_clear_summer_day_has_about_the_sun_that_haurwitz_gives() -> None:
    date = np.array(["2016-06-21"], dtype="datetime64[D]")
    ours = clear_sky_radiation(extraterrestrial_radiation(day_of_year(date), 52.2), 15.0)[0]
    times = pd.date_range("2016-06-21", periods=144, freq="10min", tz="UTC")
    where = pvlib.solarposition.get_solarposition(times, 52.2, 0.0)
    clear = pvlib.clearsky.haurwitz(where["apparent_zenith"])["ghi"].to_numpy()
    assert ours == pytest.approx(float(clear.sum()) * 600 / 1e6, rel=0.08)


def test_days_are_numbered_from_one_to_366() -> None:
    assert day_of_year(YEAR).tolist() == list(range(1, 367))


def test_polar_night_and_midnight_sun_are_no_accident() -> None:
    dark, light = days(355), days(172)

    assert day_length(dark, 80).tolist() == [0.0]
    assert day_length(light, 80).tolist() == [24.0]
    assert extraterrestrial_radiation(dark, 80).tolist() == [0.0]


def test_the_south_has_its_long_days_in_december() -> None:
    assert day_length(days(355), -37.8)[0] > 14
    assert day_length(days(172), -37.8)[0] < 10


def test_radiation_from_temperature_never_passes_the_share_of_a_clear_day() -> None:
    found = radiation_from_temperature(days(-10.0), days(30.0), days(40.0))

    assert found.tolist() == [30.0]


def test_a_coast_lets_the_same_range_stand_for_more_sun() -> None:
    inland = radiation_from_temperature(days(10.0), days(14.0), days(40.0))
    coast = radiation_from_temperature(days(10.0), days(14.0), days(40.0), coastal=True)

    assert coast[0] > inland[0]


def test_light_for_leaves_is_about_two_moles_a_megajoule() -> None:
    assert scalar(light_sum, 20.0) == pytest.approx(41.13, abs=0.01)
    assert scalar(light_sum, 2.0) == pytest.approx(4.1, abs=0.05)


@pytest.mark.parametrize("latitude", [90.1, -91.0, float("nan")])
def test_refuses_a_latitude_that_is_none(latitude: float) -> None:
    with pytest.raises(OutOfRangeError, match="South is negative"):
        day_length(days(1), latitude)
