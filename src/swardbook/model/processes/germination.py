"""Coming up: hydrothermal time, and the light that small seed waits for."""

from __future__ import annotations

from swardbook.model.fixed import (
    EMERGENCE_MOST,
    GERMINATION_WARM_MOST,
    POTENTIAL_FULL,
    POTENTIAL_LOG_RANGE,
)
from swardbook.model.numbers import Numbers, exp, least, most, within


def potential(water: Numbers, capacity: Numbers) -> Numbers:
    """Water potential of the seedbed from how full it is.

    -0.03 MPa when full and about -10 MPa air-dry, a straight line in the logarithm between.

    Returns
    -------
    float or array
        Water potential. [MPa]
    """
    return POTENTIAL_FULL * exp(POTENTIAL_LOG_RANGE * (1.0 - within(water / capacity, 0.0, 1.0)))


def wetness(potential: Numbers, base: Numbers, slow: Numbers) -> Numbers:
    """Speed of germination against a full seedbed: half of it at `slow`, nothing at `base`."""
    straight = within((potential - base) / (slow - base), 0.0, 1.0)
    return straight / (
        1.0 + least(potential - POTENTIAL_FULL, 0.0) / least(slow - POTENTIAL_FULL, -0.01)
    )


def warmth(temperature: Numbers, base: Numbers) -> Numbers:
    """Degree-days one day earns above a base; nothing more above 25 °C.

    Returns
    -------
    float or array
        Warmth of the day. [°C d]
    """
    return most(least(temperature, GERMINATION_WARM_MOST) - base, 0.0)


def peaked_warmth(temperature: Numbers, base: Numbers, best: Numbers, highest: Numbers) -> Numbers:
    """Degree-days one day earns for seed that prefers the cool: up to `best`, then down again.

    Returns
    -------
    float or array
        Warmth of the day. [°C d]
    """
    rising = (temperature - base) / (best - base)
    falling = (highest - temperature) / (highest - best)
    return (best - base) * within(least(rising, falling), 0.0, 1.0)


def share_emerged(before: Numbers, earned: Numbers, half: Numbers, spread: Numbers) -> Numbers:
    """Share of the seed still below that comes up today, when times to emergence are logistic."""
    yesterday = exp(spread * (before / half - 1.0))
    today = exp(spread * ((before + earned) / half - 1.0))
    return 1.0 - (1.0 + yesterday) / (1.0 + today)


def light(gap: Numbers, closed: Numbers) -> Numbers:
    """Emergence of light-wanting seed against open ground: `closed` under a full sward."""
    return closed + (1.0 - closed) * gap


def surface_hazard(rate: Numbers, earned: Numbers, light: Numbers) -> Numbers:
    """Share of ready surface seed that comes up today; at most half in one day."""
    return least(rate * earned * light, EMERGENCE_MOST)
