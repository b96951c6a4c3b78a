"""Sums that a keeper can do by hand: passes, places, none found, shares, days past the clock."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import sqrt

from swardbook.evidence import (
    PairedChange,
    densest_unseen,
    largest_unseen_share,
    newcombe,
    places_needed,
    two_pass_removal,
    wilson,
)
from swardbook.evidence.estimates import normal_quantile
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.provenance import Grade
from swardbook.foundation.quantities import convert
from swardbook.husbandry.areas import between_offsets, oblong, triangle
from swardbook.husbandry.cylinder import clip_mm
from swardbook.planning.cut_gaps import exposed_days
from swardbook.trials.power import needed_gap_any, needed_gap_pair
from tests.support.checks import Check

JUDGE = "seabold_perktold_2010"
LEAST_CATCH = 0.3
"""Share of what stands that a pass must take before an estimate is made of two."""


def _hand(
    key: str, what: str, place: str, expected: float, tolerance: float, got: Callable[[], float],
    source: str = "practice",
) -> Check:  # fmt: skip
    return Check(f"hand-{key}", what, source, place, expected, tolerance, Grade.DEFINED, got)


def _passes(first: int, second: int, least: float = LEAST_CATCH) -> tuple[float, ...]:
    found = two_pass_removal(first, second, least)
    return found.total, found.standard_error, found.left, *found.left_interval()


def _is_refused(first: int, second: int) -> float:
    try:
        two_pass_removal(first, second, LEAST_CATCH)
    except NotEnoughDataError:
        return 1.0
    return 0.0


def _change(places: int, end: int) -> float:
    return PairedChange(7, 9 / sqrt(places), places, 0, places, 0).interval(0.95)[end]


PASSES = [
    _hand("passes-total", "plants there were, 220 taken and then 66", "n1² / (n1 - n2)", 314, 0.5,
          lambda: _passes(220, 66)[0]),
    _hand("passes-error", "standard error of that", "n1 n2 √(n1 + n2) / (n1 - n2)²", 10.4, 0.05,
          lambda: _passes(220, 66)[1]),
    _hand("passes-left", "plants left of them", "total less both passes", 28, 0.5,
          lambda: _passes(220, 66)[2]),
    _hand("passes-left-low", "plants left of them, low end of 95 %", "± 1.96 errors", 8, 0.5,
          lambda: _passes(220, 66)[3]),
    _hand("passes-left-high", "plants left of them, high end of 95 %", "± 1.96 errors", 49, 0.5,
          lambda: _passes(220, 66)[4]),
    _hand("passes-near", "plants there were, 41 taken and then 35", "n1² / (n1 - n2)", 280, 0.5,
          lambda: _passes(41, 35, 0.1)[0]),
    _hand("passes-near-error", "standard error of that", "n1 n2 √(n1 + n2) / (n1 - n2)²", 348, 0.5,
          lambda: _passes(41, 35, 0.1)[1]),
    _hand("passes-near-refused", "an estimate of those is refused: 1 yes",
          "a pass took too few of what stood", 1, 0, lambda: _is_refused(41, 35)),
]  # fmt: skip

PLACES = [
    *(
        _hand(f"change-{places}-{word}",
              f"{word} end of 95 % of a change of 7 at {places} places, spread 9",
              "mean ± t SD / √n", expected, 0.05, partial(_change, places, end))
        for places, ends in ((20, (2.8, 11.2)), (8, (-0.5, 14.5)))
        for end, (word, expected) in enumerate(zip(("low", "high"), ends, strict=True))
    ),
    *(
        _hand(f"places-{spread}-{half}", f"places for ± {half} where places spread by {spread}",
              "(t SD / E)², rounded up", places, 0, partial(places_needed, spread, half))
        for spread, half, places in ((12, 5, 25), (12, 3, 64), (9, 3, 37))
    ),
]  # fmt: skip

NONE_FOUND = [
    _hand("none-density", "plants a m² that none found on 24 m² allows", "-ln 0.05 / area", 0.125,
          0.0005, lambda: densest_unseen(24)),
    _hand("none-plants", "plants on 240 m² that it allows", "that times the area", 30, 0.5,
          lambda: 240 * densest_unseen(24)),
    _hand("none-by-three", "three over the area, against the exact sum, for 24 m² [plants m⁻²]",
          "3 / area", 3 / 24, 0.0005, lambda: densest_unseen(24)),
    *(
        _hand(f"none-points-{points}", f"share that none of {points} points allows [%]",
              "1 - 0.05^(1/n)", percent, 0.05, lambda points=points:  # type: ignore[misc]
              100 * largest_unseen_share(points))
        for points, percent in ((100, 3.0), (300, 1.0))
    ),
]  # fmt: skip

SHARES = [
    *(
        _hand(f"share-{hits}-{n}-{word}", f"{word} end of 95 % of {hits} in {n} [%]",
              "Wilson's interval, computed; whole percents", percent, 0.5,
              lambda hits=hits, n=n, end=end: 100 * wilson(hits, n)[end],  # type: ignore[misc]
              JUDGE)
        for hits, n, ends in ((2, 40, (1, 17)), (7, 18, (20, 61)), (52, 58, (79, 95)),
                              (31, 60, (39, 64)), (74, 100, (65, 82)))
        for end, (word, percent) in enumerate(zip(("low", "high"), ends, strict=True))
    ),
    *(
        _hand(f"difference-{word}", f"{word} end of 95 % of 7 in 18 less 2 in 40 [points]",
              "Newcombe's interval, computed; whole points", points, 0.5,
              lambda end=end: 100 * newcombe(7, 18, 2, 40)[end],  # type: ignore[misc]
              JUDGE)
        for end, (word, points) in enumerate((("low", 12), ("high", 57)))
    ),
]  # fmt: skip

CLOCK = [
    _hand(f"exposed-{clock}", f"days past a clock of {clock}, cuts 3, 3, 4, 5, 11 and 3 days apart",
          "sum of max(0, gap - clock)", days, 0,
          partial(exposed_days, (3, 3, 4, 5, 11, 3), clock))
    for clock, days in ((10, 1), (7, 4), (5, 6))
]  # fmt: skip

GAPS = [
    _hand("gap-planned", "gap that one planned pair of nine mixtures in four blocks must show",
          "t √(2 MS / r), MS 25, 24 df; computed", 7.3, 0.05,
          lambda: needed_gap_pair(sqrt(2 * 25 / 4), 24), "virtanen_scipy_2020"),
    _hand("gap-any", "gap that any pair of them must show", "q √(MS / r); computed", 12.0, 0.05,
          lambda: needed_gap_any(sqrt(2 * 25 / 4), 24, 9), "virtanen_scipy_2020"),
]  # fmt: skip

MISCELLANY = [
    *(
        _hand(f"clip-{blades}", f"clip at 1.2 m/s, 720 turns, {blades} blades [mm]",
              "speed over clips a second", clip, 0.05, partial(clip_mm, 1.2, 720, blades))
        for blades, clip in ((10, 10.0), (6, 16.7))
    ),
    _hand("area-court", "32 by 25.6 m [m²]", "product of the sides", 819.2, 1e-9,
          lambda: oblong(32, 25.6)),
    _hand("area-triangle", "sides of 3, 4 and 5 m [m²]", "Heron's formula", 6, 1e-9,
          lambda: triangle(3, 4, 5)),
    _hand("area-trapezia", "offsets 3, 5 and 4 m, 2 m apart [m²]", "sum of trapezia", 17, 1e-9,
          lambda: between_offsets([3, 5, 4], 2)),
    _hand("normal-80", "half-width of 80 % of a normal spread, in spreads",
          "chance of 1 in 10 beyond each end", 1.2816, 5e-5, lambda: normal_quantile(0.8)),
    *(
        _hand(f"unit-{key}", f"1 {key} [{unit}]", "definition of the unit", expected, tolerance,
              lambda key=key: convert(1, key)[0], "definition")  # type: ignore[misc]
        for key, unit, expected, tolerance in (
            ("oz/yd2", "g/m²", 33.906, 0.0005), ("in", "mm", 25.4, 0),
            ("gal_us", "L", 3.785, 0.0005), ("gal_uk", "L", 4.546, 0.0005),
            ("lb/ac", "g/m²", 0.112, 0.0005),
        )
    ),
    _hand("unit-hectare", "10 kg/ha [g/m²]", "definition of the unit", 1, 1e-12,
          lambda: convert(10, "kg/ha")[0], "definition"),
]  # fmt: skip

CHECKS: list[Check] = [*PASSES, *PLACES, *NONE_FOUND, *SHARES, *CLOCK, *GAPS, *MISCELLANY]
