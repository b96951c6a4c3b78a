"""Heads grow ripe, shed, or are cut; ripening goes on in heads left lying."""

from __future__ import annotations

from swardbook.model.fixed import MOST_A_DAY, RIPENING_TEMPERATURE
from swardbook.model.numbers import Numbers, least, most


def ripening_days(temperature: Numbers) -> Numbers:
    """Days of ripening that a day is worth; 1 at 12 °C.

    Returns
    -------
    float or array
        Ripening. [d]
    """
    return most(temperature, 0.0) / RIPENING_TEMPERATURE


def shed_share(shedding: Numbers, ripe: Numbers, days: Numbers) -> Numbers:
    """Share of a bin of heads that sheds today."""
    return least(shedding * ripe * days, MOST_A_DAY)


def moved_share(days: Numbers) -> Numbers:
    """Share of a bin (two ripening days long) that moves on today."""
    return least(days / 2.0, 1.0)


def grown_high(young: Numbers, moved: Numbers, above: Numbers) -> Numbers:
    """Heads whose stem is grown when they leave the first bin, and that stand above the blade.

    Returns
    -------
    float or array
        Heads. [m⁻² d⁻¹]
    """
    return young * moved * above


def raised(low: Numbers, lift: Numbers) -> Numbers:
    """Heads of a bin raised above the blade.

    Returns
    -------
    float or array
        Heads. [m⁻²]
    """
    return low * lift


def left_after(heads: Numbers, taken: Numbers, shed: Numbers) -> Numbers:
    """Heads of a bin that still stand after cut and shedding.

    Returns
    -------
    float or array
        Heads. [m⁻²]
    """
    return heads * (1.0 - taken) * (1.0 - shed)


def released(lying: Numbers, release: Numbers, days: Numbers) -> Numbers:
    """Seed that falls from heads left lying.

    Returns
    -------
    float or array
        Seeds. [m⁻² d⁻¹]
    """
    return lying * least(release * days, 1.0)
