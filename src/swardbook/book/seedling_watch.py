"""Germination watch: when each component is due, what is up, whose it is, and what takes it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.book.compiled import kernel_of
from swardbook.book.from_seed import bed_of, years_ahead
from swardbook.book.opening import Book
from swardbook.book.worked_out import Answer
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import Species, find_species
from swardbook.handbook.troubles import Trouble, signs, troubles
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow, Water
from swardbook.model.from_seed import NEVER, Bed, Seeding, grow_from_seed, lay_courses
from swardbook.model.weather_ahead import WeatherAhead
from swardbook.planning.growth import water_depth
from swardbook.planning.situation import situation
from swardbook.planning.sowing import first_seen_days
from swardbook.planning.troubles import Diagnosis, diagnose, read_signs
from swardbook.seed import Method, by_number, usual_rate
from swardbook.seed.seedlings import Seedlings, Whose, count_seedlings, whose
from swardbook.weather.series import DailyWeather
from swardbook.weather.soil_temperature import soil_temperature_10cm

Tell = Callable[[str], None]
ABOUT = "germination watch"
NOT_DUE, DUE, PAST = "not due yet", "due now", "window shut"
EARLY, USUAL, FEW = "too early to say", "as many as usual", "fewer than usual"
FIRST_WEEKS = (
    "birds", "slugs", "frit_fly", "worm_casts", "leaf_smother", "wash_off", "damping_off",
    "slow_seed",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Window:
    """When one component is expected.

    Parameters
    ----------
    species : str
        Key of the species.
    opens, shuts : date or None
        First and last day it is expected on; None where that is past the days followed.
    state : str
        ``not due yet``, ``due now`` or ``window shut``.
    """

    species: str
    opens: date | None
    shuts: date | None
    state: str


@dataclass(frozen=True, slots=True)
class Watched:
    """What was seen; all that is not known is left empty.

    Parameters
    ----------
    frames, unsown : tuple of float
        Seedlings in frames on sown and on unsown ground. [seedlings]
    side_mm : float or None
        Side of a frame. [mm]
    named : tuple of int
        Sown kinds, weed and cannot tell, looked at with a lens; empty if not looked at.
    leaves : float
        Leaves most seedlings have. [-]
    seen, not_seen : tuple of str
        Signs of loss.
    """

    frames: tuple[float, ...] = ()
    unsown: tuple[float, ...] = ()
    side_mm: float | None = None
    named: tuple[int, int, int] | None = None
    leaves: float = 0.0
    seen: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Watch:
    """Germination in a zone.

    Parameters
    ----------
    zone : str
        Name of the zone.
    sown_on : date
        The day of sowing.
    title : str
        What was sown.
    days : int
        Days since.
    windows : tuple of Window
        Component by component.
    seedlings : Seedlings or None
        From the frames.
    whose : Whose or None
        Whose they are.
    verdict : str
        ``too early to say``, ``as many as usual``, ``fewer than usual``, or empty without frames.
    because : str
        Why.
    diagnosis : Diagnosis or None
        What may take seedlings, by the signs given.
    losses : tuple of Trouble
        What may take seedlings in the first weeks, each with the check that parts it.
    notes : tuple of str
        What is missing and what it would change.
    """

    zone: str
    sown_on: date
    title: str
    days: int
    windows: tuple[Window, ...]
    seedlings: Seedlings | None
    whose: Whose | None
    verdict: str
    because: str
    diagnosis: Diagnosis | None
    losses: tuple[Trouble, ...]
    notes: tuple[str, ...]


def watch(book: Book, zone: str, seen: Watched, tell: Tell = lambda _: None) -> Watch:
    """Watch the last sowing of a zone come up.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone.
    seen : Watched
        What was seen.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    UnknownNameError
        If there is no such zone or sign.
    NotEnoughDataError
        If no sowing with a lot is known, the weather since it has gaps, or frames are too few.
    """
    ground = book.ground()
    place = ground.zone(zone)
    day, what = _last_sowing(ground, place, book.today)
    windows, wet_note = _windows(book, ground, place, day, what, tell)
    viable = _viable(ground, place, what)
    counted = None
    notes = [wet_note] if wet_note else []
    if seen.frames:
        side = seen.side_mm or value("watch.frame_mm")
        counted = count_seedlings(seen.frames, seen.unsown, side, viable)
        if counted.unsown is None:
            notes.append("No unsown frame: what came by itself is in the number, so no share of"
                         " the seed is told. Leave a square unsown next time.")  # fmt: skip
    told = None
    if seen.named is not None:
        told = whose(*seen.named, seen.leaves)
    verdict, because = _verdict(windows, counted, what)
    sit = situation(ground, place.name, book.weather(), book.today)
    signs_seen = read_signs(seen.seen, seen.not_seen)
    found = diagnose(sit, signs_seen) if seen.seen or seen.not_seen else None
    lot = ground.lot(what.lot)
    return Watch(
        place.name, day, f"{lot.mixture}, lot {lot.code}", (book.today - day).days, windows,
        counted, told, verdict, because, found, tuple(troubles()[key] for key in FIRST_WEEKS),
        tuple(notes),
    )  # fmt: skip


def watch_answer(made: Watch) -> Answer:
    """Give what was found as the diary keeps it."""
    found = {"days_since_sowing": float(made.days)}
    if made.seedlings is not None:
        range_ = made.seedlings.interval
        found |= {
            "seedlings_per_m2": made.seedlings.sown.per_m2,
            "seedlings_low_per_m2": range_.low,
            "seedlings_high_per_m2": range_.high,
        }
        if (share := made.seedlings.share) is not None:
            found |= {"share_of_viable": share[0], "share_low": share[1].low,
                      "share_high": share[1].high}  # fmt: skip
    states = {window.species: window.state for window in made.windows}
    words = f"{made.verdict or 'not counted'}: {made.because}"
    return Answer(ABOUT, words, {"sown": made.title}, found, states)


def loss_signs() -> dict[str, str]:
    """List the signs of loss in the first weeks with their words."""
    wanted = {sign for key in FIRST_WEEKS for sign in troubles()[key].usual}
    return {name: words for name, words in signs().items() if name in wanted}


def _last_sowing(ground: Ground, zone: Zone, today: date) -> tuple[date, Sow]:
    sown = [
        (entry.day, entry.what)
        for entry in ground.entries(zone.name, Sow.kind)
        if isinstance(entry.what, Sow) and entry.what.lot and entry.day <= today
    ]
    if not sown:
        raise NotEnoughDataError(f"germination in {zone.name}", "a sowing with its lot", "none")
    return sown[-1]


def _windows(
    book: Book, ground: Ground, zone: Zone, day: date, what: Sow, tell: Tell
) -> tuple[tuple[Window, ...], str]:
    """Run the sowing under the weather and water it had, and past years after today."""
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
    bed, note = _bed(book, ground, zone, day, what)
    lot = ground.lot(what.lot)
    rate = _rate(zone, what) or usual_rate(lot.parts, Method.SEEDBED).middle
    grown = grow_from_seed(
        Seeding(lot.parts, rate, day), bed, courses, follow, years.chance,
        kernel_of(book.settings, tell), threads=book.settings.threads,
    )  # fmt: skip
    soil = float(np.mean(soil_temperature_10cm(known.tmean)[lead:]))
    windows = []
    for slot, kind in enumerate(grown.kinds.kinds):
        species = find_species(kind.species)
        windows.append(_window(species, grown.emerged(slot), day, book.today, soil))
    return tuple(windows), note


def _bed(book: Book, ground: Ground, zone: Zone, day: date, what: Sow) -> tuple[Bed, str]:
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
    if last is not None and today > last:
        state = PAST
    return Window(species.key, first, last, state)


def _joined(known: DailyWeather, course: DailyWeather) -> DailyWeather:
    return DailyWeather(
        np.concatenate([known.days, course.days]), np.concatenate([known.tmin, course.tmin]),
        np.concatenate([known.tmax, course.tmax]), np.concatenate([known.rain, course.rain]),
        np.concatenate([known.flags, course.flags]),
    )  # fmt: skip


def _viable(ground: Ground, zone: Zone, what: Sow) -> float | None:
    rate = _rate(zone, what)
    return None if rate is None else rate * by_number(ground.lot(what.lot).parts).viable_seeds_per_g


def _rate(zone: Zone, what: Sow) -> float | None:
    if what.rate_g_m2 is None and what.used_g is not None:
        return what.used_g / (what.area_m2 or zone.area_m2)
    return what.rate_g_m2


def _verdict(windows: Sequence[Window], counted: Seedlings | None, what: Sow) -> tuple[str, str]:
    """Judge a count, never before the slowest window has shut."""
    waiting = [window for window in windows if window.state != PAST]
    if waiting:
        slowest = max(waiting, key=lambda each: each.shuts or date.max)
        until = f"until {say(slowest.shuts)}" if slowest.shuts else "beyond the days followed"
        name = find_species(slowest.species).english
        because = f"{name} may come {until}; nothing is called failed before"
        return EARLY, because
    if counted is None:
        return "", "every window has shut: count at least six frames, and two unsown"
    share = counted.share
    if share is None:
        return EARLY, "without unsown frames or a rate no share of the seed can be told"
    usual = parameter(f"seed_establishment_{what.method.replace(' ', '_')}")
    told = (
        f"usual is {100 * usual.low:.0f} to {100 * usual.high:.0f} % of viable seed, {what.method}"
    )
    if share[1].high < usual.low:
        return FEW, f"{told}; look for the cause before sowing again"
    return USUAL, told
