"""Draw the counts of the made-up mixture trial: nine mixtures and an unsown control.

A reference generator on the standard library alone. The truth it draws from (cover by mixture and
count, the wetter end, lasting and passing plot noise, clumped points, one counter who reads high)
is made up; swardbook never sees it. The fixed seed is one roll of the dice, not a proof.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from datetime import date

COUNTED_ON = (
    date(2010, 10, 6), date(2010, 11, 17), date(2011, 3, 16),
    date(2011, 5, 18), date(2011, 7, 13), date(2011, 9, 21),
)  # fmt: skip
OCCASIONS = ("S1", "S2", "S3", "S4", "S5", "S6")
COLUMNS = ("sown", "amg", "fog", "broad", "moss", "bare")
POINTS = 25

AMG = {
    "Bobbin": [14, 17, 21, 24, 14, 11],
    "Thimble": [17, 21, 27, 31, 18, 11],
    "Candlewick": [14, 17, 20, 24, 17, 16],
    "Gatepost": [6, 8, 14, 24, 20, 22],
    "Teacake": [8, 10, 15, 22, 17, 18],
    "Wheelbarrow": [8, 10, 15, 23, 18, 19],
    "Pocketwatch": [7, 9, 14, 21, 14, 14],
    "Umbrella": [15, 19, 24, 29, 23, 23],
    "Haystack": [10, 13, 21, 34, 33, 35],
    "Unsown": [30, 36, 42, 52, 44, 46],
}
SOWN = {
    "Bobbin": [46, 55, 56, 62, 74, 81],
    "Thimble": [36, 45, 48, 55, 70, 81],
    "Candlewick": [44, 53, 56, 61, 68, 72],
    "Gatepost": [76, 80, 71, 66, 68, 67],
    "Teacake": [66, 72, 68, 66, 70, 71],
    "Wheelbarrow": [64, 70, 67, 65, 69, 70],
    "Pocketwatch": [70, 75, 71, 68, 75, 77],
    "Umbrella": [42, 50, 51, 54, 60, 63],
    "Haystack": [58, 64, 57, 48, 48, 47],
    "Unsown": [4, 6, 9, 12, 16, 19],
}
OTHER = [(1, 3, 1), (1, 3, 2), (1, 3, 4), (2, 4, 2), (2, 3, 1), (2, 3, 1)]
"""Fog, broad-leaved weeds and moss on the sown plots, percent at each count."""
OTHER_UNSOWN = [(1, 5, 2), (1, 6, 4), (2, 8, 9), (4, 10, 6), (5, 11, 6), (6, 12, 8)]
BLOCK = {1: 0.35, 2: 0.10, 3: -0.10, 4: -0.35}
"""Shift of annual meadow-grass on the logit scale; block 1 is the wet south end."""
SD_PLOT, SD_VISIT, RHO, RATER = 0.20, 0.15, 0.03, 0.30
SEED = 20240904

Place = tuple[int, int]
"""Block and number of a plot."""


@dataclass(frozen=True, slots=True)
class TrialRow:
    """One placement of a 25-point frame on one plot."""

    occasion: int
    block: int
    plot: int
    planned: str
    counter: str
    placement: int
    hits: tuple[int, ...]
    """Points on each of `COLUMNS`."""

    @property
    def day(self) -> date:
        """The day it was counted."""
        return COUNTED_ON[self.occasion]


@dataclass(frozen=True, slots=True)
class Trial:
    """The drawn trial: its plan, what went wrong, and every placement."""

    plan: dict[Place, str]
    mis_sown: Place
    spoiled: Place
    rows: tuple[TrialRow, ...]


def draw_trial(seed: int = SEED) -> Trial:
    """Draw the plan and the 984 placements, the same on every machine; other seeds, other luck."""
    return _Draw(seed).run()


def _logit(p: float) -> float:
    return math.log(p / (1 - p))


def _inverse(z: float) -> float:
    return 1 / (1 + math.exp(-z))


class _Draw:
    """One run of the generator; the order of its draws is part of the result."""

    def __init__(self, seed: int = SEED) -> None:
        self.chance = random.Random(seed)
        self.rows: list[TrialRow] = []
        self.layout: dict[Place, str] = {}
        for block in BLOCK:
            order = list(AMG)
            self.chance.shuffle(order)
            for number, mixture in enumerate(order, 1):
                self.layout[block, number] = mixture
        self.plan = dict(self.layout)
        self.mis_sown = next(k for k, m in self.plan.items() if k[0] == 3 and m == "Teacake")
        self.layout[self.mis_sown] = "Pocketwatch"
        self.spoiled = next(k for k, m in self.plan.items() if k[0] == 1 and m == "Umbrella")
        self.lasting = {k: self.chance.gauss(0, SD_PLOT) for k in self.layout}
        self.passing: dict[Place, float] = {}

    def run(self) -> Trial:
        for occasion in range(6):
            self.passing = {k: self.chance.gauss(0, SD_VISIT) for k in self.layout}
            for place in self.layout:
                if place == self.spoiled and occasion >= 4:
                    continue
                first = "Odalys" if occasion == 3 and place[0] >= 3 else "Ines"
                self.count(place, occasion, first)
                if occasion == 3 and place[1] <= 2:
                    second = "Ines" if first == "Odalys" else "Odalys"
                    self.count(place, occasion, second)
        return Trial(self.plan, self.mis_sown, self.spoiled, tuple(self.rows))

    def count(self, place: Place, occasion: int, counter: str) -> None:
        mixture, block = self.layout[place], place[0]
        z = (
            _logit(AMG[mixture][occasion] / 100) + BLOCK[block] + self.lasting[place]
            + self.passing[place] + (RATER if counter == "Odalys" else 0)
        )  # fmt: skip
        amg = _inverse(z)
        others = OTHER_UNSOWN if mixture == "Unsown" else OTHER
        fog, broad, moss = (x / 100 for x in others[occasion])
        sown = SOWN[mixture][occasion] / 100 * (1 - amg) / (1 - AMG[mixture][occasion] / 100)
        rest = max(1 - amg - sown - fog - broad - moss, 0.01)
        for placement in range(1, 5):
            hits = self.placement([sown, amg, fog, broad, moss, rest])
            self.rows.append(
                TrialRow(occasion, *place, self.plan[place], counter, placement, tuple(hits))
            )

    def placement(self, shares: list[float]) -> list[int]:
        """Draw one frame whose points clump (Dirichlet-multinomial).

        Each kind is counted on a throw of its own, so the six need not add up to 25.
        """
        alphas = [max(share, 0.002) * (1 / RHO - 1) for share in shares]
        gammas = [self.chance.gammavariate(alpha, 1) for alpha in alphas]
        weights = [gamma / sum(gammas) for gamma in gammas]
        return [
            sum(1 for kind in self.chance.choices(range(6), weights, k=POINTS) if kind == column)
            for column in range(6)
        ]


def adding_up(hits: tuple[int, ...]) -> dict[str, int]:
    """Give a frame's hits so that they add up to its points.

    Annual meadow-grass stands as drawn; the other kinds share the points that are left in
    proportion to what was drawn, by largest remainder.
    """
    amg = hits[COLUMNS.index("amg")]
    others = {kind: n for kind, n in zip(COLUMNS, hits, strict=True) if kind != "amg"}
    drawn, left = sum(others.values()), POINTS - amg
    exact = {kind: n * left / drawn if drawn else 0.0 for kind, n in others.items()}
    whole = {kind: int(share) for kind, share in exact.items()}
    by_remainder = sorted(exact, key=lambda kind: (whole[kind] - exact[kind], kind))
    for kind in by_remainder[: left - sum(whole.values())]:
        whole[kind] += 1
    if not drawn:
        whole = dict.fromkeys(others, 0) | {"bare": left}
    return {"amg": amg, **whole}
