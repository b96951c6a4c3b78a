"""Materials for a job, from a zone of the book or a typed area: seed, dressing, spoil."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from swardbook.book.fields import quantity
from swardbook.book.lots import LiveSeed, live_seed
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.bulk import bags, barrows, bulk_density, loose_l, volume_l, weight_kg
from swardbook.husbandry.slits import core_volume_l_m2, slit_volume_l_m2
from swardbook.planning.situation import situation
from swardbook.planning.stock import left_of
from swardbook.seed.bays import Bag, bags_for_bays
from swardbook.seed.order import Order, seed_order
from swardbook.seed.rates import read_rate


@dataclass(frozen=True, slots=True)
class SeedBags:
    """Seed by bay and direction, what to buy, and what there is.

    Parameters
    ----------
    rate_g_m2 : float
        Rate of both directions together. [g m⁻²]
    bags : tuple of Bag
        A bag for each bay, halved.
    order : Order
        The whole with its spare of the same lot.
    lot : str
        Code of the lot; empty if none was named.
    in_hand_g : float or None
        What is left of it by the book; None where that is not known. [g]
    live : LiveSeed or None
        What of it can come up; None where no lot was named.
    """

    rate_g_m2: float
    bags: tuple[Bag, ...]
    order: Order
    lot: str = ""
    in_hand_g: float | None = None
    live: LiveSeed | None = None

    @property
    def short_g(self) -> float | None:
        """What is wanting of the lot for bays and spare together; None where not known [g]."""
        if self.in_hand_g is None:
            return None
        return max(sum(bag.whole_g for bag in self.bags) + self.order.spare_g - self.in_hand_g, 0.0)


@dataclass(frozen=True, slots=True)
class DressingOrder:
    """A dressing to order.

    Parameters
    ----------
    material : str
        What it is.
    area_m2, depth_mm : float
        Where and how deep, settled. [m², mm]
    settled_l, loose_l : float
        Volume in place, and loose to order. [L]
    kg, low_kg, high_kg : float
        Dry weight, and its range by the range of the bulk density. [kg]
    barrows : int
        Barrows, by volume or weight, whichever is more.
    bags : int or None
        Whole bags, where their weight was given.
    passes : int
        Passes so that leaf tips show.
    is_deep : bool
        Whether it is deeper than seed is covered.
    density : float
        Settled bulk density. [kg L⁻¹]
    density_from : str
        Where that comes from.
    """

    material: str
    area_m2: float
    depth_mm: float
    settled_l: float
    loose_l: float
    kg: float
    low_kg: float
    high_kg: float
    barrows: int
    bags: int | None
    passes: int
    is_deep: bool
    density: float
    density_from: str


@dataclass(frozen=True, slots=True)
class Spoil:
    """What comes off or out.

    Parameters
    ----------
    what : str
        ``cores``, ``slits`` or ``turf``.
    solid_l, loose_l : float
        As it lay, and loose. [L]
    loose_low_l, loose_high_l : float
        Range of the loose volume. [L]
    barrows : int
        Barrows of it.
    fill_l : float
        Dressing, settled, that fills the holes or slits again. [L]
    """

    what: str
    solid_l: float
    loose_l: float
    loose_low_l: float
    loose_high_l: float
    barrows: int
    fill_l: float


def area_of(book: Book | None, zone: str, area: str) -> float:
    """Take an area as typed, or that of a zone.

    Returns
    -------
    float
        The area. [m²]

    Raises
    ------
    BadInputError
        If there is neither.
    """
    if area:
        return quantity(area, "m2", "--area")
    if book is None or not zone:
        raise BadInputError("the area", "nothing", "--zone NAME, or --area such as 819.2 m2")
    return book.ground().zone(zone).area_m2


def seed_bags(
    book: Book | None, zone: str, area: str, bays: Sequence[str], parts: int, rate: str,
    lot: str = "", spare: float | None = None, bag_g: float | None = None,
) -> SeedBags:  # fmt: skip
    """Weigh out seed by bay and direction, with the spare of the same lot.

    Parameters
    ----------
    book : Book or None
        The book, where a zone or lot of it is meant.
    zone, area : str
        Where; `area` wins over the zone's own.
    bays : sequence of str
        ``name=area`` of each bay; none parts the whole into equal ones.
    parts : int
        How many equal bays, where none is named.
    rate : str
        Rate of both directions together, as typed.
    lot : str
        Code of the lot.
    spare : float or None
        Kept of the same lot as a part of what is sown; None takes the customary part. [-]
    bag_g : float or None
        Weight of a bag as bought. [g]
    """
    if not rate:
        raise BadInputError("--rate", "nothing", "the whole rate, such as 30 g/m2 or 1 oz/yd2")
    read = read_rate(rate)
    named = [_bay(each) for each in bays]
    if not named:
        whole = area_of(book, zone, area)
        parts = int(require("number of bays", parts, 1, 500, "-"))
        only = book.ground().zone(zone).name if book and zone else "all"
        named = [(f"bay {n}" if parts > 1 else only, whole / parts) for n in range(1, parts + 1)]
    code, in_hand = in_hand_of(book, zone, lot)
    order = seed_order(sum(size for _, size in named), read, spare, bag_g)
    ground = book.ground() if book and code else None
    live = None if ground is None else live_seed(ground, ground.lot(code), read)
    return SeedBags(read, bags_for_bays(named, read), order, code, in_hand, live)


def dressing(
    area_m2: float, material: str, depth_mm: float | None = None, kg: float | None = None,
    density: float | None = None, bag_kg: float | None = None,
) -> DressingOrder:  # fmt: skip
    """Work out a dressing from its depth, or the depth from what was bought.

    Parameters
    ----------
    area_m2 : float
        Where. [m²]
    material : str
        A material of the handbook; ``rootzone`` is read as loamy sand unless a density is given.
    depth_mm : float or None
        Settled depth wanted. [mm]
    kg : float or None
        Weight there is, in place of a depth. [kg]
    density : float or None
        Settled bulk density by the supplier's sheet. [kg L⁻¹]
    bag_kg : float or None
        What a bag holds. [kg]

    Raises
    ------
    BadInputError
        If neither depth nor weight, or both, are given.
    """
    if (depth_mm is None) == (kg is None):
        raise BadInputError("the dressing", "both or neither", "one of --depth and --weight")
    name = "loamy sand" if material.casefold() == "rootzone" else material.casefold()
    middle = density if density is not None else bulk_density(name)
    row = parameter(f"bulk_density_{name.replace(' ', '_')}") if density is None else None
    if depth_mm is None:
        depth_mm = (kg or 0.0) / (volume_l(area_m2, 1) * middle)
    settled = volume_l(area_m2, require("settled depth", depth_mm, 0.1, 500, "mm"))
    weight = weight_kg(area_m2, depth_mm, middle)
    low, high = (settled * row.low, settled * row.high) if row else (weight, weight)
    loose = loose_l(settled)
    loads = max(barrows(loose), ceil(weight / value("barrow_kg") - 1e-9))
    return DressingOrder(
        material, area_m2, depth_mm, settled, loose, weight, low, high, loads,
        None if bag_kg is None else bags(weight, bag_kg),
        max(ceil(depth_mm / parameter("dressing_pass_mm").high - 1e-9), 1),
        depth_mm > value("dressing_seed_mm"), middle,
        f"{name}, {row.grade.value}: {row.source}" if row else "as you gave it",
    )  # fmt: skip


def cores(area_m2: float, tine_mm: float, spacing_mm: float, depth_mm: float) -> Spoil:
    """Work out cores of hollow tines; the tine's inside width counts.

    Parameters
    ----------
    area_m2 : float
        Where. [m²]
    tine_mm, spacing_mm, depth_mm : float
        Inside width of a tine, spacing both ways, and depth. [mm]
    """
    a_m2 = core_volume_l_m2(tine_mm, spacing_mm, spacing_mm, depth_mm)
    return _spoil("cores", volume_l(area_m2, 1) * a_m2)


def slits(
    area_m2: float, blade_mm: float, spacing_mm: float, depth_mm: float, passes: int
) -> Spoil:
    """Work out what blades take out in some passes.

    Parameters
    ----------
    area_m2 : float
        Where. [m²]
    blade_mm, spacing_mm, depth_mm : float
        Thickness of a blade, spacing, and depth. [mm]
    passes : int
        Passes in all.
    """
    times = require("passes", passes, 1, 20, "-")
    a_m2 = slit_volume_l_m2(blade_mm, spacing_mm, depth_mm)
    return _spoil("slits", times * volume_l(area_m2, 1) * a_m2)


def stripped(area_m2: float, depth_mm: float) -> Spoil:
    """Work out turf or soil taken off to a depth.

    Parameters
    ----------
    area_m2 : float
        Where. [m²]
    depth_mm : float
        How deep. [mm]
    """
    return _spoil("turf", volume_l(area_m2, depth_mm))


def _spoil(what: str, solid: float) -> Spoil:
    more = parameter("spoil_bulks")
    loose = solid * (1 + more.value)
    return Spoil(
        what, solid, loose, solid * (1 + more.low), solid * (1 + more.high), barrows(loose),
        0.0 if what == "turf" else solid,
    )  # fmt: skip


def _bay(text: str) -> tuple[str, float]:
    name, found, size = text.partition("=")
    if not found or not name.strip():
        raise BadInputError("--bay", text, "NAME=AREA, such as north=409.6")
    return name.strip(), quantity(size, "m2", f"area of {name.strip()}")


def in_hand_of(book: Book | None, zone: str, lot: str) -> tuple[str, float | None]:
    """Give a lot's code and what is left of it by the book [g]; None where that is not known."""
    if not lot:
        return "", None
    if book is None:
        raise BadInputError("--lot", lot, "a lot of the book, with --zone", "Or leave it out.")
    ground = book.ground()
    known = ground.lot(lot)
    where = zone or (ground.zones[0].name if ground.zones else "")
    if not where:
        return known.code, known.bought_g
    return known.code, left_of(situation(ground, where, None, book.today), known)
