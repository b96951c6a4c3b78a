"""Soil, seed and cover for refills of a zone, and how many will want filling again."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi

from swardbook.book.materials import in_hand_of
from swardbook.book.opening import Book
from swardbook.book.plan import situations
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.bulk import barrows, loose_l, volume_l
from swardbook.husbandry.seed_doubts import not_sown_here
from swardbook.planning.take_rate import TakeRate, take_rate


@dataclass(frozen=True, slots=True)
class RefillOrder:
    """Soil, seed and cover for holes of one size.

    Parameters
    ----------
    holes : int
        How many.
    hole_mm, depth_mm : float
        Width and depth of one. [mm]
    area_m2 : float
        All of them together. [m²]
    soil_l, cover_l : float
        Weed-seed-free soil, loose, and the cover over the seed out of it. [L]
    seed_g, seed_low_g, seed_high_g : float
        Seed of the same lot. [g]
    barrows : int
        Barrows of soil.
    bags : int or None
        Bags of soil, where their litres were given.
    closes_itself : bool
        Whether holes this small close by themselves in a growing sward.
    lot : str
        The lot, if one was named.
    in_hand_g : float or None
        What is left of it by the book. [g]
    take : TakeRate or None
        What took here before, by your own looks; None without a zone or a look.
    again : tuple of float or None
        Holes that will want filling again by that: middle, low and high; None where not known. [-]
    other_seed : str
        That the lot is no mixture sown there; empty where it is, or nothing tells.
    """

    holes: int
    hole_mm: float
    depth_mm: float
    area_m2: float
    soil_l: float
    cover_l: float
    seed_g: float
    seed_low_g: float
    seed_high_g: float
    barrows: int
    bags: int | None
    closes_itself: bool
    lot: str
    in_hand_g: float | None
    take: TakeRate | None = None
    again: tuple[float, float, float] | None = None
    other_seed: str = ""

    @property
    def spare_seed_g(self) -> float | None:
        """Seed of the same lot to keep for those, at the upper end; None where not known [g]."""
        return None if self.again is None else self.seed_g * self.again[2] / self.holes

    @property
    def spare_soil_l(self) -> float | None:
        """Soil to keep for those, at the upper end; None where not known [L]."""
        return None if self.again is None else self.soil_l * self.again[2] / self.holes


def refill_order(
    book: Book | None, zone: str, holes: int, hole_mm: float, depth_mm: float | None = None,
    lot: str = "", bag_l: float | None = None,
) -> RefillOrder:  # fmt: skip
    """Work out soil, seed and cover for round holes of one size, and what may want filling again.

    Parameters
    ----------
    book : Book or None
        The book, where a lot of it is meant.
    zone : str
        The zone.
    holes : int
        How many.
    hole_mm : float
        Width of one. [mm]
    depth_mm : float or None
        How deep they are; None takes the depth that clumps are dug to. [mm]
    lot : str
        Code of the lot.
    bag_l : float or None
        Litres in a bag of soil. [L]
    """
    number = int(require("holes", holes, 1, 100_000, "-"))
    width = require("width of a hole", hole_mm, 5, 3000, "mm", "150 mm is 15 cm.")
    deep = value("refill_depth_mm") if depth_mm is None else depth_mm
    require("depth of a hole", deep, 5, 500, "mm")
    area = number * pi / 4 * (width / 1000) ** 2
    soil = loose_l(volume_l(max(area, 0.01), deep) * min(area / 0.01, 1))
    rate = parameter("refill_rate")
    code, in_hand = in_hand_of(book, zone, lot)
    take = take_rate(situations(book, zone)[0]) if book is not None and zone else None
    again = None
    if take is not None:
        low, high = take.interval
        again = (number * (1 - take.share), number * (1 - high), number * (1 - low))
    other = ""
    if book is not None and zone and code:
        ground = book.ground()
        other = not_sown_here(code, ground, ground.zone(zone))[0]
    return RefillOrder(
        number, width, deep, area, soil, area * value("refill_cover_mm"), area * rate.value,
        area * rate.low, area * rate.high, barrows(soil),
        None if bag_l is None else ceil(soil / require("litres of a bag", bag_l, 1, 2000, "L")),
        width <= value("hole_closes_mm"), code, in_hand, take, again, other,
    )  # fmt: skip
