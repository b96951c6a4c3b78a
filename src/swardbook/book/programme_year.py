"""A programme laid on a year of one zone: its days, and the hours of each kind and month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.programmes import Edited, KeptProgramme, place_of
from swardbook.figures.lanes import MARKS, Lane, ProgrammeYear
from swardbook.figures.picture import Picture
from swardbook.figures.programme_hours import picture_of_programmes
from swardbook.figures.programme_year import FOR, picture_of_edit, picture_of_programme
from swardbook.foundation.dates import is_southern
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Cut, Verticut
from swardbook.model.ahead import weekly_growth
from swardbook.model.never import Place, breaches_in
from swardbook.model.past import MEADOW_GRASS
from swardbook.model.programmes import Amount, Planned, Programme, expand, fit_to_zone, work_hours
from swardbook.weather.series import DailyWeather

QUESTION = "a picture of a programme's year"


def draw_programme(book: Book, plan: Programme, zone: str = "") -> Picture:
    """Draw a programme's year in a zone; see `year_of`."""
    return picture_of_programme(year_of(book, plan, zone), note_of(book))


def draw_programmes(book: Book, found: Sequence[KeptProgramme], zone: str = "") -> Picture:
    """Draw the hours of programmes in one zone; see `year_of`.

    Parameters
    ----------
    book : Book
        The opened book.
    found : sequence of KeptProgramme
        The programmes; versions of one are told apart.
    zone : str
        Name of the zone; empty: the first that the first programme is fit for.
    """
    place = zone or _place(book.ground(), found[0].programme, "").zone.name
    years = [year_of(book, _numbered(each, found), place) for each in found]
    return picture_of_programmes(years, note_of(book))


def draw_edit(book: Book, made: Edited, zone: str = "") -> Picture:
    """Draw a programme before and after an edit, in a zone that it is fit for now."""
    place = zone or _place(book.ground(), made.now.programme, "").zone.name
    both = (made.before, made.now)
    before, now = (year_of(book, _numbered(each, both), place) for each in both)
    return picture_of_edit(before, now, note_of(book))


def year_of(book: Book, plan: Programme, zone: str = "") -> ProgrammeYear:
    """Lay a programme on the last whole year of weather that the book holds; see `year_in`."""
    return year_in(book.ground(), book.weather(), plan, zone)


def year_in(
    ground: Ground, weather: DailyWeather | None, plan: Programme, zone: str = ""
) -> ProgrammeYear:
    """Lay a programme on the last whole year of weather that there is.

    Parameters
    ----------
    ground : Ground
        The ground.
    weather : DailyWeather or None
        Its weather.
    plan : Programme
        The programme.
    zone : str
        Name of the zone; empty: the first that it is fit for.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If there is no zone, or no whole year of weather.
    """
    place = _place(ground, plan, zone)
    latitude = ground.site.latitude
    months = _months(weather, latitude)
    assert weather is not None
    part = weather.between(months[0], months[-1] - timedelta(days=1))
    days = [months[0] + timedelta(days=n) for n in range(len(part))]
    fitted = fit_to_zone(plan, place.zone, place.comfort, place.weekly_hours)
    jobs = expand(fitted, place.zone, days, weekly_growth(part), latitude, MEADOW_GRASS)
    lanes = tuple(_lanes(fitted, place.zone, jobs))
    there = {each.kind for each in lanes}
    return ProgrammeYear(
        name=plan.name,
        zone=place.zone.name,
        months=months,
        lanes=lanes,
        without=tuple(FOR[kind] for kind in MARKS if kind not in there and kind != "cut"),
        hours=_added(place.zone, jobs),
        by_month=tuple(
            _added(place.zone, [job for job in jobs if first <= job.day < after]).middle
            for first, after in pairwise(months)
        ),
        beside=(*fitted.held_back, *(str(each) for each in breaches_in(plan, place))),
        weather=_said(months),
    )


def _place(ground: Ground, plan: Programme, zone: str) -> Place:
    if zone:
        return place_of(ground, zone)
    places = [place_of(ground, each.name) for each in ground.zones]
    if not places:
        raise NotEnoughDataError(QUESTION, "a zone", "none")
    return next((each for each in places if not breaches_in(plan, each)), places[0])


def _numbered(kept: KeptProgramme, among: Sequence[KeptProgramme]) -> Programme:
    """Put the version to the name where another of them has the same name."""
    plan = kept.programme
    if sum(each.programme.name == plan.name for each in among) < 2:
        return plan
    return replace(plan, name=f"{plan.name} (version {kept.version})")


def _months(weather: DailyWeather | None, latitude: float) -> tuple[date, ...]:
    """Give the starts of the twelve months of the last whole year, and the day after it."""
    month = 7 if is_southern(latitude) else 1
    if weather is not None and len(weather):
        for year in range(weather.last.year, weather.first.year - 1, -1):
            first, after = date(year, month, 1), date(year + 1, month, 1)
            if first >= weather.first and after.toordinal() - 1 <= weather.last.toordinal():
                return (*(date(year + (month + n - 1) // 12, (month + n - 1) % 12 + 1, 1)
                          for n in range(12)), after)  # fmt: skip
    found = "none" if weather is None or not len(weather) else f"{len(weather)} days"
    raise NotEnoughDataError(QUESTION, "a whole year of daily weather", found)


def _said(months: Sequence[date]) -> str:
    first, last = months[0].year, months[-2].year
    year = str(first) if first == last else f"{first} to {last}"
    return (
        f"Laid on the weather of {year}, the last whole year there is; another year shifts it."
        " Seedlings are not verticut: they wait."
    )


def _lanes(plan: Programme, zone: Zone, jobs: Sequence[Planned]) -> list[Lane]:
    found = []
    for kind in MARKS:
        own = [job for job in jobs if _kind(job) == kind]
        if own:
            lines = tuple(
                job.what.line_deg for job in own
                if isinstance(job.what, Verticut) and job.what.line_deg is not None
            )  # fmt: skip
            found.append(
                Lane(
                    kind, *_named(plan, kind), tuple(job.day for job in own), _added(zone, own),
                    lines, kind == "pull",
                )
            )  # fmt: skip
    return found


def _kind(job: Planned) -> str:
    return "boxed cut" if isinstance(job.what, Cut) and job.what.boxed else job.what.kind


def _added(zone: Zone, jobs: Sequence[Planned]) -> Amount:
    """Add up a year's hours of work: by the handbook's rates, and pulling as set aside."""
    pulled = sum(job.hours or 0.0 for job in jobs)
    return work_hours(zone, jobs, 1.0) + Amount(pulled, pulled, pulled)


def _named(plan: Programme, kind: str) -> tuple[str, str]:
    """Name a kind of work, with its depth, dose or hours a week."""
    lines = " and ".join(f"{each:g}°".replace("-", "−") for each in plan.verticut_lines_deg)
    dose = plan.nitrogen_g_m2_year / plan.feeds if plan.feeds else 0.0
    return {
        "cut": ("Cut", "clippings left"),
        "boxed cut": ("Cut", "box on"),
        "verticut": ("Verticut", f"{plan.verticut_depth_mm:g} mm, lines {lines or 'not said'}"),
        "pull": ("Pull", f"{plan.pull_hours_week:g} h a week"),
        "refill": ("Refill gaps", ""),
        "feed": ("Feed", f"{dose:.2g} g N a m²"),
        "water": ("Water refills", f"{plan.water_mm:g} mm a day"),
    }[kind]
