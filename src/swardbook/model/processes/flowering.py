"""Heads by thermal time: the spring flush, the autumn flush and the trickle between."""

from __future__ import annotations

from swardbook.model.fixed import HEADING_BASE, HEADS_SIZE_MOST
from swardbook.model.numbers import Numbers, least, most, select


def season_warmth(
    before: Numbers, season_day: Numbers, start: Numbers, temperature: Numbers
) -> Numbers:
    """Degree-days above -5 °C since the day on which the season's count starts.

    The published curve does not say when counting starts, so the start is a parameter.

    Returns
    -------
    float or array
        Season's warmth. [°C d]
    """
    return select(season_day < start, 0.0, before + most(temperature - HEADING_BASE, 0.0))


def flowering_rate(warmth: Numbers) -> Numbers:
    """Share in flower by degree-days above -5 °C (Calhoun, Frank and Hathaway 2021)."""
    curve = (-3.331599e-6 * warmth + 6.968782e-3) * warmth - 2.841894
    return most(curve, 0.0)


def flush(warmth: Numbers, scale: Numbers) -> Numbers:
    """Spring flush against its height, for a grass whose degree-days are `scale` as many."""
    return flowering_rate(warmth / scale) / 0.8023


def size_factor(cover: Numbers, plants: Numbers, typical: Numbers) -> Numbers:
    """Heads of a plant against one of typical size; at most four times as many."""
    return least(cover / (plants * typical + 1e-9), HEADS_SIZE_MOST)


def heads_today(
    plants: Numbers, peak: Numbers, season: Numbers, mown: Numbers, water: Numbers
) -> Numbers:
    """New heads.

    Returns
    -------
    float or array
        Heads. [m⁻² d⁻¹]
    """
    return plants * peak * season * mown * water


def season_share(
    flush: Numbers, autumn: Numbers, autumn_share: Numbers, background: Numbers, warm: Numbers
) -> Numbers:
    """Heading today against the height of the spring flush."""
    return flush + autumn * autumn_share + background * warm
