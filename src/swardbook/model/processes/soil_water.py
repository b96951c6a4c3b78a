"""Two stores of water: the seedbed (top 15 mm) and the root zone below."""

from __future__ import annotations

from swardbook.model.numbers import Numbers, least, most, within


def stress(water: Numbers, capacity: Numbers, depletion: Numbers) -> Numbers:
    """Stress factor Ks: 1 without want of water, 0 at the wilting point (FAO-56, eq. 84)."""
    return within(water / ((1.0 - depletion) * capacity), 0.0, 1.0)


def from_seedbed(
    et0: Numbers, bare: Numbers, sward: Numbers, water: Numbers, capacity: Numbers
) -> Numbers:
    """Water that leaves the seedbed to the air, less as it dries.

    Parameters
    ----------
    et0 : float or array
        Reference evapotranspiration. [mm d⁻¹]
    bare, sward : float or array
        Factors of bare soil and of the sward's share of roots here, weighted by cover. [-]
    water, capacity : float or array
        Store and its capacity. [mm]

    Returns
    -------
    float or array
        Water lost. [mm d⁻¹]
    """
    return least(et0 * (bare + sward) * within(water / capacity, 0.0, 1.0), water)


def from_root_zone(et0: Numbers, factor: Numbers, stress: Numbers, water: Numbers) -> Numbers:
    """Water that grass takes from the root zone.

    Returns
    -------
    float or array
        Water lost. [mm d⁻¹]
    """
    return least(et0 * factor * stress, water)


def held(arriving: Numbers, water: Numbers, capacity: Numbers) -> Numbers:
    """Part of the arriving water that a store can still hold.

    Returns
    -------
    float or array
        Water kept. [mm d⁻¹]
    """
    return least(arriving, most(capacity - water, 0.0))
