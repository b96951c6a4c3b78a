"""Seed for each bay, to the gram: one bag for each of two directions at right angles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require


@dataclass(frozen=True, slots=True)
class Bag:
    """The seed of one bay.

    Parameters
    ----------
    bay : str
        Its name.
    area_m2 : float
        Its area. [m²]
    whole_g : int
        Seed for the bay, to the gram.
    first_g, second_g : int
        Seed for each of the two directions; together exactly the whole.
    """

    bay: str
    area_m2: float
    whole_g: int
    first_g: int
    second_g: int


def bags_for_bays(bays: Iterable[tuple[str, float]], rate_g_m2: float) -> tuple[Bag, ...]:
    """Weigh out seed for bays, halved for two directions at right angles.

    Parameters
    ----------
    bays : iterable of tuple
        Name and area of each bay. [m²]
    rate_g_m2 : float
        Rate of the two passes together. [g m⁻²]

    Returns
    -------
    tuple of Bag
        In the order given.

    Raises
    ------
    BadInputError
        If two bays have one name.
    OutOfRangeError
        If an area or the rate has no meaning.
    """
    rate = require("rate", rate_g_m2, 0.01, 1000, "g/m2", "35 g/m2 is a usual rate.")
    found: list[Bag] = []
    for name, area in bays:
        if name.casefold() in {bag.bay.casefold() for bag in found}:
            raise BadInputError("the bays", name, "each bay once")
        whole = floor(require(f"area of {name}", area, 0.01, 1e6, "m2") * rate + 0.5)
        second = whole // 2
        found.append(Bag(name, area, whole, whole - second, second))
    return tuple(found)
