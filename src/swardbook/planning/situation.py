"""What is known of one zone on one day: the book up to that day, and nothing after it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Generic, TypeVar, cast

from swardbook.foundation.dates import season_day
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Site, Zone
from swardbook.planning.growth import Lately, lately
from swardbook.weather.series import DailyWeather

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Happened(Generic[T]):
    """One diary entry with what happened, its class known."""

    entry: DiaryEntry
    what: T

    @property
    def day(self) -> date:
        """The day, or the middle of its span."""
        return self.entry.day

    @property
    def is_dated(self) -> bool:
        """Whether the day is known."""
        return self.entry.when.is_dated


@dataclass(frozen=True, slots=True)
class Situation:
    """One zone on one day, by what the book holds up to that day.

    Build it with `situation`, which leaves out whatever came later.
    """

    ground: Ground
    zone: Zone
    weather: DailyWeather | None
    today: date
    lately: Lately

    @property
    def site(self) -> Site:
        """The site of the zone."""
        return self.ground.site

    @property
    def season_day(self) -> int:
        """Today's day of the year as the north would number it."""
        return season_day(self.today, self.site.latitude)

    def is_between(self, first: float, last: float) -> bool:
        """Tell whether today lies between two season days, both included."""
        return first <= self.season_day <= last

    def happened(self, kind: type[T], within_days: float | None = None) -> list[Happened[T]]:
        """List what happened of one class in this zone or on the whole site, oldest first."""
        return [
            Happened(entry, cast("T", entry.what))
            for entry in self.ground.entries_of(self.zone.name, kind)
            if within_days is None or self.age(entry.when.last) <= within_days
        ]

    def latest(self, kind: type[T], within_days: float | None = None) -> Happened[T] | None:
        """Find the latest of one class; of two on one day the one that stands later."""
        found = self.happened(kind, within_days)
        return found[-1] if found else None

    def age(self, day: date) -> int:
        """Days from a day until today."""
        return (self.today - day).days


def situation(ground: Ground, zone: str, weather: DailyWeather | None, today: date) -> Situation:
    """Look at one zone as the book stands on a day.

    Parameters
    ----------
    ground : Ground
        The ground with its diary; entries that begin after `today` are left out.
    zone : str
        Name of the zone.
    weather : DailyWeather or None
        The site's weather; days after `today` are left out.
    today : date
        The day every answer is for.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    known = tuple(entry for entry in ground.diary if entry.when.first <= today)
    seen = None
    if weather is not None and len(weather) and weather.first <= today:
        seen = weather.until(today)
    whole, part = replace(ground, diary=known), ground.zone(zone)
    return Situation(whole, part, seen, today, lately(whole, part, seen, today))


def months_before(day: date, months: float) -> date:
    """Count back a number of months of 30.4 days."""
    return day - timedelta(days=round(months * 365.25 / 12))
