"""Daily weather as a service answers: ``daily.time`` beside lists of the same length, in JSON."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from urllib.parse import quote

from swardbook.feeds.station_columns import read_heading
from swardbook.feeds.station_csv import StationReadings, parse_readings
from swardbook.feeds.station_values import read_dates
from swardbook.foundation.errors import BadInputError
from swardbook.weather.readings import Finding

SHAPE = (
    "JSON with daily.time, lists of the same length for lowest and highest temperature and rain,"
    " and daily_units"
)
MOST_DAYS, MOST_MEMBERS = 1500, 100
_MEMBER = re.compile(r"(.+)_member_?(\d{1,3})")
_BLANK = re.compile(r"\{([a-z]*)\}")
_NEEDED = ("tmin", "tmax", "rain")
_HOURS_OFF = 3.5
"""Hours between the clock a day is cut by and the sun above which it is asked about."""

_NO_WEATHER = 1e9

Blanks = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ServiceDays:
    """What a service told.

    Parameters
    ----------
    station : StationReadings
        The days, one course alone: that of the service, or the first of several.
    members : tuple of StationReadings
        All courses, where it told several.
    """

    station: StationReadings
    members: tuple[StationReadings, ...] = ()


def fill_address(pattern: str, said: Blanks) -> str:
    """Write the address to ask, with what stands in its braces.

    Parameters
    ----------
    pattern : str
        The address as it was set, such as ``https://example.org/daily?lat={latitude}``.
    said : mapping of str to str
        What stands for each word in braces; empty where it is not known.

    Raises
    ------
    BadInputError
        If a word in braces is none of these, or is not known.
    """
    for word in _BLANK.findall(pattern):
        if word not in said:
            raise BadInputError(
                "SWARDBOOK_WEATHER_ADDRESS", f"{{{word}}}",
                ", ".join(f"{{{each}}}" for each in said),
            )  # fmt: skip
        if not said[word]:
            raise BadInputError(f"{{{word}}} in the weather service's address", "nothing",
                                "a value: " + _MISSING.get(word, "it is needed"))  # fmt: skip
    return _BLANK.sub(lambda found: quote(said[found[1]], safe=""), pattern)


_MISSING = {
    "longitude": "set it once with `swardbook plan globe LATITUDE LONGITUDE`",
    "key": "set SWARDBOOK_WEATHER_KEY",
}


def read_service(body: bytes, longitude: float | None = None) -> ServiceDays:
    """Read what a service answered.

    Parameters
    ----------
    body : bytes
        The answer.
    longitude : float or None
        Of the site; with it the clock that days are cut by is asked about. [°]

    Raises
    ------
    BadInputError
        If it has another shape, or a unit is none that is known.
    """
    answer = _object(body)
    daily, units = answer.get("daily"), answer.get("daily_units", {})
    if not isinstance(daily, dict) or not isinstance(units, dict):
        raise _odd(f"an object with {', '.join(map(str, list(answer)[:8])) or 'nothing in it'}")
    times = _times(daily.get("time"))
    plain, courses = _series(daily, units, len(times))
    if not plain and not courses:
        raise _odd(f"daily with {', '.join(map(str, list(daily)[:12]))}", "Which series are there?")
    numbers = sorted(courses)[:MOST_MEMBERS]
    members = tuple(_readings(times, {**plain, **courses[each]}) for each in numbers)
    has_own = {"tmin", "tmax", "rain"} <= set(plain)
    station = _readings(times, plain) if has_own or not members else members[0]
    asked = _clock_asked(answer.get("utc_offset_seconds"), longitude)
    return ServiceDays(replace(station, findings=(*station.findings, *asked)), members)


def _object(body: bytes) -> dict[str, Any]:
    try:
        text = body.decode("utf-8-sig")
        answer = json.loads(text, parse_constant=lambda _: None)
    except (ValueError, RecursionError):
        begins = body[:40].decode("utf-8", "replace")
        raise _odd(begins or "an empty answer", "Is it a page for people?") from None
    if not isinstance(answer, dict):
        raise _odd(type(answer).__name__)
    if answer.get("error") is True or ("reason" in answer and "daily" not in answer):
        raise _odd(f"a refusal: {str(answer.get('reason', 'no reason given'))[:200]}")
    return answer


def _times(told: Any) -> list[str]:
    if not isinstance(told, list) or not told or not all(isinstance(each, str) for each in told):
        raise _odd("daily.time that is no list of days")
    if len(told) > MOST_DAYS:
        raise _odd(f"{len(told):,} days", f"At most {MOST_DAYS:,} at a time.")
    days = read_dates(told, "daily.time").days
    if bad := next((text for text, day in zip(told, days, strict=True) if day is None), None):
        raise _odd(f"the day {bad!r}", "Days are written 2024-03-14.")
    if len({each[:10] for each in told}) * 3 < len(told):
        raise _odd("several rows for each day", "Ask it for daily values.")
    return [day.isoformat() for day in days if isinstance(day, date)]


Named = dict[str, tuple[str, list[Any]]]
"""Heading and values, by quantity."""


def _series(daily: Mapping[str, Any], units: Mapping[str, Any], days: int
            ) -> tuple[Named, dict[int, Named]]:  # fmt: skip
    plain: Named = {}
    courses: dict[int, Named] = {}
    for name, values in sorted(daily.items(), key=lambda each: not each[0].startswith("prec")):
        if name == "time":
            continue
        member = _MEMBER.fullmatch(name)
        bare = member[1] if member else name
        unit = str(units.get(name, units.get(bare, "")) or "")
        column = read_heading(f"{bare} ({unit})" if unit else bare, 0)
        if column is None or column.quantity not in {*_NEEDED, "radiation", "humidity", "wind"}:
            continue
        if not isinstance(values, list) or len(values) != days:
            count = len(values) if isinstance(values, list) else 0
            raise _odd(f"{name} with {count} values beside {days} days")
        if not column.unit:
            raise _odd(f"{name} in {unit!r}" if unit else f"{name} without a unit in daily_units",
                       "°C or °F, mm or inch, MJ/m², %, m/s, km/h, mph or kn.")  # fmt: skip
        held = courses.setdefault(int(member[2]), {}) if member else plain
        height = f"_{column.height_m:g}m" if column.height_m else ""
        head = f"{column.quantity}{height} ({column.unit})"
        held.setdefault(column.quantity, (head, values))
    return plain, courses


def _readings(times: list[str], series: Named) -> StationReadings:
    missing = [each for each in _NEEDED if each not in series]
    if missing:
        words = {"tmin": "lowest temperature", "tmax": "highest temperature", "rain": "rain"}
        raise _odd(f"daily without {', '.join(words[each] for each in missing)}")
    heads = [head for head, _values in series.values()]
    rows = [
        ";".join([day, *(_cell(values[at]) for _head, values in series.values())])
        for at, day in enumerate(times)
    ]
    text = "\n".join([";".join(["date", *heads]), *rows])
    return parse_readings(text, "the service's answer")


def _cell(told: Any) -> str:
    if told is None or isinstance(told, bool):
        return ""
    if isinstance(told, int | float):
        return repr(float(told)) if abs(told) < _NO_WEATHER else ""
    raise _odd(f"{str(told)[:40]!r} where a number should be")


def _clock_asked(told: Any, longitude: float | None) -> tuple[Finding, ...]:
    if told is None:
        return ()
    if isinstance(told, bool) or not isinstance(told, int | float) or not abs(told) <= 14 * 3600:
        raise _odd(f"utc_offset_seconds of {str(told)[:20]}")
    if longitude is None or abs((told / 3600 - longitude / 15 + 12) % 24 - 12) <= _HOURS_OFF:
        return ()
    return (
        Finding(
            f"days cut by a clock {told / 3600:+g} h from UTC",
            "That is far from the sun's time at the site. Ask the service for local days.",
        ),
    )


def _odd(read: str, hint: str = "") -> BadInputError:
    return BadInputError("the service's answer", read, SHAPE, hint)
