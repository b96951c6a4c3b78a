"""Made-up lawns for the validation runs: a book of one zone, worked by rule and counted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from swardbook.book.zone_story import story_of
from swardbook.foundation.dates import When, days_between
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Mower, Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import Count, Cut, Happening, Scarify, Sow, Verticut
from swardbook.model.ahead import weekly_growth
from swardbook.model.past import MEADOW_GRASS, Story
from swardbook.model.programmes import Programme, expand
from swardbook.observations.counts import Method, PlaceCount
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.weather.series import DailyWeather
from tools.county_series import County

LOT = SeedLot(
    "FM-0300", "Fen mixture",
    (LotPart("chewings fescue", 0.4, purity=0.98, germination=0.88),
     LotPart("slender creeping red fescue", 0.2, purity=0.98, germination=0.88),
     LotPart("perennial ryegrass", 0.3, purity=0.98, germination=0.9),
     LotPart("browntop bent", 0.1, purity=0.98, germination=0.88)),
)  # fmt: skip
ZONE, COUNTER = "The lawn", "Ines"
LEFT_ALONE, UNFIT_FOR_VERTICUT = 35, 120
"""Days after a sowing without any job, and without a verticut. [d]"""


@dataclass(frozen=True, slots=True)
class Lawn:
    """A kind of lawn: how and when it begins, and how it is counted.

    Parameters
    ----------
    key, says : str
        Its name, and what it is in words.
    begins : tuple of int
        Month and day.
    counts : tuple of tuple of int
        Years after the beginning, month and day of each count.
    method : Method
        Points or plants.
    looked : float
        Points in a frame, or its area. [m²]
    places : int
        Fixed places that are counted each time.
    height_mm : float
        Height of cut. [mm]
    sown : str
        Sowing method; empty where nothing is sown.
    rate_g_m2 : float
        Seed. [g m⁻²]
    scarify_passes : int
        Scarifying passes on the first day.
    """

    key: str
    says: str
    begins: tuple[int, int]
    counts: tuple[tuple[int, int, int], ...]
    method: Method
    looked: float
    places: int
    height_mm: float = 25.0
    sown: str = ""
    rate_g_m2: float = 0.0
    scarify_passes: int = 0

    @classmethod
    def read(cls, row: Mapping[str, Any]) -> Lawn:
        """Read a lawn from its table."""
        known = {name: row[name] for name in cls.__slots__ if name in row}
        return cls(
            **known | {
                "begins": tuple(row["begins"]),
                "counts": tuple(tuple(each) for each in row["counts"]),
                "method": Method(row["method"]),
            }
        )  # fmt: skip

    def first(self, year: int) -> date:
        """The first day, of a lawn that begins in some year."""
        return date(year, *self.begins)

    def count_days(self, year: int) -> tuple[date, ...]:
        """The days of its counts."""
        return tuple(date(year + after, month, day) for after, month, day in self.counts)

    def place_names(self) -> tuple[str, ...]:
        """Name its places."""
        return tuple(f"P{n:02d}" for n in range(1, self.places + 1))


Counts = Sequence[tuple[PlaceCount, ...]]


def nothing_found(lawn: Lawn) -> Counts:
    """Give counts that only mark the days and places."""
    found = {MEADOW_GRASS: 0.0}
    places = tuple(
        PlaceCount(name, lawn.method, found, lawn.looked, COUNTER) for name in lawn.place_names()
    )
    return [places] * len(lawn.counts)


def zone_of(lawn: Lawn) -> Zone:
    """Give the zone of a lawn."""
    fine = Tolerance(0.1, 0.05, 2)
    mower = Mower("rotary", 410.0, has_box=True)
    return Zone(ZONE, 200.0, Use.FAMILY_LAWN, fine, lawn.height_mm, mower)


def book_of(
    lawn: Lawn, county: County, year: int, plan: Programme, last: date, counts: Counts
) -> Ground:
    """Write the book of a lawn: how it began, what was done by the programme, what was counted.

    Parameters
    ----------
    lawn : Lawn
        The kind of lawn.
    county : County
        Where it lies.
    year : int
        The year in which it begins.
    plan : Programme
        How it is worked until `last`.
    last : date
        The last day with any work.
    counts : sequence of tuple of PlaceCount
        What was counted on each of its days.
    """
    jobs = [*_beginning(lawn, year), *_by_rule(lawn, county, year, plan, last)]
    jobs += [
        (day, Count(places), None)
        for day, places in zip(lawn.count_days(year), counts, strict=True)
    ]
    entries = sorted((_entry(*job) for job in jobs), key=lambda entry: entry.day)
    name = f"{county.name} {lawn.key} {year}"
    return Ground(
        Site(name, county.latitude, county.elevation_m),
        (zone_of(lawn),),
        tuple(Peg(place, ZONE) for place in lawn.place_names()),
        lots=(LOT,),
        diary=tuple(entries),
    )


def story_from(ground: Ground, weather: DailyWeather, today: date) -> Story:
    """Read the story of the one zone as the product does."""
    return story_of(ground, ZONE, weather, today)


def counted(story: Story, counts: Counts) -> Story:
    """Put other counts in the place of those of a story, in order."""
    places = iter(counts)
    return replace(
        story,
        seen=tuple(
            replace(seen, places=next(places)) if seen.places else seen for seen in story.seen
        ),
    )


Job = tuple[date, Happening, float | None]


def _beginning(lawn: Lawn, year: int) -> Iterable[Job]:
    first = lawn.first(year)
    if lawn.scarify_passes:
        yield first, Scarify(passes=lawn.scarify_passes), None
    if lawn.sown:
        yield first, Sow(LOT.code, lawn.rate_g_m2, method=lawn.sown), None


def _by_rule(lawn: Lawn, county: County, year: int, plan: Programme, last: date) -> Iterable[Job]:
    first = lawn.first(year)
    weather = county.weather()
    growth = weekly_growth(weather)[weather.index(first) : weather.index(last) + 1]
    jobs = expand(
        plan, zone_of(lawn), days_between(first, last), growth, county.latitude, MEADOW_GRASS
    )
    for job in jobs:
        young = lawn.sown and job.day < first + timedelta(days=LEFT_ALONE)
        tender = lawn.sown and job.day < first + timedelta(days=UNFIT_FOR_VERTICUT)
        if not young and not (tender and isinstance(job.what, Verticut)):
            yield job.day, job.what, job.hours


def _entry(day: date, what: Happening, hours: float | None) -> DiaryEntry:
    name = f"{day} {what.kind} {getattr(what, 'line_deg', '')}"
    about = hours if not isinstance(what, Cut) else None
    return DiaryEntry(uuid5(NAMESPACE_URL, name), When.on(day), what, zone=ZONE, hours=about)
