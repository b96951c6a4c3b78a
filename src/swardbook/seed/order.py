"""How much to buy: area times rate, the spare of the same lot, and whole bags."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from math import ceil

from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value


@dataclass(frozen=True, slots=True)
class Order:
    """A weight of seed to buy, and what it costs.

    Parameters
    ----------
    sown_g, spare_g : float
        To sow, and to keep of the same lot for the year's refills. [g]
    bags : int or None
        Whole bags, if their weight is known.
    bought_g : float
        What is bought: whole bags, or exactly what is needed. [g]
    per_m2 : Decimal or None
        Cost of the seed sown. [currency m⁻²]
    total : Decimal or None
        Cost of what is bought. [currency]
    """

    sown_g: float
    spare_g: float
    bags: int | None
    bought_g: float
    per_m2: Decimal | None
    total: Decimal | None

    @property
    def needed_g(self) -> float:
        """To sow and to spare [g]."""
        return self.sown_g + self.spare_g


def seed_order(
    area_m2: float,
    rate_g_m2: float,
    spare: float | None = None,
    bag_g: float | None = None,
    price_per_kg: Decimal | None = None,
) -> Order:
    """Work out how much seed to buy.

    Parameters
    ----------
    area_m2 : float
        Area to sow. [m²]
    rate_g_m2 : float
        Rate. [g m⁻²]
    spare : float or None
        Kept back of the same lot, as a part of what is sown; None takes the customary part. [-]
    bag_g : float or None
        Weight of one bag; None buys by weight. [g]
    price_per_kg : Decimal or None
        Price. [currency kg⁻¹]

    Returns
    -------
    Order
        The weights, bags and cost.

    Raises
    ------
    OutOfRangeError
        If area, rate, spare, bag or price has no meaning.
    """
    require("area", area_m2, 0.01, 1e7, "m2")
    require("rate", rate_g_m2, 0.01, 1000, "g/m2", "35 g/m2 is a usual rate.")
    kept = value("seed_spare") if spare is None else spare
    require("spare", kept, 0, 1, "-", "Give a fraction: 0.15.")
    sown = area_m2 * rate_g_m2
    needed = sown * (1 + kept)
    bags, bought = None, needed
    if bag_g is not None:
        require("bag", bag_g, 1, 1e6, "g", "25 kg is a usual sack.")
        bags = ceil(round(needed / bag_g, 9))
        bought = bags * bag_g
    if price_per_kg is None:
        return Order(sown, sown * kept, bags, bought, None, None)
    require("price", float(price_per_kg), 0, 1e5, "currency/kg")
    return Order(
        sown, sown * kept, bags, bought,
        _money(price_per_kg * Decimal(repr(rate_g_m2)) / 1000, "0.001"),
        _money(price_per_kg * Decimal(repr(bought)) / 1000, "0.01"),
    )  # fmt: skip


def _money(amount: Decimal, step: str) -> Decimal:
    return amount.quantize(Decimal(step), ROUND_HALF_UP)
