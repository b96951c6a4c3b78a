"""What is done and seen on one made-up lawn over the years: a plausible round, drawn by chance."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from uuid import UUID

from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import (
    Count,
    Cut,
    Feed,
    Happening,
    Heads,
    HoldOff,
    Note,
    Pull,
    Reading,
    Refill,
    RefillCheck,
    Scarify,
    Seedlings,
    Sow,
    TugTest,
    Verticut,
    Water,
)
from swardbook.husbandry.parked import Parked
from swardbook.observations.counts import Method, PlaceCount

WHO = ("Ines", "Bram", "Odalys", "the crew")
REASONS = ("rain", "ground soft", "frost", "box full of heads, no time", "owner at home")
NOTES = (
    "Gate sticks; ring first.", "Dog about: look before mowing.", "Paler strip by the path again.",
    "Owner asks when the children may play.", "Casts brushed off first.",
    "Neighbour's tree shades it more.",
)  # fmt: skip
ODD = ("Clipped more than a third at once. Look.", "Twice the usual rate. Look.")
_UNNUMBERED = UUID(int=0)
_A_DAY = timedelta(days=1)
POINTS = 25


@dataclass(frozen=True, slots=True)
class Lawn:
    """One zone of a made-up lawn, and the days between which it has a diary."""

    zone: Zone
    lot: str
    pegs: int
    first: date
    last: date


def diary_of(chance: random.Random, lawn: Lawn) -> Iterator[DiaryEntry]:
    """Draw the diary of one zone."""
    weeds = chance.uniform(0.05, 0.5)
    fall = chance.uniform(0.6, 1.1)
    for year in range(lawn.first.year, lawn.last.year + 1):
        share = weeds * fall ** (year - lawn.first.year)
        rounds = (_sown(chance, lawn, year), _mown(chance, lawn, year), _fed(chance, lawn, year),
                  _cared_for(chance, lawn, year), _counted(chance, lawn, year, share))  # fmt: skip
        for entry in (each for part in rounds for each in part):
            if lawn.first <= entry.when.first <= lawn.last:
                yield entry


def _done(
    chance: random.Random, lawn: Lawn, day: date, what: Happening, hours: float | None = None,
    money: str = "",
) -> DiaryEntry:  # fmt: skip
    """Make an entry, mostly written down the same day; one in forty is marked for a look."""
    late = chance.choice((0, 0, 0, 1, 2))
    return DiaryEntry(
        _UNNUMBERED,
        When.on(day),
        what,
        zone=lawn.zone.name,
        who=chance.choice(WHO),
        hours=hours,
        money=Decimal(money) if money else None,
        written_on=min(day + late * _A_DAY, max(lawn.last, day)),
        needs_a_look=chance.choice(ODD) if chance.random() < 0.025 else "",
    )


def _mown(chance: random.Random, lawn: Lawn, year: int) -> Iterator[DiaryEntry]:
    day, height = date(year, 3, 10) + chance.randrange(15) * _A_DAY, lawn.zone.height_of_cut_mm
    hours = round(0.1 + lawn.zone.area_m2 / 800, 1)
    while day < date(year, 11, 10):
        if chance.random() < 0.08:
            held = HoldOff("cut", chance.choice(REASONS))
            yield _done(chance, lawn, day, held)
        else:
            boxed = day.month in {4, 5, 6} or chance.random() < 0.3
            cut = Cut(height + chance.choice((0, 0, 5)), boxed, chance.random() < 0.3)
            yield _done(chance, lawn, day, cut, hours)
        day += chance.randint(5, 11) * _A_DAY


def _fed(chance: random.Random, lawn: Lawn, year: int) -> Iterator[DiaryEntry]:
    for month, nitrogen in ((4, 10.0), (6, 8.0), (9, 4.0)):
        day = date(year, month, chance.randint(3, 27))
        feed = Feed("granular feed", chance.choice((20.0, 25.0, 30.0)), nitrogen, 4.0, 8.0)
        yield _done(chance, lawn, day, feed, 0.3, "6.50")
    for _ in range(chance.randint(2, 8)):
        day = date(year, chance.randint(5, 8), chance.randint(1, 28))
        yield _done(chance, lawn, day, Water(depth_mm=chance.choice((5.0, 8.0, 10.0)), by="hose"))


def _cared_for(chance: random.Random, lawn: Lawn, year: int) -> Iterator[DiaryEntry]:
    for month in (5, 6, 8):
        day = date(year, month, chance.randint(1, 28))
        verticut = Verticut(1.0, line_deg=chance.choice((0.0, 45.0, 90.0)), boxed=True)
        yield _done(chance, lawn, day, verticut, 0.5)
        yield _done(chance, lawn, day - 3 * _A_DAY, Heads(chance.random() < 0.6))
    for _ in range(chance.randint(1, 4)):
        day = date(year, chance.randint(4, 6), chance.randint(1, 28))
        pull = Pull(plants=chance.randint(5, 120), area_m2=round(lawn.zone.area_m2 / 4, 1))
        yield _done(chance, lawn, day, pull, round(chance.uniform(0.3, 2), 1))
    for _ in range(chance.randint(2, 6)):
        day = date(year, chance.randint(1, 12), chance.randint(1, 28))
        yield _done(chance, lawn, day, Note(chance.choice(NOTES)))
    for month in (3, 6, 9):
        height = Reading("sward height", round(lawn.zone.height_of_cut_mm * 1.2, 1), "mm")
        yield _done(chance, lawn, date(year, month, chance.randint(1, 28)), height)
    if chance.random() < 0.1:
        line, cells = chance.randint(2, 90), {"date": "31/9", "job": "cut"}
        row = Parked("history", "sheet.csv", line, "date", "31/9", "a day there is", cells=cells)
        yield replace(_done(chance, lawn, date(year, 9, 30), row), needs_a_look=row.words)


def _sown(chance: random.Random, lawn: Lawn, year: int) -> Iterator[DiaryEntry]:
    """Draw an autumn: a new sward in the first year, refills and a part sowing in others."""
    day = date(year, 9, chance.randint(1, 12))
    if year == lawn.first.year:
        rate = chance.choice((25.0, 30.0, 35.0))
        yield _done(chance, lawn, day - 2 * _A_DAY, Scarify(3.0, passes=2), 2.0)
        yield _done(chance, lawn, day, Sow(lawn.lot, rate, used_g=round(rate * lawn.zone.area_m2)),
                    1.5, "85.00")  # fmt: skip
        for after in range(1, 15, 2):
            yield _done(chance, lawn, day + after * _A_DAY, Water(depth_mm=2.0, place="seedbed"))
        yield _done(chance, lawn, day + 9 * _A_DAY, Seedlings("perennial ryegrass", True))
        yield _done(chance, lawn, day + 25 * _A_DAY, TugTest(True, "perennial ryegrass"))
        return
    holes = chance.randint(5, 60)
    refill = Refill(lawn.lot, holes, 45.0, used_g=round(holes * 0.06, 1))
    yield _done(chance, lawn, day, refill, round(holes / 40, 1))
    check = RefillCheck(min(holes, 20), min(holes, 20) - chance.randint(0, 3), day)
    yield _done(chance, lawn, day + 21 * _A_DAY, check, 0.2)


def _counted(chance: random.Random, lawn: Lawn, year: int, share: float) -> Iterator[DiaryEntry]:
    """Draw the counts of a year: the same pegs in May and in October."""
    for month, bare in ((5, 0.03), (10, 0.06)):
        places = []
        for peg in range(1, lawn.pegs + 1):
            weed = sum(chance.random() < share for _ in range(POINTS))
            gaps = min(sum(chance.random() < bare for _ in range(POINTS)), POINTS - weed)
            found = {"annual meadow-grass": float(weed), "bare": float(gaps),
                     "sown": float(POINTS - weed - gaps)}  # fmt: skip
            name = f"{lawn.zone.name[0]}{peg}"
            places.append(PlaceCount(name, Method.POINTS, found, float(POINTS), "Ines"))
        day = date(year, month, chance.randint(1, 7))
        yield _done(chance, lawn, day, Count(tuple(places)), 0.8)
