"""Reference evapotranspiration, against two other programs."""

import numpy as np
import pandas as pd
import pyet
import pyfao56
import pytest

from swardbook.weather.evapotranspiration import hargreaves, reference_evapotranspiration
from swardbook.weather.humidity import actual_vapour_pressure
from swardbook.weather.series import Values
from swardbook.weather.sun import day_of_year, extraterrestrial_radiation
from tests.support.arrays import days

DAYS = np.arange(np.datetime64("2019-01-01"), np.datetime64("2021-01-01"))


class Series:
    """Two made-up years with everything measured."""

    def __init__(self, latitude: float) -> None:
        draw = np.random.default_rng(20)
        number = day_of_year(DAYS)
        turn = -1 if latitude < 0 else 1
        season = -np.cos(2 * np.pi * (number - 20) / 365) * turn
        self.latitude = latitude
        self.tmin: Values = 5 + 7 * season + draw.normal(0, 3, len(DAYS))
        self.tmax: Values = self.tmin + draw.uniform(0.5, 15, len(DAYS))
        self.top = extraterrestrial_radiation(number, latitude)
        self.sun: Values = self.top * draw.uniform(0.1, 0.75, len(DAYS))
        self.wind: Values = draw.uniform(0.3, 7, len(DAYS))
        self.pressure = actual_vapour_pressure(
            self.tmin, self.tmax, mean_humidity=draw.uniform(40, 100, len(DAYS))
        )

    def ours(self, elevation_m: float) -> Values:
        return reference_evapotranspiration(
            self.tmin, self.tmax, vapour_pressure=self.pressure, radiation=self.sun,
            extraterrestrial=self.top, wind=self.wind, elevation_m=elevation_m,
        )  # fmt: skip

    def panda(self, values: Values) -> pd.Series:
        return pd.Series(values, index=pd.DatetimeIndex(DAYS))


@pytest.mark.parametrize(
    ("latitude", "elevation_m"), [(52.2, 15.0), (-37.8, 30.0), (-20.0, 900.0), (64.0, 100.0)]
)
def test_penman_monteith_agrees_with_pyet(latitude: float, elevation_m: float) -> None:
    series = Series(latitude)

    theirs = pyet.pm_fao56(
        tmean=series.panda((series.tmin + series.tmax) / 2), wind=series.panda(series.wind),
        rs=series.panda(series.sun), tmax=series.panda(series.tmax),
        tmin=series.panda(series.tmin), ea=series.panda(series.pressure), elevation=elevation_m,
        lat=np.radians(latitude),
    )  # fmt: skip

    assert series.ours(elevation_m) == pytest.approx(theirs.to_numpy(), abs=1e-6)
    assert series.ours(elevation_m).max() > 3


@pytest.mark.parametrize(
    ("latitude", "elevation_m"), [(52.2, 15.0), (57.5, 300.0), (38.0, 900.0), (20.0, 5.0)]
)
def test_penman_monteith_agrees_with_pyfao56(latitude: float, elevation_m: float) -> None:
    """The standardised equation there has constants rounded another way: a hundredth of a mm."""
    series = Series(latitude)

    theirs = [
        pyfao56.refet.ascedaily(
            "S", elevation_m, latitude, float(doy), sun, high, low, vapr=ea, wndsp=wind
        )
        for doy, sun, high, low, ea, wind in zip(
            day_of_year(DAYS), series.sun, series.tmax, series.tmin, series.pressure, series.wind,
            strict=True,
        )
    ]  # fmt: skip

    assert series.ours(elevation_m) == pytest.approx(np.maximum(theirs, 0.0), abs=0.012)


@pytest.mark.parametrize("latitude", [52.2, -37.8, 13.7])
def test_hargreaves_agrees_with_pyet_but_for_the_heat_of_vaporisation(latitude: float) -> None:
    """pyet lets it fall with temperature; FAO-56 holds it, which is up to 0.06 mm a day."""
    series = Series(latitude)

    theirs = pyet.hargreaves(
        series.panda((series.tmin + series.tmax) / 2), series.panda(series.tmax),
        series.panda(series.tmin), lat=np.radians(latitude),
    )  # fmt: skip
    ours = hargreaves(series.tmin, series.tmax, series.top)

    assert ours == pytest.approx(theirs.to_numpy(), abs=0.06)


def test_polar_night_gives_a_small_number_and_no_error() -> None:
    found = reference_evapotranspiration(
        days(-20.0), days(-10.0), vapour_pressure=days(0.1), radiation=days(0.0),
        extraterrestrial=days(0.0), wind=days(2.0), elevation_m=10.0,
    )  # fmt: skip

    assert 0 <= found[0] < 0.5
