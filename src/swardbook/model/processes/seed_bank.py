"""Two pools of seed: the surface loses fast, the buried slowly."""

from __future__ import annotations

from swardbook.model.fixed import MOST_A_DAY
from swardbook.model.numbers import Numbers, least


def readiness(wave: Numbers, strength: Numbers) -> Numbers:
    """Share of ready seed that would germinate at this time of year; 1 in early November."""
    return 1.0 - strength * (1.0 - wave)


def buried_death(still: Numbers, worked: Numbers, disturbance: Numbers) -> Numbers:
    """Daily loss of buried seed, more where the soil is worked.

    Returns
    -------
    float or array
        Rate. [d⁻¹]
    """
    return still + (worked - still) * disturbance


def burial(daily: Numbers, refilled: Numbers) -> Numbers:
    """Share of surface seed buried today, by itself or under clean soil."""
    return 1.0 - (1.0 - daily) * (1.0 - refilled)


def brought_up(share: Numbers, passes: Numbers) -> Numbers:
    """Share of buried seed that passes which open the soil bring up."""
    return least(share * passes, MOST_A_DAY)


def carried_in(around: Numbers, on_tools: Numbers, visits: Numbers) -> Numbers:
    """Seed that comes from around and on the machines that visit.

    Parameters
    ----------
    around : float or array
        Seed from around. [m⁻² d⁻¹]
    on_tools : float or array
        Seed that one visit of a machine brings. [m⁻²]
    visits : float or array
        Visits of a machine today. [-]

    Returns
    -------
    float or array
        Seeds. [m⁻² d⁻¹]
    """
    return around + on_tools * visits


def yearly_left(start: Numbers, yearly_loss: Numbers, years: int) -> Numbers:
    """Seed left after whole years of one constant yearly loss.

    Returns
    -------
    float or array
        Seed left, in the unit of `start`. [same as start]
    """
    return start * (1.0 - yearly_loss) ** years
