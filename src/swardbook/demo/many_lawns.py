"""A firm's book: hundreds of made-up lawns with years of diary, drawn from a seed.

For tests and for measuring; places, people and results are made up. A lawn is the same in a book
of three and in one of three hundred.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from uuid import UUID

import numpy as np

from swardbook.book.filling import FilledGround, fill_grounds
from swardbook.demo.many_lawns_year import Lawn, diary_of
from swardbook.demo.weather import made_up_weather
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Site, Tolerance, Use, Zone
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather

TODAY = date(2011, 10, 8)
STREETS = (
    "Plover Row", "Lime Walk", "Raintank Yard", "Old Bed Lane", "Kitchen Wall", "Gravelside",
    "Court End", "Almshouse Row", "Pavilion Way", "Nursery Close",
)  # fmt: skip
ZONES = (
    ("Front lawn", Use.FAMILY_LAWN, 25.0), ("Back lawn", Use.FAMILY_LAWN, 30.0),
    ("Play lawn", Use.PLAY, 35.0), ("Green", Use.COURT_OR_GREEN, 10.0),
)  # fmt: skip
STATIONS = 10
"""How many weather series the lawns share."""
PEGS = 6


@dataclass(frozen=True, slots=True)
class Firm:
    """What is drawn.

    Parameters
    ----------
    lawns : int
        How many.
    years : int
        Years of diary of most of them.
    seed : int
        Seed of the draws.
    today : date
        The day that each made-up lawn carries.
    """

    lawns: int = 300
    years: int = 3
    seed: int = 20111008
    today: date = TODAY


def write_firm(settings: Settings, firm: Firm) -> tuple[str, ...]:
    """Write a new book with all lawns of a firm; gives their short names.

    Raises
    ------
    BadInputError
        If there is a book already.
    """
    stations = [station(firm, number) for number in range(STATIONS)]
    return fill_grounds(
        settings,
        (
            FilledGround(lawn, stations[n % STATIONS], f"Made-up station {n % STATIONS + 1}")
            for n, lawn in enumerate(lawns_of(firm))
        ),
    )


def lawns_of(firm: Firm) -> Iterator[Ground]:
    """Draw the lawns of a firm, each with its diary in the order written."""
    for number in range(firm.lawns):
        yield drawn(firm, number)


def drawn(firm: Firm, number: int) -> Ground:
    """Draw one lawn: most with all years, a few young, a few long silent."""
    chance = random.Random(f"{firm.seed} {number}")
    zones = tuple(
        _zone(chance, *each) for each in chance.sample(ZONES, chance.choice((1, 1, 2, 3)))
    )
    lots = tuple(_lot(number, each) for each in range(1, chance.choice((2, 3))))
    site = Site(
        f"{number // len(STREETS) + 1} {STREETS[number % len(STREETS)]}",
        round(52.0 + chance.uniform(-0.2, 0.2), 3),
        round(chance.uniform(10, 90)),
        weekly_hours=round(chance.uniform(0.5, 3), 1),
        hose_l_min=round(chance.uniform(9, 18)),
        made_up_today=firm.today,
    )
    pegs = tuple(Peg(f"{zone.name[0]}{n}", zone.name, f"{n}.2 m from the gate")
                 for zone in zones for n in range(1, PEGS + 1))  # fmt: skip
    squares = tuple(HonestSquare(f"{zone.name[0]}S1", zone.name) for zone in zones)
    first, last = _span(firm, chance)
    entries = [
        entry
        for zone in zones
        for entry in diary_of(chance, Lawn(zone, lots[0].code, PEGS, first, last))
    ]
    return Ground(site, zones, pegs, squares, lots=lots, diary=_in_order(chance, entries))


def _span(firm: Firm, chance: random.Random) -> tuple[date, date]:
    kind = chance.random()
    first = firm.today - timedelta(days=365 * firm.years + 40 + chance.randrange(20))
    if kind < 0.05:
        return firm.today - timedelta(days=chance.randrange(4, 40)), firm.today
    if kind < 0.13:
        return first, firm.today - timedelta(days=chance.randrange(60, 300))
    return first, firm.today - timedelta(days=chance.randrange(6))


def _in_order(chance: random.Random, entries: Sequence[DiaryEntry]) -> tuple[DiaryEntry, ...]:
    """Number the entries, and put them in the order written."""
    named = (replace(each, id=UUID(int=chance.getrandbits(128), version=4)) for each in entries)
    return tuple(sorted(named, key=lambda each: each.written_on or each.when.first))


def _zone(chance: random.Random, name: str, use: Use, height_mm: float) -> Zone:
    return Zone(
        name,
        round(chance.lognormvariate(5.0, 0.6), 1),
        use,
        Tolerance(chance.choice((0.1, 0.2, 0.3)), 0.05, chance.choice((0, 2, 5))),
        height_mm,
    )


def _lot(number: int, each: int) -> SeedLot:
    parts = (
        LotPart("perennial ryegrass", 0.6, germination=0.9),
        LotPart("red fescue", 0.4, germination=0.85),
    )
    # One lot in eight lawns: a bad lot is traced through many.
    return SeedLot(f"BB-{100 * each + number // 8:04d}", "Bobbin", parts, bought_g=20_000,
                   price_per_kg="6.40")  # fmt: skip


def station(firm: Firm, number: int) -> DailyWeather:
    """Give one station's weather: the county series, warmer or cooler by tenths of a degree."""
    whole = made_up_weather()
    days = whole.days
    first = np.datetime64(firm.today - timedelta(days=365 * firm.years + 400), "D")
    chosen = (days >= first) & (days <= np.datetime64(firm.today, "D"))
    shift = 0.1 * (number - STATIONS // 2)
    et0 = whole.et0_given
    return DailyWeather(
        days=days[chosen],
        tmin=whole.tmin[chosen] + shift,
        tmax=whole.tmax[chosen] + shift,
        rain=whole.rain[chosen],
        flags=whole.flags[chosen],
        et0_given=None if et0 is None else et0[chosen],
    )
