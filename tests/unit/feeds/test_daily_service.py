import json
import math
from datetime import date
from typing import Any

import numpy as np
import pytest

from swardbook.feeds.daily_service import fill_address, read_service
from swardbook.foundation.errors import BadInputError
from tests.support.weather_service import UNITS, as_bytes, days_told

FIRST = date(2011, 10, 1)


def test_the_usual_shape_is_read() -> None:
    told = read_service(as_bytes(days_told(FIRST, 9)))
    readings = told.station.readings
    assert (readings.day(0), len(readings.days), told.members) == (FIRST, 9, ())
    assert readings.tmin[:4].tolist() == [5, 6, 7, 5]
    assert readings.tmax[:4].tolist() == [14, 15, 16, 17]
    assert readings.rain[:6].tolist() == [4, 0, 0, 0, 0, 4]


def test_units_are_turned_into_those_used_inside() -> None:
    units = dict(UNITS) | {
        "temperature_2m_min": "°F", "temperature_2m_max": "°F", "precipitation_sum": "inch",
        "wind_speed_10m_mean": "km/h", "shortwave_radiation_sum": "MJ/m²",
        "relative_humidity_2m_mean": "%",
    }  # fmt: skip
    more: dict[str, Any] = {
        "temperature_2m_min": [32.0], "temperature_2m_max": [50.0], "precipitation_sum": [1.0],
        "wind_speed_10m_mean": [36.0], "shortwave_radiation_sum": [12.5],
        "relative_humidity_2m_mean": [80],
    }  # fmt: skip
    found = read_service(as_bytes(days_told(FIRST, 1, units=units, **more))).station.readings
    assert (found.tmin[0], found.tmax[0], found.rain[0]) == pytest.approx((0, 10, 25.4))
    assert found.radiation is not None
    assert found.humidity is not None
    assert found.wind is not None
    assert (found.radiation[0], found.humidity[0]) == (12.5, 80)
    assert found.wind[0] == pytest.approx(10 * 4.87 / math.log(67.8 * 10 - 5.42))  # FAO-56 eq. 47


def test_what_is_null_or_no_number_is_missing_and_the_rest_is_kept() -> None:
    body = as_bytes(days_told(FIRST, 3)).replace(b"5.0, 6.0, 7.0", b"null, NaN, 1e400")
    found = read_service(body).station.readings
    assert np.isnan(found.tmin).all()
    assert found.tmax.tolist() == [14, 15, 16]


def test_a_day_told_twice_is_asked_about_and_kept_once() -> None:
    times = ["2011-10-01", "2011-10-02", "2011-10-02"]
    told = read_service(as_bytes(days_told(FIRST, 3, time=times)))
    assert len(told.station.readings.days) == 2
    assert any("twice" in each.read for each in told.station.findings)


def test_each_course_of_several_is_read() -> None:
    told = read_service(as_bytes(days_told(FIRST, 4, courses=3)))
    assert [each.readings.tmin[0] for each in told.members] == pytest.approx([5.1, 5.2, 5.3])
    assert told.station.readings.tmin[0] == 5.0


def test_several_courses_without_one_of_the_services_own_are_read() -> None:
    answer = days_told(FIRST, 4, courses=2)
    for name in list(UNITS)[1:]:
        del answer["daily"][name]
    told = read_service(as_bytes(answer))
    assert len(told.members) == 2
    assert told.station.readings.tmin[0] == pytest.approx(5.1)


def test_days_cut_by_a_far_clock_are_asked_about() -> None:
    answer = days_told(FIRST, 4) | {"utc_offset_seconds": 36000}
    assert not read_service(as_bytes(answer), longitude=150.0).station.findings
    [asked] = read_service(as_bytes(answer), longitude=0.1).station.findings
    assert "+10 h" in asked.read
    west = days_told(FIRST, 4) | {"utc_offset_seconds": 43200}  # on the other side of the line
    assert not read_service(as_bytes(west), longitude=-178.0).station.findings


def changed(**daily: Any) -> bytes:
    return as_bytes(days_told(FIRST, 3, **daily))


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        (b"", "an empty answer"),
        (b"<html><body>Sign in</body></html>", "page for people"),
        (b"\xff\xfe\x00", "JSON"),
        (b"[1, 2]", "list"),
        (b"{}", "nothing in it"),
        (b"[" * 100_000, "JSON"),
        (json.dumps({"error": True, "reason": "Daily limit exceeded"}).encode(), "Daily limit"),
        (json.dumps({"daily": [], "daily_units": {}}).encode(), "daily"),
        (json.dumps({"daily": {"time": []}, "daily_units": {}}).encode(), "daily.time"),
        (changed(time=[1, 2, 3]), "daily.time"),
        (changed(time=["2011-10-01", "soon", "2011-10-03"]), "the day 'soon'"),
        (changed(time=[f"2011-10-01T{each:02d}:00" for each in range(9)]), "rows for each day"),
        (changed(temperature_2m_min=[1.0, 2.0]), "2 values beside 3 days"),
        (changed(temperature_2m_min="warm"), "0 values beside 3 days"),
        (changed(temperature_2m_min=["a", 1, 2]), "where a number should be"),
        (changed(temperature_2m_min=[[1], 1, 2]), "where a number should be"),
        (as_bytes(days_told(FIRST, 3, units={})), "without a unit"),
        (as_bytes(days_told(FIRST, 3, units=dict(UNITS) | {"precipitation_sum": "furlong"})),
         "furlong"),
        (as_bytes(days_told(FIRST, 2000)), "2,000 days"),
        (as_bytes(days_told(FIRST, 3) | {"utc_offset_seconds": 1e9}), "utc_offset_seconds"),
        (as_bytes(days_told(FIRST, 3) | {"utc_offset_seconds": "x"}), "utc_offset_seconds"),
        (json.dumps({"daily": {"time": ["2011-10-01"], "snow_depth": [1]}}).encode(), "snow_depth"),
    ],
    ids=range(22),
)  # fmt: skip
def test_an_odd_answer_is_refused_in_words(body: bytes, reason: str) -> None:
    with pytest.raises(BadInputError, match=reason):
        read_service(body)


def test_a_service_without_rain_says_so() -> None:
    answer = days_told(FIRST, 3)
    del answer["daily"]["precipitation_sum"]
    with pytest.raises(BadInputError, match="without rain"):
        read_service(as_bytes(answer))


def test_what_goes_into_the_address_can_change_nothing_else_of_it() -> None:
    pattern = "https://example.org/d?lat={latitude}&key={key}"
    filled = fill_address(pattern, {"latitude": "52.1", "key": "a&b=c/../?#"})
    assert filled == "https://example.org/d?lat=52.1&key=a%26b%3Dc%2F..%2F%3F%23"


@pytest.mark.parametrize(
    ("pattern", "reason"), [("https://example.org/{place}", "place"), ("https://e/{key}", "KEY")]
)
def test_an_address_that_asks_for_more_than_is_known_is_refused(pattern: str, reason: str) -> None:
    with pytest.raises(BadInputError, match=reason):
        fill_address(pattern, {"latitude": "52.1", "key": ""})
