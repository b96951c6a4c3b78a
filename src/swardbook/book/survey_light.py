"""Shade of a zone: hours of sun as seen, and the light they leave, month by month."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.book.opening import Book
from swardbook.book.survey_facts import SHADE, SurveyFact
from swardbook.foundation.dates import season_day
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.husbandry.shade import (
    Glance,
    Sunny,
    light_here,
    sunny_from_glances,
    sunny_from_hours,
    usual_open_light,
)
from swardbook.weather.derive import derive
from swardbook.weather.series import Values
from swardbook.weather.stretches import whole_stretches
from swardbook.weather.sun import day_of_year

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip
SEASONS = ("winter", "spring", "summer", "autumn")
_STARTS = (60, 152, 244, 335)
"""Season days on which spring, summer, autumn and winter begin (1 March, 1 June ...)."""
_NEAR_DAYS = 15
_WORDS = {"sun": True, "sunny": True, "lit": True, "shade": False, "shady": False, "dark": False}


@dataclass(frozen=True, slots=True)
class LightRow:
    """One day looked at, and the light it has there.

    Parameters
    ----------
    day : date
        The day the look stands for.
    season : str
        Its season.
    sunny : Sunny
        The sun that reaches the place.
    open_light : float
        Light in the open at that time of year. [mol m⁻² d⁻¹]
    here, low, high : float
        Light left, and its range. [mol m⁻² d⁻¹]
    word : str
        What that means for grass.
    """

    day: date
    season: str
    sunny: Sunny
    open_light: float
    here: float
    low: float
    high: float
    word: str


def survey_shade(
    book: Book, *, seen: Sequence[str] = (), hours: str = "", by_month: str = "",
    noon: str = "12:00", sky: float | None = None,
) -> SurveyFact:  # fmt: skip
    """Turn glances at the shadow, or hours of sun, into light.

    Parameters
    ----------
    book : Book
        The book; glances and `hours` stand for its today.
    seen : sequence of str
        Glances such as ``9:00 sun`` and ``15:30 shade``, at least three.
    hours : str
        Hours of direct sun on a clear day, instead.
    by_month : str
        Hours by month, instead: ``apr 2.5, jul 4``.
    noon : str
        The clock's time when the sun is highest and shadows shortest.
    sky : float, optional
        Share of the sky seen from the ground there. [-]

    Raises
    ------
    BadInputError
        If not one of the three ways is given, or it cannot be read.
    NotEnoughDataError
        If there are fewer than three glances by day.
    """
    if sum(map(bool, (seen, hours, by_month))) != 1:
        raise BadInputError(
            "the sun seen", "none or several ways",
            "one: glances, hours of a day, or hours by month",
        )  # fmt: skip
    latitude = book.ground().site.latitude
    looks = _looks(book.today, latitude, seen, hours, by_month, noon)
    known = _light_by_day(book)
    rows = [_row(known, latitude, day, sunny, sky) for day, sunny in looks]
    given = {
        "seen": "; ".join(seen), "hours": hours, "by month": by_month,
        "noon": noon if seen else "", "sky": "" if sky is None else f"{sky:.0%}",
    }  # fmt: skip
    notes = _notes(rows, has_weather=len(known[0]) > 0, is_by_hours=not seen, sky=sky)
    return _fact(rows, given, notes)


def _looks(
    today: date, latitude: float, seen: Sequence[str], hours: str, by_month: str, noon: str
) -> list[tuple[date, Sunny]]:
    number = _day_of_year(today)
    high = _clock(noon or "12:00")
    if seen:
        glances = [_glance(each, high) for each in seen]
        return [(today, sunny_from_glances(glances, number, latitude))]
    if hours:
        return [(today, sunny_from_hours(_hours(hours), number, latitude))]
    found = []
    for part in re.split(r"\s*[;,]\s+|\s*;\s*", by_month.strip()):
        name, _, told = part.strip().partition(" ")
        day = _middle(name, today, part)
        found.append((day, sunny_from_hours(_hours(told), _day_of_year(day), latitude)))
    return found


def _row(
    known: tuple[Values, Values], latitude: float, day: date, sunny: Sunny, sky: float | None
) -> LightRow:
    low_open, middle, high_open = _open_light(known, day, latitude)
    here, low, _ = light_here(middle, sunny.share, sky)
    low = low * low_open / middle
    high = light_here(high_open, sunny.share, sky)[2]
    turn = season_day(day, latitude)
    season = SEASONS[sum(turn >= start for start in _STARTS) % len(SEASONS)]
    word = _word(here, low, high, middle)
    return LightRow(day, season, sunny, middle, here, low, high, word)


def _light_by_day(book: Book) -> tuple[Values, Values]:
    """Give the day of the year and the light of every day whose weather is in the book."""
    site, weather = book.ground().site, book.all_weather()
    numbers, light = [np.empty(0)], [np.empty(0)]
    for whole in whole_stretches(weather) if weather is not None else ():
        numbers.append(day_of_year(whole.days))
        light.append(derive(whole, site.latitude, site.elevation_m).light)
    return np.concatenate(numbers), np.concatenate(light)


def _open_light(
    known: tuple[Values, Values], day: date, latitude: float
) -> tuple[float, float, float]:
    """Give low, middle and high of the light in the open: by the book's weather, or as usual."""
    numbers, light = known
    apart = np.abs((numbers - _day_of_year(day) + 182) % 365 - 182)
    near = light[(apart <= _NEAR_DAYS) & np.isfinite(light)]
    if len(near) >= 2 * _NEAR_DAYS:
        mean = float(near.mean())
        return mean, mean, mean
    middle, low, high = usual_open_light(_day_of_year(day), latitude)
    return low, middle, high


def _word(here: float, low: float, high: float, in_open: float) -> str:
    least = value("light_grass_least")
    if in_open < value("light_short_days"):
        return "short days: little light anywhere"
    if high < least:
        return "too dark for lawn grass"
    if low < least:
        return "at the edge of what grass bears"
    if here < value("light_ryegrass"):
        return "shade: fine and tall fescues bear it best"
    return "light enough" if here < value("light_bent_green") else "full light"


def _fact(rows: Sequence[LightRow], given: dict[str, str], notes: tuple[str, ...]) -> SurveyFact:
    poorest = min(rows, key=lambda row: row.here / row.open_light)
    told = "; ".join(
        f"{MONTHS[row.day.month - 1]} {row.sunny.hours:.1f} h of sun, {row.here:.0f}"
        f" ({row.low:.0f} to {row.high:.0f}) of {row.open_light:.0f} mol/m² a day"
        for row in rows
    )
    found = {
        "sun_hours": min(row.sunny.hours for row in rows),
        "sun_hours_most": max(row.sunny.hours for row in rows),
        "light_share_percent": 100 * poorest.here / poorest.open_light,
    }
    for row in rows:
        month = MONTHS[row.day.month - 1].casefold()
        found |= {f"{month}_light_mol_m2": row.here, f"{month}_light_low_mol_m2": row.low,
                  f"{month}_light_high_mol_m2": row.high}  # fmt: skip
    table = tuple(
        {"month": MONTHS[row.day.month - 1], "season": row.season,
         "sun_hours": round(row.sunny.hours, 2), "day_hours": round(row.sunny.daylength, 2),
         "open_light_mol_m2": round(row.open_light, 2), "light_mol_m2": round(row.here, 2),
         "low_mol_m2": round(row.low, 2), "high_mol_m2": round(row.high, 2), "says": row.word}
        for row in rows
    )  # fmt: skip
    return SurveyFact(
        SHADE, told, notes, given, found,
        {row.season: row.word for row in rows}, rows=table,
    )  # fmt: skip


def _notes(
    rows: Sequence[LightRow], *, has_weather: bool, is_by_hours: bool, sky: float | None
) -> tuple[str, ...]:
    notes = [f"{MONTHS[row.day.month - 1]}: {row.word}." for row in rows]
    missing = [each for each in ("spring", "summer", "autumn") if each not in
               {row.season for row in rows}]  # fmt: skip
    if missing:
        notes.append(f"Not looked at in {' and '.join(missing)}: the sun stands elsewhere then.")
    if is_by_hours:
        notes.append("Hours are spread evenly over the day: hours round noon bring more.")
    if sky is None:
        notes.append("How much of the sky is seen from there is not known; that makes the range.")
    if not has_weather:
        notes.append("No weather in the book: light in the open is what is usual at this latitude.")
    return tuple(notes)


def _glance(text: str, noon: float) -> Glance:
    clock, _, word = text.strip().rpartition(" ")
    if word.casefold() not in _WORDS:
        raise BadInputError("a glance", text, "a time with sun or shade, such as '9:00 sun'")
    return Glance(_clock(clock) - noon + 12, _WORDS[word.casefold()])


def _clock(text: str) -> float:
    found = re.fullmatch(r"(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm)?", text.strip().casefold())
    if found is None or int(found[1]) > 24 or int(found[2] or 0) > 59:
        raise BadInputError("the time", text, "a time such as 9:00 or 15:30")
    hour = int(found[1]) % 12 + (12 if found[3] == "pm" else 0) if found[3] else int(found[1])
    return hour + int(found[2] or 0) / 60


def _hours(text: str) -> float:
    number = read_number(re.sub(r"\s*(h|hours?)$", "", text.strip()))
    if number is None:
        raise BadInputError("hours of sun", text, "hours such as 2.5")
    return number


def _middle(name: str, today: date, part: str) -> date:
    fitting = [n for n, month in enumerate(MONTHS, 1)
               if len(name) >= 3 and month.casefold().startswith(name.casefold())]  # fmt: skip
    if len(fitting) != 1:
        raise BadInputError("hours by month", part, "a month and its hours, such as 'apr 2.5'")
    return date(today.year, fitting[0], 15)


def _day_of_year(day: date) -> float:
    return float(day.timetuple().tm_yday)
