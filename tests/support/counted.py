"""Counts for tests: places with given figures, occasions, and a ground that holds them."""

from collections.abc import Iterable, Sequence
from datetime import date
from uuid import UUID, uuid5

from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import Count, Happening
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import Occasion

WEED = "annual meadow-grass"
_IDS = UUID("00000000-0000-0000-0000-000000000001")


def around(mean: float, n: int, spread: float, shift: int = 0) -> list[float]:
    """Give `n` figures with a mean, spread evenly, in an order turned by `shift`."""
    steps = [(2 * i / (n - 1) - 1) * spread for i in range(n)]
    turned = steps[shift:] + steps[:shift]
    return [mean + step for step in turned]


def points(
    percents: Iterable[float], counter: str = "Ines", letter: str = "M", looked: float = 25
) -> tuple[PlaceCount, ...]:
    """Give one place for each percentage of cover, counted by points."""
    return tuple(
        PlaceCount(
            f"{letter}{n:02d}", Method.POINTS, {WEED: round(p * looked / 100)}, looked, counter
        )
        for n, p in enumerate(percents, 1)
    )


def plants(
    counts: Sequence[float], counter: str = "Ines", letter: str = "S", area: float = 1.0
) -> tuple[PlaceCount, ...]:
    """Give one place for each count of plants."""
    return tuple(
        PlaceCount(f"{letter}{n:02d}", Method.PLANTS, {WEED: float(c)}, area, counter)
        for n, c in enumerate(counts, 1)
    )


def occasion(day: str, places: tuple[PlaceCount, ...]) -> Occasion:
    """Give an occasion on an ISO day."""
    return Occasion(date.fromisoformat(day), places)


def entry(day: str, what: Happening, zone: str = "Court", **about: object) -> DiaryEntry:
    """Give a diary entry on an ISO day."""
    when = When.on(date.fromisoformat(day))
    return DiaryEntry(uuid5(_IDS, f"{day}{what}{zone}"), when, what, zone=zone, **about)  # type: ignore[arg-type]


def counted(day: str, places: tuple[PlaceCount, ...], zone: str = "Court") -> DiaryEntry:
    """Give a count as a diary entry."""
    return entry(day, Count(places), zone)


def ground(
    *diary: DiaryEntry,
    pegs: int = 24,
    squares: int = 0,
    others: Sequence[tuple[str, str, int]] = (),
    sun_hours: float = 7.0,
) -> Ground:
    """Give a ground with a court, pegs ``M01`` on, and honest squares ``H01`` on.

    `others` are further zones: name, letter of their pegs, and how many.
    """
    fine = Tolerance(0.2, 0.05, 2)
    zones = [Zone("Court", 460.8, Use.COURT_OR_GREEN, fine, 8.0, sun_hours=sun_hours)]
    marks = [Peg(f"{letter}{n:02d}", "Court") for letter in "MS" for n in range(1, pegs + 1)]
    for name, letter, n in others:
        zones.append(Zone(name, 100.0, Use.SURROUND, fine, 20.0))
        marks += [Peg(f"{letter}{i:02d}", name) for i in range(1, n + 1)]
    return Ground(
        Site("Fennowick", 52.0, 62.0),
        tuple(zones),
        tuple(marks),
        tuple(HonestSquare(f"H{n:02d}", "Court") for n in range(1, squares + 1)),
        diary=tuple(sorted(diary, key=lambda each: each.day)),
    )
