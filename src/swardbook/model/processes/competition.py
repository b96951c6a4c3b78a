"""Who presses whom in a closed sward, by height of cut, season and nitrogen."""

from __future__ import annotations

from swardbook.model.fixed import OFF_HEIGHT_MOST
from swardbook.model.numbers import Numbers, least, most


def sown_power(power: Numbers, height: Numbers, comfort: Numbers, penalty: Numbers) -> Numbers:
    """Pressing power of a sown grass; it loses `penalty` when cut at half its lowest height."""
    return power - penalty * 2.0 * most(1.0 - height / comfort, 0.0)


def weed_power(
    power: Numbers, winter: Numbers, winter_power: Numbers, off_height: Numbers
) -> Numbers:
    """Pressing power of a weed grass; some is lost far from the height that suits it."""
    return power + winter * winter_power - least(off_height * off_height, OFF_HEIGHT_MOST)


def drift(power: Numbers, speed: Numbers, nitrogen_gain: Numbers, supplied: Numbers) -> Numbers:
    """Change of a grass's log-odds today, before it is set against the others.

    `supplied` is the nitrogen fed and returned with clippings today [g m⁻²].

    Returns
    -------
    float or array
        Drift. [d⁻¹]
    """
    return power * speed + nitrogen_gain * supplied


def exchanged(cover: Numbers, drift: Numbers, mean_drift: Numbers) -> Numbers:
    """Ground won (or lost, below 0) by pressing; over all grasses the sum is nothing."""
    return cover * (drift - mean_drift)
