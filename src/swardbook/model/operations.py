"""What was done, day by day, turned from the diary into numbers a square metre."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import numpy as np

from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import (
    Brush,
    Cut,
    DigClumps,
    Feed,
    Happening,
    Pull,
    Refill,
    Scarify,
    Sow,
    Strip,
    Tine,
    Verticut,
    Water,
)
from swardbook.model.inputs import Operations
from swardbook.model.parameters import SLOTS, SownKinds
from swardbook.seed.lot import LotPart
from swardbook.seed.mixture import by_number

METHODS = ("seedbed", "slit", "broadcast on scarified", "broadcast on sward")
"""Sowing methods, in the order of `Operations.sow_method`."""
_SOW = ("sow_a", "sow_b", "sow_c", "sow_d")


def no_operations(days: int) -> Operations:
    """Give a run of days on which nothing is done."""
    return Operations(*(np.zeros(days) for _ in Operations._fields))


@dataclass(frozen=True)
class Assumed:
    """Operations read from a diary, and what had to be assumed to read them."""

    operations: Operations
    assumptions: tuple[str, ...] = ()


@dataclass
class _Reader:
    zone: Zone
    kinds: SownKinds
    ground: Ground
    to: Operations
    first: date
    days: int
    assumed: dict[str, None] = field(default_factory=dict)

    def assume(self, words: str) -> None:
        """Note an assumption once."""
        self.assumed[words] = None

    def read(self, entry: DiaryEntry) -> None:
        """Put one entry on its day, or several alike ones over their span."""
        for day in self._days_of(entry):
            place = (day - self.first).days
            if 0 <= place < self.days:
                self._lay(entry, place)

    def _days_of(self, entry: DiaryEntry) -> list[date]:
        when, number = entry.when, max(entry.number, 1)
        if when.is_dated and number == 1:
            return [when.first]
        self.assume(f"{entry.what.kind}: undated ones are spread evenly over their span")
        span = (when.last - when.first).days + 1
        steps = [int((n + 0.5) * span / number) for n in range(number)]
        return [date.fromordinal(when.first.toordinal() + step) for step in steps]

    def _lay(self, entry: DiaryEntry, n: int) -> None:
        what = entry.what
        if isinstance(what, Pull | DigClumps):
            self._pull(entry, n)
            return
        lay = _LAYERS.get(type(what))
        if lay is not None:
            lay(self, what, n)
            self.to.hours[n] += (entry.hours or 0.0) / self.zone.area_m2

    def _scarify(self, what: Scarify, n: int) -> None:
        self.to.scarify[n] += what.passes
        self.to.collected[n] = 1.0

    def _tine(self, what: Tine, n: int) -> None:
        self.to.tine[n] += 1.0 if what.hollow else 0.0

    def _brush(self, what: Brush, n: int) -> None:
        self.to.brush[n] += 1.0 if what.lifted_heads else 0.0

    def _strip(self, _what: Strip, n: int) -> None:
        self.to.strip[n] = 1.0

    def _cut(self, what: Cut, n: int) -> None:
        height = what.height_of_cut_mm
        if height is None:
            self.assume("cuts without a height are at the zone's height of cut")
            height = self.zone.height_of_cut_mm
        self.to.cut[n] = 1.0
        self.to.cut_height[n] = height
        boxed = what.boxed
        if boxed is None:
            has = self.zone.mower.has_box
            share = value("model.operations.boxed_unknown") if has else 0.0
            self.assume(f"cuts that do not say whether they were boxed count as {share:.0%} boxed")
            self.to.boxed[n] = share
        else:
            self.to.boxed[n] = float(boxed)

    def _verticut(self, what: Verticut, n: int) -> None:
        if what.datum == "above soil":
            row = self.to.verticut_tips
        elif what.datum == "below surface":
            row = self.to.verticut_soil
        else:
            depth = what.depth_mm or 0.0
            touches = depth >= self.zone.height_of_cut_mm
            row = self.to.verticut_soil if touches else self.to.verticut_blade
            if depth <= 0:
                self.assume("verticuts without a depth are 1 to 2 mm below the height of cut")
        row[n] += max(what.passes, 1)
        if what.boxed:
            self.to.collected[n] = 1.0

    def _pull(self, entry: DiaryEntry, n: int) -> None:
        hours = entry.hours
        if hours is None:
            plants = getattr(entry.what, "plants", None) or getattr(entry.what, "clumps", None) or 0
            fog = isinstance(entry.what, DigClumps)
            weed = "yorkshire_fog" if fog else "annual_meadow_grass"
            seconds = value(f"model.{weed}.handling_seconds") * plants
            area = getattr(entry.what, "area_m2", None) or self.zone.area_m2
            hours = (seconds + value("model.zone.search_seconds") * area) / 3600
            self.assume("pulling without hours takes as long as its area and plants would")
        self.to.pull_hours[n] += hours / self.zone.area_m2

    def _refill(self, what: Refill, n: int) -> None:
        self.assume("a refill fills the gaps that are open on its day")
        self.to.refill[n] = value("model.operations.refilled_share")

    def _sow(self, what: Sow, n: int) -> None:
        parts = self.ground.lot(what.lot).parts if what.lot else ()
        rate = what.rate_g_m2
        if rate is None and what.used_g is not None:
            rate = what.used_g / (what.area_m2 or self.zone.area_m2)
        if not parts or rate is None:
            self.assume("a sowing without a lot or a rate is left out")
            return
        share = min((what.area_m2 or self.zone.area_m2) / self.zone.area_m2, 1.0)
        set_sowing(self.to, n, self.kinds, parts, rate * share, what.method)

    def _feed(self, what: Feed, n: int) -> None:
        nitrogen = what.nitrogen_g_m2
        if nitrogen is None:
            self.assume("a feed without a rate or its nitrogen is left out")
            return
        self.to.feed[n] += nitrogen

    def _water(self, what: Water, n: int) -> None:
        depth = what.depth_mm
        if depth is None and what.litres is not None:
            depth = what.litres / self.zone.area_m2
        if depth is None:
            self.assume("a watering without millimetres or litres is left out")
            return
        self.to.water[n] += depth


_LAYERS: dict[type[Happening], Callable[[_Reader, Any, int], None]] = {
    Cut: _Reader._cut,
    Verticut: _Reader._verticut,
    Scarify: _Reader._scarify,
    Tine: _Reader._tine,
    Brush: _Reader._brush,
    Strip: _Reader._strip,
    Refill: _Reader._refill,
    Sow: _Reader._sow,
    Feed: _Reader._feed,
    Water: _Reader._water,
}


def set_sowing(
    to: Operations,
    day: int,
    kinds: SownKinds,
    parts: tuple[LotPart, ...],
    rate: float,
    method: str = "seedbed",
) -> None:
    """Put a sowing on one day of a run.

    Parameters
    ----------
    to : Operations
        The run; changed in place.
    day : int
        Day of the run, from 0.
    kinds : SownKinds
        What is sown in the zone; a species not among them joins the nearest of its group.
    parts : tuple of LotPart
        What is in the bag.
    rate : float
        Seed. [g m⁻²]
    method : str
        Sowing method of the handbook.

    Raises
    ------
    BadInputError
        If the method is none of the four.
    """
    if method not in METHODS:
        raise BadInputError("the sowing method", method, ", ".join(METHODS))
    for part in by_number(parts).parts:
        slot = kinds.slot(part.component.species)
        place = SLOTS - 1 if slot is None else slot
        getattr(to, _SOW[place])[day] += part.viable_seeds_per_g * rate
    to.sow_method[day] = METHODS.index(method)


def operations_from_diary(
    ground: Ground, zone: str, first: date, last: date, kinds: SownKinds
) -> Assumed:
    """Turn a zone's diary into the operations of a run.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
    zone : str
        Name of the zone.
    first, last : date
        The days of the run, both included.
    kinds : SownKinds
        What is sown there.

    Returns
    -------
    Assumed
        One value a day in each field, and what had to be assumed.
    """
    days = (last - first).days + 1
    reader = _Reader(ground.zone(zone), kinds, ground, no_operations(days), first, days)
    for entry in ground.entries(zone):
        reader.read(entry)
    return Assumed(reader.to, tuple(reader.assumed))


def stack_operations(several: list[Operations]) -> Operations:
    """Lay several runs' operations on one another: arrays of (runs, days)."""
    return Operations(*(np.stack(series) for series in zip(*several, strict=True)))
