"""Small hand-made grounds for planning: one zone, a few entries, plain weather."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5

import numpy as np

from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Mower, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import Cut, Happening, Sow, TugTest
from swardbook.planning.situation import Situation, situation
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.weather.series import DailyWeather

ZONE = "Short court"
MAY = date(2011, 5, 24)
BOBBIN = SeedLot(
    "BB-0417", "Bobbin",
    (LotPart("chewings fescue", 0.4), LotPart("slender creeping red fescue", 0.4),
     LotPart("browntop bent", 0.2)),
    bought_g=40_000,
)  # fmt: skip
RYE = SeedLot("GP-2240", "Gatepost", (LotPart("perennial ryegrass", 1.0),), bought_g=10_000)

ByDay = float | Callable[[date], float]


def site(**more: Any) -> Site:
    """Make a lowland site at 52° north."""
    given: dict[str, Any] = {"weekly_hours": 9.0, "hose_l_min": 14.0, **more}
    return Site("Fennowick Croquet Club", given.pop("latitude", 52.0), 62.0, **given)


def zone(**more: Any) -> Zone:
    """Make a court cut at 8 mm with a boxed cylinder."""
    given: dict[str, Any] = {
        "area_m2": 460.8, "use": Use.COURT_OR_GREEN, "tolerance": Tolerance(0.05, 0.03, 0),
        "height_of_cut_mm": 8.0, "mower": Mower("cylinder", 510.0, True), "soil": "sandy loam",
        "sun_hours": 7.0, **more,
    }  # fmt: skip
    return Zone(given.pop("name", ZONE), **given)


def on(day: date, what: Happening, last: date | None = None, **more: Any) -> DiaryEntry:
    """Make an entry of the zone; `last` makes it undated over a span."""
    given: dict[str, Any] = {"zone": ZONE, **more}
    name = f"{day} {last} {what} {sorted(given.items())}"
    return DiaryEntry(uuid5(NAMESPACE_URL, name), When(day, last or day), what, **given)


def ground(
    *entries: DiaryEntry, lots: tuple[SeedLot, ...] = (BOBBIN,), of: Zone | None = None,
    at: Site | None = None,
) -> Ground:  # fmt: skip
    """Make a ground of one zone; entries stand in the order they happened."""
    ordered = tuple(sorted(entries, key=lambda entry: entry.when.first))
    return Ground(at or site(), (of or zone(),), lots=lots, diary=ordered)


def weather(
    first: date, last: date, tmin: ByDay = 8.0, tmax: ByDay = 18.0, rain: ByDay = 0.0,
    humidity: float | None = None,
) -> DailyWeather:  # fmt: skip
    """Make plain weather: each series a number or a function of the day."""
    number = (last - first).days + 1
    days = [first + timedelta(days=n) for n in range(number)]

    def series(rule: ByDay) -> np.ndarray[Any, np.dtype[np.float64]]:
        return np.array([rule(day) if callable(rule) else rule for day in days], dtype=np.float64)

    return DailyWeather(
        np.array(days, dtype="datetime64[D]"), series(tmin), series(tmax), series(rain),
        np.zeros(number, dtype=np.int64),
        humidity=None if humidity is None else np.full(number, humidity),
    )  # fmt: skip


def mild_may(today: date = MAY, **more: Any) -> DailyWeather:
    """Make a year of mild, moist weather up to a day."""
    given: dict[str, Any] = {
        "tmin": 8.0,
        "tmax": 18.0,
        "rain": lambda day: 8.0 * (day.day % 4 == 1),
    }
    return weather(today - timedelta(days=365), today, **{**given, **more})


def seasons(first_year: int, last: date, **more: Any) -> DailyWeather:
    """Make many years of a lowland climate as a plain wave of temperature."""

    def mean(day: date) -> float:
        return float(10.0 - 6.5 * np.cos(2 * np.pi * (day.timetuple().tm_yday - 28) / 365.25))

    given: dict[str, Any] = {
        "tmin": lambda day: mean(day) - 4, "tmax": lambda day: mean(day) + 4,
        "rain": lambda day: 6.0 * (day.day % 3 == 0), **more,
    }  # fmt: skip
    return weather(date(first_year, 1, 1), last, **given)


def look(
    *entries: DiaryEntry, today: date = MAY, sky: DailyWeather | None = None,
    lots: tuple[SeedLot, ...] = (BOBBIN,), of: Zone | None = None, at: Site | None = None,
) -> Situation:  # fmt: skip
    """Look at a small ground on a day."""
    whole = ground(*entries, lots=lots, of=of, at=at)
    return situation(whole, whole.zones[0].name, sky, today)


def grown(today: date = MAY) -> tuple[DiaryEntry, ...]:
    """Give the entries of a sward sown last September: cut, tugged, growing, just looked at."""
    sown = date(today.year - 1, 9, 4)
    cuts = [
        on(today - timedelta(days=back), Cut(8.0, True, True)) for back in (3, 6, 9, 12, 15, 18)
    ]
    return (
        on(sown, Sow("BB-0417", 30.0)),
        on(today - timedelta(days=40), TugTest(True)),
        *cuts,
    )
