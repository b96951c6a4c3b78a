"""Pure live seed: the part of a weight of seed that can come up."""

from __future__ import annotations

from swardbook.foundation.quantities import require

_HINT = "Give a fraction: 0.85, not 85."


def pure_live_share(purity: float, germination: float) -> float:
    """Work out the share of a weight that is pure and can germinate.

    Parameters
    ----------
    purity, germination : float
        As on the label. [-]

    Returns
    -------
    float
        Purity times germination. [-]

    Raises
    ------
    OutOfRangeError
        If either is not from 0 to 1.
    """
    return require("purity", purity, 0, 1, "-", _HINT) * require(
        "germination", germination, 0, 1, "-", _HINT
    )


def bulk_for(pure_live_g: float, purity: float, germination: float) -> float:
    """Work out the weight to weigh out for a weight of pure live seed.

    Parameters
    ----------
    pure_live_g : float
        Pure live seed wanted. [g]
    purity, germination : float
        As on the label. [-]

    Returns
    -------
    float
        Seed as it comes in the bag. [g]

    Raises
    ------
    OutOfRangeError
        If there is no live seed in it.
    """
    share = pure_live_share(purity, germination)
    return pure_live_g / require("pure live share", share, 1e-6, 1, "-", "Dead seed fills no gap.")


def price_of_pure_live(price_per_kg: float, purity: float, germination: float) -> float:
    """Work out what a kilogram of pure live seed costs.

    Parameters
    ----------
    price_per_kg : float
        Price of the seed as it comes. [currency kg⁻¹]
    purity, germination : float
        As on the label. [-]

    Returns
    -------
    float
        Price of what can come up. [currency kg⁻¹]
    """
    return bulk_for(price_per_kg, purity, germination)
