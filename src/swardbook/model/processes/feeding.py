"""Nitrogen: fed, freed by the soil, taken up, taken off with clippings."""

from __future__ import annotations

from swardbook.model.fixed import UPTAKE_MOST
from swardbook.model.numbers import Numbers, least


def uptake(growth: Numbers, in_leaf: Numbers, available: Numbers) -> Numbers:
    """Nitrogen that today's growth takes up; at most half of what there is.

    Returns
    -------
    float or array
        Nitrogen. [g m⁻² d⁻¹]
    """
    return least(growth * in_leaf, UPTAKE_MOST * available)


def in_clippings(clip: Numbers, in_leaf: Numbers) -> Numbers:
    """Nitrogen in what was cut.

    Returns
    -------
    float or array
        Nitrogen. [g m⁻²]
    """
    return clip * in_leaf


def available(before: Numbers, arriving: Numbers, uptake: Numbers, loss: Numbers) -> Numbers:
    """Available nitrogen tonight.

    Returns
    -------
    float or array
        Nitrogen. [g m⁻²]
    """
    return (before - uptake) * (1.0 - loss) + arriving
