"""Thirty-one years of each county series run without a fault, whatever the programme."""

from datetime import date, timedelta

import numpy as np
import pytest
from tools.county_series import COUNTIES, County, text_of

from swardbook.feeds.station_csv import parse_station
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.ground import Tolerance, Use, Zone
from swardbook.model.ahead import weekly_growth
from swardbook.model.carrying import operations_of
from swardbook.model.drivers import drivers_from
from swardbook.model.ensemble import CLOSES_TO, run
from swardbook.model.programmes import expand, programmes
from swardbook.model.rows import flatten, rows_of
from swardbook.model.start import Start
from swardbook.model.state import SwardState
from tests.support.model import ensemble, kernel

FIRST, LAST, DAYS = date(1991, 1, 1), date(2021, 12, 31), 11_323
LAWN = Start(
    bare=0.05, weeds={"annual_meadow_grass": 0.2, "yorkshire_fog": 0.01}, spread=1.2,
    height_mm=25, cut_height_mm=25, soil_c=4,
)  # fmt: skip
ZONE = Zone("A lawn", 200.0, Use.FAMILY_LAWN, Tolerance(0.1, 0.05, 0), 25.0)
DRAWS = 64
SHARES = {"bare", "sown", "sown_a", "sown_b", "sown_c", "sown_d", "yorkshire_fog"}
SHARES |= {"annual_meadow_grass", "stress"}


@pytest.mark.parametrize("county", COUNTIES, ids=lambda each: each.name)
def test_each_series_has_every_day_of_thirty_one_years(county: County) -> None:
    weather = county.weather()
    assert (weather.first, weather.last, len(weather)) == (FIRST, LAST, DAYS)
    for series in (weather.tmin, weather.tmax, weather.rain, weather.et0_given):
        assert series is not None
        assert np.isfinite(series).all()
    assert (weather.tmin <= weather.tmax).all()
    assert (weather.rain >= 0).all()


@pytest.mark.parametrize("plan", list(programmes()))
@pytest.mark.parametrize("county", COUNTIES, ids=lambda each: each.name)
def test_thirty_one_years_of_a_programme_run_without_a_fault(county: County, plan: str) -> None:
    weather = county.weather()
    drivers = drivers_from(weather, county.latitude, county.elevation_m, FIRST, LAST)
    days = [FIRST + timedelta(days=n) for n in range(DAYS)]
    growth = weekly_growth(weather)
    jobs = expand(programmes()[plan], ZONE, days, growth, county.latitude, "annual meadow-grass")
    state, parameters = ensemble(DRAWS, LAWN)
    # A balance that does not close, or a state that is no number, stops the run.
    outcome = run(
        state,
        parameters,
        drivers,
        operations_of(ZONE, jobs, FIRST, DAYS),
        kernel=kernel(),
        every=30,
    )
    assert max(outcome.worst) < CLOSES_TO
    for name, seen in outcome.outputs.items():
        assert seen.shape == (-(-DAYS // 30), DRAWS)
        if name not in {"soil_temperature"}:
            assert seen.min() >= -1e-6, name
        if name in SHARES:
            assert seen.max() <= 1 + 1e-5, name
    for row, final in zip(rows_of(SwardState), flatten(outcome.final), strict=True):
        assert np.isfinite(final).all(), row.name
        if row.name != "zone.soil_temperature":
            assert np.min(final) >= -1e-6, row.name
    assert np.ptp(outcome.outputs["annual_meadow_grass"][-1]) > 0.01


@pytest.mark.parametrize(
    ("first", "last", "missing"),
    [
        (date(1990, 1, 1), date(1992, 12, 31), "Mon 1 January 1990 to Mon 31 December 1990."),
        (date(2021, 1, 1), date(2022, 12, 31), "Sat 1 January 2022 to Sat 31 December 2022."),
        (date(1990, 12, 31), date(2022, 1, 1), "Mon 31 December 1990 and Sat 1 January 2022."),
        (date(2030, 1, 1), date(2030, 12, 31), "Tue 1 January 2030 to Tue 31 December 2030."),
    ],
)
def test_a_missing_weather_year_says_which_days(first: date, last: date, missing: str) -> None:
    county = COUNTIES[0]
    with pytest.raises(NotEnoughDataError, match=f"missing are {missing}"):
        drivers_from(county.weather(), county.latitude, county.elevation_m, first, last)


def test_a_year_missing_inside_a_file_is_named_by_whoever_needs_it() -> None:
    county = COUNTIES[1]
    lines = text_of("lincolnshire").splitlines()
    kept = [line for line in lines if not line.startswith("2003")]
    taken = parse_station("\n".join(kept), latitude=county.latitude)
    with pytest.raises(NotEnoughDataError, match="1 January 2003 to Wed 31 December 2003"):
        drivers_from(
            taken.weather, county.latitude, county.elevation_m, date(2002, 6, 1), date(2004, 6, 1)
        )
