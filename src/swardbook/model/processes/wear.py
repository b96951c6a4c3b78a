"""Wear by feet, balls and wheels, by what a zone is used for."""

from __future__ import annotations

from swardbook.model.numbers import Numbers, least


def level(summer: Numbers, winter: Numbers, is_winter: Numbers) -> Numbers:
    """Wear of the day on a grass whose wear factor is 1.

    Returns
    -------
    float or array
        Cover lost. [d⁻¹]
    """
    return summer + (winter - summer) * is_winter


def worn(level: Numbers, factor: Numbers) -> Numbers:
    """Share of a grass's cover that wear takes today."""
    return least(level * factor, 1.0)
