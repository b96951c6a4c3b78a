"""One bag of seed with its label."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.foundation.quantities import require


@dataclass(frozen=True, slots=True)
class LotPart:
    """One component on a label.

    Parameters
    ----------
    species : str
        Key of the species in the handbook.
    share_by_weight : float
        Its part of the bag's weight. [-]
    cultivar : str
        The variety as printed; empty if the label has none.
    purity, germination : float or None
        As printed or tested; None where the label says nothing. [-]
    thousand_seed_weight : float or None
        Weight of a thousand seeds; None takes the handbook's typical value. [g]
    """

    species: str
    share_by_weight: float
    cultivar: str = ""
    purity: float | None = None
    germination: float | None = None
    thousand_seed_weight: float | None = None

    def __post_init__(self) -> None:
        require("share by weight", self.share_by_weight, 0.0, 1.0, "-", "Give a fraction: 0.2.")
        for name in ("purity", "germination"):
            value = getattr(self, name)
            if value is not None:
                require(name, value, 0.0, 1.0, "-", "Give a fraction: 0.85, not 85.")


@dataclass(frozen=True, slots=True)
class SeedLot:
    """One bag of seed: what the label says and what is known of the rest.

    Parameters
    ----------
    code : str
        The lot number on the label; two lots of one name are two seeds.
    mixture : str
        The name it is sold or known by.
    parts : tuple of LotPart
        What is in it, by weight; the shares add up to 1 with what is named ``others``.
    bought_g : float or None
        Weight bought. [g]
    price_per_kg : str
        Price as a decimal text, in the currency of the book; empty if unknown.
    tested_on : date or None
        Date of closing or test.
    statutory_only : bool
        Whether the lot is known only to pass the statutory limits, not the voluntary ones.
    """

    code: str
    mixture: str
    parts: tuple[LotPart, ...]
    bought_g: float | None = None
    price_per_kg: str = ""
    tested_on: date | None = None
    statutory_only: bool = True
    note: str = ""
