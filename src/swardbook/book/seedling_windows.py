"""When each component of a sowing is due, by the warmth and water it had, and what was seen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.book.compiled import kernel_of
from swardbook.book.from_seed import bed_as_watered, years_ahead
from swardbook.book.opening import Book
from swardbook.book.own_emergence import OwnEmergence, own_emergence
from swardbook.book.seedlings_seen import Sighting
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.handbook.species import Species, find_species
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.husbandry.tested import parts_as_known
from swardbook.model.chance import Array
from swardbook.model.from_seed import NEVER, Days, Seeding, grow_from_seed, lay_courses
from swardbook.model.weather_ahead import WeatherAhead
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
) -> tuple[tuple[Window, ...], str, OwnEmergence]:
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
    tuple
        When each component is expected, what the water rests on, and one's own earlier sowings,
        by which the draws are weighed.

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
    kernel = kernel_of(book.settings, tell)
    grown = grow_from_seed(
        Seeding(parts, rate, day), bed, courses, follow, years.chance, kernel,
        threads=book.settings.threads,
    )  # fmt: skip
    names = [kind.species for kind in grown.kinds.kinds]
    own = own_emergence(book, names, years, kernel, before=day)
    young = lead + round(7 * value("seedbed_weeks"))
    soil = float(np.mean(soil_temperature_10cm(known.tmean)[lead:young]))
    windows = []
    for slot, kind in enumerate(grown.kinds.kinds):
        species = find_species(kind.species)
        up = grown.emerged(slot)
        span = _span(up, own.of([kind.species], len(up)))
        windows.append(_window(species, span, day, book.today, soil))
    return tuple(windows), note, own


def _span(up: Days, weights: Array) -> tuple[int | None, int | None]:
    """Give the days between which a component is expected, by draws that count differently."""
    order = np.argsort(up, kind="stable")
    reached = np.cumsum(weights[order])
    inner = (len(up) - 1) / len(up)
    low, high = (
        up[order[min(int(np.searchsorted(reached, inner * value(key), "right")), len(up) - 1)]]
        for key in ("watch.window_low", "watch.window_high")
    )
    return (None if low == NEVER else int(low)), (None if high == NEVER else int(high))


def _window(
    species: Species, span: tuple[int | None, int | None], day: date, today: date, soil: float
) -> Window:
    opens, shuts = span
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
