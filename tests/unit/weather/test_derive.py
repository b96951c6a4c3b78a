"""Everything that follows from a place's weather, and real county series as an outside check."""

from datetime import date
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from swardbook.feeds.station_csv import parse_station
from swardbook.foundation.errors import OutOfRangeError
from swardbook.weather.derive import compare_with_given, derive
from swardbook.weather.months import dry_spell, summarise_months
from swardbook.weather.series import DailyWeather
from swardbook.weather.thermal import Method, degree_days
from tests.support.arrays import weather

NORTHUMBERLAND = Path(__file__).parents[2] / "data" / "northumberland_3y.csv"


@pytest.fixture(scope="module")
def cambridge() -> DailyWeather:
    text = (files("swardbook.demo") / "data" / "cambridge.csv").read_text(encoding="utf-8")
    return parse_station(text, "cambridge.csv", latitude=52.2).weather


def year_of(number: int) -> DailyWeather:
    lines = NORTHUMBERLAND.read_text(encoding="utf-8").splitlines()
    kept = [lines[0], *(line for line in lines if line.startswith(str(number)))]
    return parse_station("\n".join(kept), latitude=55.2).weather


@pytest.mark.parametrize(
    ("year", "rain", "above_0", "above_5", "frosts", "driest"),
    [
        (1995, 713.22, 3101.09, 1563.865, 56, 21),
        (2018, 825.04, 3158.155, 1597.965, 41, 18),
        (2012, 1101.09, 2931.525, 1322.74, 38, 16),
    ],
)
def test_three_years_of_northumberland_give_the_known_sums(
    year: int, rain: float, above_0: float, above_5: float, frosts: int, driest: int
) -> None:
    found = year_of(year)

    def warmth(base: float) -> float:
        days = degree_days(found.tmin, found.tmax, base=base, method=Method.AVERAGE)
        return float(days.sum())

    assert found.rain.sum() == pytest.approx(rain, abs=0.005)
    assert warmth(0) == pytest.approx(above_0, abs=0.005)
    assert warmth(5) == pytest.approx(above_5, abs=0.005)
    assert (found.tmin < 0).sum() == frosts
    assert dry_spell(found.rain) == driest
    assert sum(month.frosts for month in summarise_months(found)) == frosts


def test_evapotranspiration_follows_the_series_shipped_with_it_and_runs_below(
    cambridge: DailyWeather,
) -> None:
    """An outside check, not a truth: how the shipped series was made is not known.

    From temperature alone ours follows it from day to day (correlation 0.95), and is 18 % less in
    sum over the 31 years. The bounds say that, no more.
    """
    derived = derive(cambridge, 52.2, 15.0)
    assert cambridge.et0_given is not None

    together = np.corrcoef(derived.et0, cambridge.et0_given)[0, 1]
    ratio = derived.et0.sum() / cambridge.et0_given.sum()

    assert 0.93 < together < 0.97
    assert 0.78 < ratio < 0.86
    beside = compare_with_given(cambridge, derived)
    assert beside is not None
    assert "0.82" in beside.read


def test_every_fallback_that_was_used_is_said(cambridge: DailyWeather) -> None:
    notes = " ".join(derive(cambridge, 52.2, 15.0).notes)

    for words in ("No radiation on any day", "No humidity on any day", "2 m/s", "single-sine",
                  "right to about 2 °C", "refraction"):  # fmt: skip
        assert words in notes


def test_measured_series_are_used_where_there_are_any_and_the_rest_falls_back() -> None:
    low, high, wind = np.full(4, 8.0), np.full(4, 18.0), np.array([6.0, np.nan, 2.0, 0.5])
    found = derive(weather("2024-06-01", low, high, wind=wind, humidity=np.full(4, 60.0)), 52, 10)

    assert found.et0[0] > found.et0[1] > found.et0[3]
    assert found.et0[1] == pytest.approx(found.et0[2], rel=0.01)
    assert "No wind on 1 of 4 days" in " ".join(found.notes)
    assert np.isfinite(found.leaf_wet_hours).all()


def test_without_humidity_leaf_wetness_is_not_known() -> None:
    found = derive(weather("2024-06-01", np.full(4, 8.0), np.full(4, 18.0)), 52, 10)

    assert np.isnan(found.leaf_wet_hours).all()


def test_the_south_has_its_high_evapotranspiration_in_january() -> None:
    july = derive(weather("2024-07-01", np.full(5, 10.0), np.full(5, 20.0)), -37.8, 30)
    january = derive(weather("2024-01-01", np.full(5, 10.0), np.full(5, 20.0)), -37.8, 30)

    assert january.et0.sum() > 2 * july.et0.sum()
    assert january.daylength[0] > 14


def test_later_days_change_nothing_before_them(cambridge: DailyWeather) -> None:
    whole = derive(cambridge, 52.2, 15.0)
    part = derive(cambridge.until(date(1995, 6, 30)), 52.2, 15.0)

    for name in ("et0", "degree_days", "soil_temperature_5cm", "soil_temperature_10cm"):
        assert getattr(whole, name)[: len(part)].tolist() == getattr(part, name).tolist()


@pytest.mark.parametrize(("latitude", "elevation"), [(95.0, 10.0), (52.0, 20_000.0)])
def test_a_place_that_is_none_is_refused(latitude: float, elevation: float) -> None:
    with pytest.raises(OutOfRangeError):
        derive(weather("2024-06-01", np.full(4, 8.0), np.full(4, 18.0)), latitude, elevation)


def test_months_add_up_to_the_whole(cambridge: DailyWeather) -> None:
    derived = derive(cambridge, 52.2, 15.0)

    months = summarise_months(cambridge, derived)

    assert len(months) == 31 * 12
    assert sum(month.days for month in months) == len(cambridge)
    assert sum(month.rain for month in months) == pytest.approx(cambridge.rain.sum())
    assert sum(month.et0 or 0 for month in months) == pytest.approx(derived.et0.sum())
    assert months[0].first == date(1991, 1, 1)
