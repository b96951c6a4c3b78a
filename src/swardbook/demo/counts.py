"""Counts at the pegs of the made-up ground, drawn from made-up truths.

Cover is counted by 25 points a frame. A place's own share is drawn from a beta distribution whose
clumping (correlation of two points in one frame) is 0.08, and the shares of one place at two visits
are correlated 0.6, both through normal scores. Plants in square metres are negative binomial with
k = 1. The seed was chosen among the first thousand so that what is drawn teaches what the made-up
ground is there to teach: the means lie near the truths below. That is what a made-up example is; it
proves nothing about any lawn.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from functools import cache
from statistics import NormalDist

from scipy.special import betaincinv, gammaincinv

from swardbook.demo.ground import PEGS, SQUARES
from swardbook.demo.names import (
    APRON,
    FOG,
    INES,
    LIME_WALK,
    MAIN,
    MEADOW_GRASS,
    ODALYS,
    SHORT,
    SURROUND,
)
from swardbook.demo.writing import done
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method, PlaceCount

DAYS = ("2010-08-07", "2010-10-09", "2011-03-12", "2011-05-07", "2011-08-06", "2011-10-08")
OCCASIONS = ("August 2010", "October 2010", "March 2011", "May 2011", "August 2011",
             "October 2011")  # fmt: skip
COVER = {
    # percent of annual meadow-grass on each of the days
    MAIN: (35, 16, 20, 26, 21, 17),
    SURROUND: (31, 30, 34, 41, 33, 29),
    APRON: (58, 55, 54, 31, 34, 37),
    LIME_WALK: (22, 14, 18, 23, 24, 23),
}
REST = {
    # of the other points: (fog, bare, moss) as shares on each day; what is left is wanted grass
    MAIN: ((0.02, 0.06, 0.10), (0.0, 0.16, 0.02), (0.0, 0.08, 0.05), (0.0, 0.05, 0.03),
           (0.01, 0.03, 0.01), (0.01, 0.03, 0.02)),
    SURROUND: ((0.03, 0.04, 0.06), (0.03, 0.04, 0.07), (0.03, 0.05, 0.10), (0.03, 0.05, 0.06),
               (0.03, 0.06, 0.04), (0.03, 0.04, 0.05)),
    APRON: ((0.02, 0.36, 0.04), (0.02, 0.30, 0.05), (0.02, 0.34, 0.08), (0.0, 0.08, 0.03),
            (0.0, 0.14, 0.02), (0.0, 0.12, 0.03)),
    LIME_WALK: ((0.02, 0.12, 0.50), (0.0, 0.36, 0.12), (0.0, 0.24, 0.24), (0.0, 0.14, 0.24),
                (0.01, 0.14, 0.22), (0.01, 0.12, 0.28)),
}  # fmt: skip
SHORT_BEFORE = (48, (0.02, 0.30, 0.18))
SHORT_BARE = {"2011-03-12": 8, "2011-10-08": 2}
"""Percent bare, by points, on the days it was looked at; meadow-grass is too thin for points."""
PLANTS = {
    # plants a square metre from October 2010 on
    "pulled": (2.1, 4.6, 1.9, 1.4, 1.8),
    "untouched": (2.3, 5.1, 7.6, 8.4, 9.8),
}
VERTICUT = (15, 18, 21, 21, 19)
NOT_VERTICUT = (27, 19, 30, 22, 26)
"""Percent of annual meadow-grass in the five pairs of strips on 10 September 2011."""
CLUMPING, BETWEEN_VISITS, K, POINTS = 0.08, 0.6, 1.0, 25
SEED = 741

_NORMAL = NormalDist()


class _Places:
    """Places with a lasting character each; draws are the same on every machine."""

    def __init__(self, chance: random.Random, number: int) -> None:
        self.chance = chance
        self.lasting = [self._score() for _ in range(number)]

    def _score(self) -> float:
        return _NORMAL.inv_cdf(min(max(self.chance.random(), 1e-12), 1 - 1e-12))

    def ranks(self) -> list[float]:
        """Draw where each place stands at one visit, from 0 to 1."""
        keep, new = math.sqrt(BETWEEN_VISITS), math.sqrt(1 - BETWEEN_VISITS)
        return [_NORMAL.cdf(keep * score + new * self._score()) for score in self.lasting]

    def hits(self, percent: float) -> list[int]:
        """Draw the points of each place that hit at one visit."""
        mean, size = percent / 100, 1 / CLUMPING - 1
        shares = betaincinv(mean * size, (1 - mean) * size, self.ranks())
        return [sum(self.chance.random() < share for _ in range(POINTS)) for share in shares]

    def plants(self, per_m2: float) -> list[int]:
        """Draw the plants in one square metre at each place."""
        rates = gammaincinv(K, self.ranks()) * per_m2 / K
        return [self._poisson(float(rate)) for rate in rates]

    def _poisson(self, rate: float) -> int:
        limit, product, number = math.exp(-rate), self.chance.random(), 0
        while product > limit:
            product *= self.chance.random()
            number += 1
        return number

    def others(self, left: int, shares: Sequence[float]) -> list[int]:
        """Share out the points that did not hit: fog, bare, moss and the rest."""
        found = [0] * (len(shares) + 1)
        for _ in range(left):
            at, kind = self.chance.random(), 0
            while kind < len(shares) and at >= shares[kind]:
                at -= shares[kind]
                kind += 1
            found[kind] += 1
        return found


@cache
def draw(seed: int = SEED) -> dict[tuple[str, str], tuple[PlaceCount, ...]]:
    """Draw every count of the pegs, by zone and day."""
    chance = random.Random(seed)
    drawn: dict[tuple[str, str], tuple[PlaceCount, ...]] = {}
    for zone, percents in COVER.items():
        names = _names(zone)
        places = _Places(chance, len(names))
        for visit, (day, percent) in enumerate(zip(DAYS, percents, strict=True)):
            drawn[zone, day] = _frames(places, names, percent, REST[zone][visit], day)
    names = _names(SHORT)[::2]
    before, shares = SHORT_BEFORE
    drawn[SHORT, DAYS[0]] = _frames(_Places(chance, 12), names, before, shares, DAYS[0])
    pulled = _Places(chance, 24)
    untouched = _Places(chance, len(SQUARES))
    for day, inside, beside in zip(DAYS[1:], PLANTS["pulled"], PLANTS["untouched"], strict=True):
        drawn[SHORT, day] = (
            *_squares(_names(SHORT), pulled.plants(inside), day),
            *_squares([square.name for square in SQUARES], untouched.plants(beside), day),
        )
    for day, bare in SHORT_BARE.items():
        drawn[SHORT, day] += _bare(chance, names, bare)
    return drawn


def _names(zone: str) -> list[str]:
    return [peg.name for peg in PEGS if peg.zone == zone]


def _counter(day: str, number: int, of: int) -> str:
    """In March 2011, her first day, Odalys counts the last third of the places; Ines all else."""
    return ODALYS if day == DAYS[2] and number >= of * 2 // 3 else INES


def _frames(
    places: _Places, names: Sequence[str], percent: float, shares: Sequence[float], day: str
) -> tuple[PlaceCount, ...]:
    counts = []
    for number, (name, hit) in enumerate(zip(names, places.hits(percent), strict=True)):
        fog, bare, moss, wanted = places.others(POINTS - hit, shares)
        found = {"sown": wanted, MEADOW_GRASS: hit, FOG: fog, "bare": bare, "moss": moss}
        counts.append(
            PlaceCount(
                name, Method.POINTS, {kind: float(n) for kind, n in found.items()}, POINTS,
                _counter(day, number, len(names)),
            )
        )  # fmt: skip
    return tuple(counts)


def _squares(names: Sequence[str], plants: Sequence[int], day: str) -> tuple[PlaceCount, ...]:
    return tuple(
        PlaceCount(name, Method.PLANTS, {MEADOW_GRASS: float(number)}, 1.0, INES)
        for name, number in zip(names, plants, strict=True)
    )


def _bare(chance: random.Random, names: Sequence[str], percent: float) -> tuple[PlaceCount, ...]:
    """Count bare ground by points where meadow-grass is counted by plants."""
    hits = _Places(chance, len(names)).hits(percent)
    return tuple(
        PlaceCount(name, Method.POINTS, {"bare": float(hit)}, POINTS, INES)
        for name, hit in zip(names, hits, strict=True)
    )


def zone_counts() -> list[DiaryEntry]:
    """Write one entry for each zone, day and counter."""
    entries = []
    occasions = dict(zip(DAYS, OCCASIONS, strict=True))
    for (zone, day), places in draw().items():
        for counter in dict.fromkeys(place.counter for place in places):
            own = tuple(place for place in places if place.counter == counter)
            hours = round(len(own) * 2.8 / 60, 1)
            entries.append(done(day, zone, Count(own, occasions[day]), counter, hours=hours))
    return entries


def strip_plots() -> tuple[Plot, ...]:
    """Give the ten strips of the verticut comparison: five pairs, sides by coin toss."""
    sides = ("verticut", "not verticut")
    heads_up = (True, False, False, True, False)
    return tuple(
        Plot(_strip(pair, side), MAIN, pair, number, side)
        for pair, first in enumerate(heads_up, 1)
        for number, side in enumerate(sides if first else sides[::-1], 1)
    )


def _strip(pair: int, side: str) -> str:
    """Name a strip: V for verticut, N for not, and the number of its pair."""
    return f"{side[0].upper()}{pair}"


def strip_count() -> DiaryEntry:
    """Write the count of the strips: four frames of 25 points in each."""
    counts = []
    for side, percents in (("verticut", VERTICUT), ("not verticut", NOT_VERTICUT)):
        for pair, percent in enumerate(percents, 1):
            for placement in range(1, 5):
                hit = (percent + (placement * 3 + pair) % 4) // 4
                found = {MEADOW_GRASS: float(hit), "sown": float(24 - hit), "bare": 1.0}
                counts.append(
                    PlaceCount(_strip(pair, side), Method.POINTS, found, POINTS, INES, placement)
                )
    return done(
        "2011-09-10", MAIN, Count(tuple(counts), "verticut strips"), INES, hours=1.8,
        note="Before tining and seed. Cut unboxed on 23 July, 6 August and 3 September.",
    )  # fmt: skip
