"""Holes and gaps refilled with clean soil and the same lot."""

from __future__ import annotations

from swardbook.model.numbers import Numbers, least


def refilled_ground(share: Numbers, gap: Numbers) -> Numbers:
    """Ground refilled today."""
    return least(share, 1.0) * gap


def seed_that_takes(ground: Numbers, seed: Numbers, take: Numbers) -> Numbers:
    """Seed sown into refilled ground that will take.

    Returns
    -------
    float or array
        Seeds. [m⁻²]
    """
    return ground * seed * take
