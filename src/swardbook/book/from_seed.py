"""Seed grown on for a zone of the book: the bed, the site's past years, and what they come to."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.book.opening import Book
from swardbook.foundation.dates import read_day, say, season_day_from
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.mixtures import mixture_kinds
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow, Water
from swardbook.model.chance import Chance
from swardbook.model.from_seed import Bed, Courses, lay_courses
from swardbook.model.weather_ahead import WeatherAhead, laid_over, weather_ahead
from swardbook.planning.growth import water_depth
from swardbook.weather.series import DailyWeather


@dataclass(frozen=True, slots=True)
class Years:
    """The site's past years laid after today, one course each.

    Parameters
    ----------
    ahead : WeatherAhead
        The courses.
    courses : Courses
        The same as the model reads them.
    chance : Chance
        Where numbers come from.
    is_thin : bool
        Whether there are so few years that it has to be said.
    """

    ahead: WeatherAhead
    courses: Courses
    chance: Chance
    is_thin: bool

    @property
    def past(self) -> tuple[int, ...]:
        """The years, by the year in which each begins."""
        return self.ahead.past_years


def years_ahead(book: Book, zone: Zone, last: date, forecast: DailyWeather | None = None) -> Years:
    """Lay every whole past year of the site after today.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : Zone
        The zone.
    last : date
        The last day wanted.
    forecast : DailyWeather, optional
        Days after today, laid over the first ones of every course.

    Raises
    ------
    NotEnoughDataError
        If there is no weather, or no whole past year of it.
    """
    weather = book.all_weather()
    if weather is None:
        raise NotEnoughDataError("growing from seed", "daily weather of the site", "none")
    chance = Chance(("from seed", book.ground().site.name, zone.name))
    one = weather_ahead(weather, book.today, last, 1, chance)
    every = weather_ahead(weather, book.today, last, len(one.past_years), chance)
    if forecast is not None:
        every = laid_over(every, (forecast,))
    site = book.ground().site
    courses = lay_courses(every, site.latitude, site.elevation_m)
    thin = len(every.past_years) < value("look_ahead.past_years_least")
    return Years(every, courses, chance, thin)


def bed_of(book: Book, zone: Zone, height_mm: float, is_watered: bool) -> Bed:
    """Describe a zone's bare bed as it stands tonight.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : Zone
        The zone.
    height_mm : float
        Height of cut it is brought down to. [mm]
    is_watered : bool
        Whether the seedbed is kept damp.
    """
    return Bed(zone, _soil(book.all_weather(), book.today), height_mm, is_watered)


def bed_as_watered(book: Book, ground: Ground, zone: Zone, day: date, what: Sow) -> tuple[Bed, str]:
    """Give the bed with the water the diary tells of; kept damp where it says so and no more.

    Parameters
    ----------
    book : Book
        The opened book.
    ground : Ground
        The ground as it stands.
    zone : Zone
        Where it was sown.
    day : date
        The day of sowing.
    what : Sow
        What was sown.

    Returns
    -------
    tuple of Bed and str
        The bed, and what its water rests on.
    """
    days = (book.today - day).days + 1
    given = [0.0] * days
    for entry in ground.entries(zone.name, Water.kind):
        since = (entry.day - day).days
        if isinstance(entry.what, Water) and 0 <= since < days:
            given[since] += water_depth(entry.what, zone, ground.site) or 0.0
    damp = bool(what.watered)
    bed = bed_of(book, zone, zone.height_of_cut_mm, damp)
    if any(given):
        return replace(bed, given_mm=tuple(given)), ""
    if damp:
        return bed, "No watering is in the diary; it is taken as kept damp, as the sowing says."
    return bed, "No watering is in the diary, so only rain counts: note each watering."


def coming(today: date, wanted: float, latitude: float) -> date:
    """Give the next day with a season day [d], as the north numbers it."""
    return season_day_from(today + timedelta(days=1), round(wanted), latitude)


def day_to_come(words: str, today: date) -> date:
    """Read a day; one without a year that is past is taken in the year to come.

    Raises
    ------
    BadInputError
        If it is no day, or is past.
    """
    day = read_day(words, today)
    is_dated = any(letter.isdigit() for letter in words)
    if day <= today and is_dated and str(day.year) not in words:
        is_leap_day = (day.month, day.day) == (2, 29)
        day = day.replace(year=day.year + 1, day=28 if is_leap_day else day.day)
    if day <= today:
        read = f"{words}, {say(day)}"
        raise BadInputError("the day", read, f"a day after {say(today)}", "Is the year right?")
    return day


def names_known(ground: Ground) -> list[str]:
    """List what a mixture may be called: lots, their names, and the trade's kinds."""
    names = dict.fromkeys(lot.mixture for lot in ground.lots)
    return [*names, *(lot.code for lot in ground.lots), *mixture_kinds()]


def stands_in(ground: Ground, zone: Zone, today: date) -> frozenset[str]:
    """Give the groups of grasses that were sown in a zone; empty where no sowing is known.

    Creeping bent stands there by its own name too: what it does elsewhere it does there already.
    """
    from swardbook.handbook.species import find_species

    sown = frozenset(
        find_species(part.species)
        for entry in ground.entries(zone.name, Sow.kind)
        if isinstance(entry.what, Sow) and entry.what.lot and entry.day <= today
        for part in ground.lot(entry.what.lot).parts
        if part.species != "others"
    )
    creeping = {each.key for each in sown if each.key == "creeping bent"}
    return frozenset(each.group for each in sown) | creeping


def _soil(weather: DailyWeather | None, today: date) -> float:
    """Mean air of the last days, or of the same days in past years if they are missing."""
    days = round(value("look_ahead.start_soil_days"))
    if weather is None:
        raise NotEnoughDataError("growing from seed", "daily weather of the site", "none")
    known = weather.until(today)
    since = (np.datetime64(today, "D") - known.days).astype(np.int64) % 365
    near = known.tmean[since < days]
    if known.last >= today - timedelta(days=2):
        near = known.tmean[-days:]
    return float(np.nanmean(near))
