"""Growth in height of a sward up to today, set right by the heights that were measured here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import sqrt

import numpy as np

from swardbook.evidence.estimates import Interval, normal_quantile
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Cut, Feed, Reading
from swardbook.model.processes import cover, feeding
from swardbook.planning.growth import Days, days_of
from swardbook.planning.situation import Happened, Situation
from swardbook.weather.series import Values

HEIGHTS = ("sward height", "grass height", "height of grass", "height")
"""What a measured height of grass may be called in the diary."""
LIKELY = 0.8
"""Level of a likely range."""
_LOW_HIGH = 0.9
"""Share of swards that a range of the handbook is taken to hold."""


@dataclass(frozen=True, slots=True)
class Spell:
    """Growth between two heights with no cut between.

    Parameters
    ----------
    first, last : date
        Days of the two heights.
    grew_mm, expected_mm : float
        Growth measured, and by weather and feed alone. [mm]
    """

    first: date
    last: date
    grew_mm: float
    expected_mm: float


@dataclass(frozen=True, slots=True)
class Measured:
    """What measured heights say of growth here against the expected.

    Parameters
    ----------
    spells : tuple of Spell
        What it rests on, oldest first.
    ratio, error : float
        Growth here against the expected, drawn towards 1 where spells are few; and its standard
        error. [-]
    """

    spells: tuple[Spell, ...]
    ratio: float
    error: float

    def range(self, level: float = LIKELY) -> Interval:
        """Give the range of the ratio [-]; never below 0."""
        half = normal_quantile(level) * self.error
        return Interval(max(self.ratio - half, 0.0), self.ratio + half)


@dataclass(frozen=True, slots=True)
class LeafGrowth:
    """Growth in height by day, and what holds it back now.

    Parameters
    ----------
    first : date
        The first day.
    expected : array
        Growth by weather and feed alone, a value a day. [mm d⁻¹]
    measured : Measured
        What heights measured here make of it.
    warmth, water, nitrogen, light : float
        Mean responses of the last week: 1 holds nothing back. [-]
    rate : float
        Growth of the last week, mean a day, by heights measured here. [mm d⁻¹]
    """

    first: date
    expected: Values
    measured: Measured
    warmth: float
    water: float
    nitrogen: float
    light: float
    rate: float

    @property
    def rate_range(self) -> Interval:
        """Likely range of the rate [mm d⁻¹]."""
        low, high = self.measured.range()
        mean = self.rate / self.measured.ratio if self.measured.ratio > 0 else 0.0
        return Interval(mean * low, mean * high)

    @property
    def of_full(self) -> float:
        """Growth of the last week against that of a warm, moist, fed and light one [-]."""
        return self.warmth * self.water * self.nitrogen * self.light

    @property
    def held_back_by(self) -> str:
        """What holds growth back most, or nothing."""
        all_of = {"warmth": self.warmth, "water": self.water, "nitrogen": self.nitrogen,
                  "light": self.light}  # fmt: skip
        name = min(all_of, key=lambda each: all_of[each])
        return name if all_of[name] < 1 else ""

    def expected_since(self, day: date, until: date) -> float | None:
        """Growth by weather and feed after `day` up to `until` [mm]; None where days lack."""
        begin, end = (day - self.first).days + 1, (until - self.first).days + 1
        if begin < 0 or end > len(self.expected):
            return None
        return float(self.expected[begin:end].sum())


def leaf_growth(sit: Situation) -> LeafGrowth | None:
    """Work out growth in height from warmth, water, nitrogen and light.

    The daily growth is the best growth of a mixed sward times the responses that the model of a
    season uses; heights measured here set it right.

    Parameters
    ----------
    sit : Situation
        The zone on its day.

    Returns
    -------
    LeafGrowth or None
        None where the weather does not reach today.
    """
    back = int(value("mowing.growth_look_back"))
    days = days_of(sit.ground, sit.zone, sit.weather, sit.today, back)
    if days is None:
        return None
    warmth = cover.temperature_response(
        days.weather.tmean, value("model.zone.growth_base"), value("model.zone.growth_full")
    )
    light = cover.light_response(days.derived.radiation, value("model.zone.light_enough"))
    first = days.weather.first
    nitrogen, expected = _with_nitrogen(sit, days, warmth * days.stress * light)
    measured = _measured(sit, first, expected)
    week = slice(-int(value("growth_mean_days")), None)
    return LeafGrowth(
        first, expected, measured, float(warmth[week].mean()), float(days.stress[week].mean()),
        float(nitrogen[week].mean()), float(light[week].mean()),
        float(expected[week].mean()) * measured.ratio,
    )  # fmt: skip


def heights(sit: Situation) -> list[Happened[Reading]]:
    """List the heights of grass measured in this zone, oldest first."""
    return [
        each
        for each in sit.happened(Reading, within_days=value("mowing.growth_look_back"))
        if each.what.quantity.strip().casefold() in HEIGHTS
        and each.what.unit.strip().casefold() in {"", "mm"}
        and each.entry.zone
        and each.is_dated
    ]


def calibrate(spells: Sequence[Spell]) -> Measured:
    """Set measured growth against the expected, drawn towards 1 where there is little of it.

    Parameters
    ----------
    spells : sequence of Spell
        Spells between two heights.

    Returns
    -------
    Measured
        The mean of a normal distribution that begins as wide as the best growth of mixed swards
        is unsure, weighted least squares through the origin otherwise.
    """
    best = parameter("model.zone.height_growth")
    low, high = best.low or best.value, best.high or best.value
    unsure = (high - low) / (2 * normal_quantile(_LOW_HIGH) * best.value)
    weight, sum_ = unsure**-2, unsure**-2
    for each in spells:
        error = 2 * value("mowing.height_error") ** 2
        error += (value("mowing.growth_spread") * each.expected_mm) ** 2
        weight += each.expected_mm**2 / error
        sum_ += each.expected_mm * each.grew_mm / error
    return Measured(tuple(spells), max(sum_ / weight, 0.0), sqrt(1 / weight))


def _measured(sit: Situation, first: date, expected: Values) -> Measured:
    spells = []
    for start, end, grew in _pairs(sit):
        begin, stop = (start - first).days + 1, (end - first).days + 1
        if begin >= 0 and end - start >= timedelta(days=value("mowing.spell_least_days")):
            spells.append(Spell(start, end, grew, float(expected[begin:stop].sum())))
    return calibrate(spells)


def _pairs(sit: Situation) -> list[tuple[date, date, float]]:
    """Pair heights with the height or cut before them, where no cut lies between."""
    looks = [(each.day, 1, each.what.value) for each in heights(sit)]
    cuts: list[tuple[date, int, float | None]] = []
    for cut in sit.happened(Cut):
        if cut.is_dated:
            height = cut.what.height_of_cut_mm
            cuts.append((cut.day, 0, height or sit.zone.height_of_cut_mm))
        else:
            cuts += [(cut.entry.when.first, 0, None), (cut.entry.when.last, 0, None)]
    found, base = list[tuple[date, date, float]](), None
    for day, is_look, height in sorted([*cuts, *_before_cuts(looks, cuts)], key=_in_order):
        if is_look and base is not None and height is not None:
            found.append((base[0], day, height - base[1]))
        base = None if height is None else (day, height)
    return found


def _before_cuts(
    looks: Sequence[tuple[date, int, float]], cuts: Sequence[tuple[date, int, float | None]]
) -> list[tuple[date, int, float]]:
    """Mark a height of the day of a cut, higher than the cut, as measured before it."""
    at = {day: height for day, _, height in cuts if height is not None}
    clear = 2 * value("mowing.height_error")
    return [(day, -1 if day in at and height > at[day] + clear else 1, height)
            for day, _, height in looks]  # fmt: skip


def _in_order(each: tuple[date, int, float | None]) -> tuple[date, int]:
    return each[:2]


def _with_nitrogen(sit: Situation, days: Days, other: Values) -> tuple[Values, Values]:
    """Go through the days with feed given and clippings taken off.

    Returns
    -------
    tuple of array
        Response to nitrogen [-], and growth [mm d⁻¹].
    """
    fed, boxed, cut_at = _feeds_and_cuts(sit, days)
    best, half = value("model.zone.height_growth"), value("model.zone.nitrogen_half")
    in_leaf, loss = value("model.zone.nitrogen_in_leaf"), value("model.zone.nitrogen_loss")
    supply = value("model.zone.nitrogen_supply_year") / value("model.zone.year_warmth")
    freed = np.maximum(days.weather.tmean, 0.0) * supply
    back = value("model.zone.nitrogen_returned")
    nitrogen, height = value("model.zone.nitrogen_start"), sit.zone.height_of_cut_mm
    responses, growths = np.empty(len(other)), np.empty(len(other))
    for n, rest in enumerate(other):
        responses[n] = cover.nitrogen_response(nitrogen, half)
        growths[n] = growth = float(best * rest * responses[n])
        height += growth
        clip = max(height - cut_at[n], 0.0) if cut_at[n] else 0.0
        height -= clip
        arriving = freed[n] + fed[n] + feeding.in_clippings(clip, in_leaf) * (1 - boxed[n]) * back
        taken = feeding.uptake(growth, in_leaf, nitrogen)
        nitrogen = float(feeding.available(nitrogen, arriving, taken, loss))
    return responses, growths


def _feeds_and_cuts(sit: Situation, days: Days) -> tuple[Values, Values, Values]:
    """Lay feeds [g m⁻²], boxing [-] and heights of cut [mm] on the days."""
    fed, boxed, cut_at = (np.zeros(len(days.weather)) for _ in range(3))
    for feed in sit.happened(Feed):
        place = days.weather.index(feed.day)
        if 0 <= place < len(fed):
            fed[place] += feed.what.nitrogen_g_m2 or 0.0
    unsaid = value("model.operations.boxed_unknown") if sit.zone.mower.has_box else 0.0
    for cut in sit.happened(Cut):
        place = days.weather.index(cut.day)
        if cut.is_dated and 0 <= place < len(fed):
            cut_at[place] = cut.what.height_of_cut_mm or sit.zone.height_of_cut_mm
            boxed[place] = unsaid if cut.what.boxed is None else float(cut.what.boxed)
    return fed, boxed, cut_at
