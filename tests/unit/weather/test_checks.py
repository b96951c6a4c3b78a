"""Questions put to odd weather: what was read, and the likely slip."""

from datetime import date

import numpy as np
import pytest

from swardbook.weather.checks import (
    check_weather,
    flag_odd,
    question_season,
    question_soil_reading,
    set_aside_impossible,
)
from swardbook.weather.joining import as_readings
from swardbook.weather.series import Flag, Values
from tests.support.arrays import weather


def plain(length: int = 20, warmth: float = 15.0) -> dict[str, Values]:
    wobble = np.sin(np.arange(length) * 1.7)
    return {"tmin": warmth - 5 + wobble, "tmax": warmth + 4 + wobble * 1.3}


def test_f25_rain_of_250_mm_asks_whether_a_point_slipped() -> None:
    rain = np.zeros(20)
    rain[6] = 250.0

    (found,) = check_weather(weather("2024-08-01", rain=rain, **plain()))

    assert found.read == "rain 250 mm"
    assert found.likely == "A record-breaking day, or 25.0?"
    assert found.day == date(2024, 8, 7)
    assert found.words.startswith("Wed 7 August 2024: rain 250 mm.")


def test_f26_soil_of_31_degrees_in_march_asks_whether_it_is_fahrenheit() -> None:
    found = question_soil_reading(31, date(2025, 3, 14), 52.0)

    assert found is not None
    assert found.likely == "31 °F is −0.6 °C; 31 °C is summer sand. Which?"
    assert question_soil_reading(9, date(2025, 3, 14), 52.0) is None


def test_f26_soil_of_25_degrees_is_odd_in_a_northern_march_and_not_in_a_southern_one() -> None:
    assert question_soil_reading(25, date(2025, 3, 14), 52.0) is not None
    assert question_soil_reading(25, date(2025, 3, 14), -37.8) is None


def test_f40_spring_in_march_is_asked_of_a_southern_place() -> None:
    found = question_season("spring", 3, -37.8)

    assert found is not None
    assert found.likely == "At your place March is autumn. Use autumn?"
    assert question_season("spring", 3, 52.0) is None
    assert question_season("Autumn", 3, -37.8) is None


@pytest.mark.parametrize(
    ("month", "north", "south"),
    [(1, "winter", "summer"), (4, "spring", "autumn"), (7, "summer", "winter"),
     (10, "autumn", "spring"), (12, "winter", "summer")],
)  # fmt: skip
def test_seasons_stand_half_a_year_apart(month: int, north: str, south: str) -> None:
    assert question_season(north, month, 52.0) is None
    assert question_season(south, month, -33.0) is None
    assert question_season(north, month, -33.0) is not None


def test_f40_a_warm_january_at_a_northern_latitude_asks_for_the_sign() -> None:
    number = np.arange(365)
    season = np.cos(2 * np.pi * number / 365) * 8
    southern = weather(
        "2023-01-01", 8 + season, 18 + season + np.sin(number), rain=2 + np.cos(number)
    )

    (found,) = check_weather(southern, 52.0)

    assert "warm from November to March" in found.read
    assert "South is negative" in found.likely
    assert check_weather(southern, -37.8) == ()


def test_impossible_weather_is_kept_as_missing_with_the_likely_slip() -> None:
    series = plain(5)
    series["tmax"][1], series["tmin"][2] = 86.0, -999.0
    rain = np.array([0, 0, 0, -3.0, 0])

    left, findings = set_aside_impossible(as_readings(weather("2024-06-01", rain=rain, **series)))

    assert np.isnan([left.tmax[1], left.tmin[2], left.rain[3]]).all()
    told = [finding.words for finding in findings]
    assert any("In °F it would be 30.0 °C" in words for words in told)
    assert any("stands for a missing value" in words for words in told)
    assert any("rain -3 mm" in words for words in told)
    assert np.isnan(left.tmax).sum() == np.isnan(left.tmin).sum() == 1


def test_a_minimum_above_its_maximum_is_swapped_and_said() -> None:
    series = plain(4)
    series["tmin"][2], series["tmax"][2] = 18.0, 9.0

    left, (found,) = set_aside_impossible(as_readings(weather("2024-06-01", **series)))

    assert (left.tmin[2], left.tmax[2]) == (9.0, 18.0)
    assert left.flags.tolist() == [0, 0, int(Flag.SWAPPED), 0]
    assert "minimum 18 above maximum 9" in found.read


def test_a_series_in_fahrenheit_is_asked_about() -> None:
    found = check_weather(weather("2024-06-01", np.full(20, 50.0), np.full(20, 68.0)))

    assert "Is the series in °F? Then that is 20 °C." in found[0].likely


def test_a_year_with_hardly_any_rain_asks_for_inches() -> None:
    rain = np.tile([0.1, 0, 0, 0.2, 0], 73)

    found = check_weather(weather("2023-01-01", rain=rain, **plain(365)))

    assert "inches" in found[0].likely


def test_a_year_without_any_rain_asks_whether_it_was_read_at_all() -> None:
    (found, *_) = check_weather(weather("2023-01-01", **plain(365)))

    assert found.likely == "Was it measured? 0 stands for none, an empty cell for not measured."


def test_a_jump_of_the_mean_is_asked_about_but_not_where_it_was_filled() -> None:
    series = plain()
    for each in series.values():
        each[10:] += 17

    jumped = weather("2024-06-01", **series)
    (found,) = check_weather(jumped)

    assert found.day == date(2024, 6, 11)
    filled = jumped.flags.copy()
    filled[10] = int(Flag.FILLED_TEMPERATURE)
    assert check_weather(weather("2024-06-01", **series)) == (found,)
    jumped.flags[:] = filled
    assert check_weather(jumped) == ()


def test_days_exactly_alike_are_one_finding_with_both_ends() -> None:
    series = plain()
    series["tmin"][3:9], series["tmax"][3:9] = 7.0, 16.0

    (found,) = check_weather(weather("2024-06-01", **series))

    assert (found.day, found.last) == (date(2024, 6, 4), date(2024, 6, 9))
    assert "6 days in a row" in found.read


def test_four_days_alike_are_left_alone() -> None:
    series = plain()
    series["tmin"][3:7], series["tmax"][3:7] = 7.0, 16.0

    assert check_weather(weather("2024-06-01", **series)) == ()


def test_more_sun_than_reaches_the_air_is_asked_about() -> None:
    found = check_weather(
        weather("2024-12-01", radiation=np.full(20, 12.0), **plain(warmth=6)), 55.0
    )

    assert len(found) == 20
    assert "Another unit or place?" in found[0].likely


def test_odd_days_carry_the_flag_and_no_others() -> None:
    rain = np.zeros(20)
    rain[6] = 250.0
    odd = weather("2024-08-01", rain=rain, **plain())

    flagged = flag_odd(odd, check_weather(odd))

    assert np.flatnonzero(flagged.flags).tolist() == [6]
    assert odd.flags.sum() == 0


def test_ordinary_weather_raises_no_question() -> None:
    assert check_weather(weather("2024-06-01", **plain(60)), 52.0) == ()
