"""When each component of a sowing is due, by the warmth and water it had, and what was seen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.book.compiled import kernel_of
from swardbook.book.from_seed import bed_of, years_ahead
from swardbook.book.opening import Book
from swardbook.book.seedlings_seen import Sighting
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.handbook.species import Species, find_species
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow, Water
from swardbook.husbandry.tested import parts_as_known
from swardbook.model.from_seed import NEVER, Bed, Seeding, grow_from_seed, lay_courses
from swardbook.model.weather_ahead import WeatherAhead
from swardbook.planning.growth import water_depth
from swardbook.planning.sowing import first_seen_days
from swardbook.seed import Method, usual_rate
from swardbook.weather.series import DailyWeather
from swardbook.weather.soil_temperature import soil_temperature_10cm

Tell = Callable[[str], None]
NOT_DUE, DUE, PAST = "not due yet", "due now", "window shut"
UP = "seen up"
CANNOT_TELL = "cannot tell"
"""Something is up before this component was expected, and nobody said whose it is."""


@dataclass(frozen=True, slots=True)
class Window:
    """When one component is expected, and whether it was seen.

    Parameters
    ----------
    species : str
        Key of the species.
    opens, shuts : date or None
        First and last day it is expected on; None where that is past the days followed.
    state : str
        ``not due yet``, ``due now``, ``seen up``, ``cannot tell`` or ``window shut``.
    seen : date or None
        The first day on which somebody recorded its seedlings.
    is_shut : bool
        Whether the last day it is expected on is past.
    """

    species: str
    opens: date | None
    shuts: date | None
    state: str
    seen: date | None = None
    is_shut: bool = False


def with_sightings(
    windows: Sequence[Window], seen: Sequence[Sighting], is_unnamed_up: bool
) -> tuple[Window, ...]:
    """Let what was seen go before what was expected.

    A component that somebody named is up, whatever was expected of it. Seedlings that nobody named
    may be any of those that were not expected yet.

    Parameters
    ----------
    windows : sequence of Window
        As expected.
    seen : sequence of Sighting
        What was recorded, in order.
    is_unnamed_up : bool
        Whether seedlings stand there, beyond those that came by themselves, that nobody named.
    """
    first: dict[str, date] = {}
    for each in seen:
        first.setdefault(each.species, each.day)
    return tuple(_told(each, first.get(each.species), is_unnamed_up) for each in windows)


def _told(window: Window, seen: date | None, is_unnamed_up: bool) -> Window:
    if seen is not None:
        state = window.state if window.is_shut else UP
        return replace(window, seen=seen, state=state)
    if window.state == NOT_DUE and is_unnamed_up:
        return replace(window, state=CANNOT_TELL)
    return window


def windows_of(
    book: Book, ground: Ground, zone: Zone, day: date, what: Sow, tell: Tell
) -> tuple[tuple[Window, ...], str]:
    """Run a sowing under the weather and water it had, and past years after today.

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
    tell : callable
        Told in words what is being worked on.

    Returns
    -------
    tuple of tuple of Window and str
        When each component is expected, and what the water rests on.

    Raises
    ------
    NotEnoughDataError
        If the weather since the sowing has gaps.
    """
    weather = book.weather()
    lead = round(value("from_seed.lead_days"))
    if weather is None or weather.last < book.today or weather.first > day - timedelta(days=lead):
        there = "none" if weather is None else f"{weather.first} to {weather.last}"
        wanted = f"weather from {day - timedelta(days=lead)} to {book.today}"
        raise NotEnoughDataError("when seedlings are due", wanted, there)
    follow = max(round(value("watch.follow_days")), (book.today - day).days + 1)
    last = day + timedelta(days=follow)
    known = weather.between(day - timedelta(days=lead), book.today)
    years = years_ahead(book, zone, max(last, book.today + timedelta(days=1)))
    site = ground.site
    joined = tuple(_joined(known, course) for course in years.ahead.courses)
    courses = lay_courses(WeatherAhead(joined, years.past), site.latitude, site.elevation_m)
    bed, note = bed_as_watered(book, ground, zone, day, what)
    parts = parts_as_known(ground, ground.lot(what.lot))
    rate = rate_of(zone, what) or usual_rate(parts, Method.SEEDBED).middle
    grown = grow_from_seed(
        Seeding(parts, rate, day), bed, courses, follow, years.chance,
        kernel_of(book.settings, tell), threads=book.settings.threads,
    )  # fmt: skip
    young = lead + round(7 * value("seedbed_weeks"))
    soil = float(np.mean(soil_temperature_10cm(known.tmean)[lead:young]))
    windows = []
    for slot, kind in enumerate(grown.kinds.kinds):
        species = find_species(kind.species)
        windows.append(_window(species, grown.emerged(slot), day, book.today, soil))
    return tuple(windows), note


def bed_as_watered(book: Book, ground: Ground, zone: Zone, day: date, what: Sow) -> tuple[Bed, str]:
    """Give the bed with the water the diary tells of; kept damp where it says so and no more."""
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


def _window(species: Species, up: np.ndarray, day: date, today: date, soil: float) -> Window:
    ordered = np.sort(up)
    at = [ordered[int(value(key) * (len(ordered) - 1))]
          for key in ("watch.window_low", "watch.window_high")]  # fmt: skip
    opens, shuts = (None if each == NEVER else int(each) for each in at)
    usual = first_seen_days(species, soil)
    if shuts is not None and usual is not None:
        shuts = max(shuts, round(usual[1]))
    first = None if opens is None else day + timedelta(days=opens)
    last = None if shuts is None else day + timedelta(days=shuts)
    state = NOT_DUE if first is None or today < first else DUE
    is_shut = last is not None and today > last
    return Window(species.key, first, last, PAST if is_shut else state, is_shut=is_shut)


def _joined(known: DailyWeather, course: DailyWeather) -> DailyWeather:
    return DailyWeather(
        np.concatenate([known.days, course.days]), np.concatenate([known.tmin, course.tmin]),
        np.concatenate([known.tmax, course.tmax]), np.concatenate([known.rain, course.rain]),
        np.concatenate([known.flags, course.flags]),
    )  # fmt: skip


def rate_of(zone: Zone, what: Sow) -> float | None:
    """Give the rate of a sowing, from its weight where no rate was said [g m⁻²]."""
    if what.rate_g_m2 is None and what.used_g is not None:
        return what.used_g / (what.area_m2 or zone.area_m2)
    return what.rate_g_m2
