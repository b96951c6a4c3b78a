"""Vibration of hands and arms: exposure points, and the time to the action and limit values.

Daily exposure ``A(8) = a √(T/8)``; points are ``2 a² T`` with a in m s⁻² and T in hours, so that
100 points are the action value of 2.5 m s⁻² and 400 the limit of 5 m s⁻² (Directive 2002/44/EC).
"""

from __future__ import annotations

from math import sqrt

from swardbook.foundation.quantities import require

ACTION_M_S2 = 2.5
LIMIT_M_S2 = 5.0
DAY_H = 8.0
"""The day that the values are stated for (Directive 2002/44/EC, article 3)."""


def points(vibration_m_s2: float, hours: float) -> float:
    """Give the exposure points of some hours with a machine [-].

    Parameters
    ----------
    vibration_m_s2 : float
        Its vibration as declared or measured; use is often worse than declared. [m s⁻²]
    hours : float
        Time with the trigger on. [h]
    """
    felt = require("vibration", vibration_m_s2, 0, 60, "m/s2")
    return 2 * felt**2 * require("hours", hours, 0, 24, "h")


def daily_exposure(vibration_m_s2: float, hours: float) -> float:
    """Give the exposure of a day.

    Parameters
    ----------
    vibration_m_s2 : float
        Vibration. [m s⁻²]
    hours : float
        Time with the trigger on. [h]

    Returns
    -------
    float
        Exposure A(8). [m s⁻²]
    """
    felt = require("vibration", vibration_m_s2, 0, 60, "m/s2")
    return felt * sqrt(require("hours", hours, 0, 24, "h") / DAY_H)


def hours_to(level_m_s2: float, vibration_m_s2: float) -> float:
    """Give the time after which a level is reached.

    Parameters
    ----------
    level_m_s2 : float
        The level: `ACTION_M_S2` or `LIMIT_M_S2`. [m s⁻²]
    vibration_m_s2 : float
        Vibration. [m s⁻²]

    Returns
    -------
    float
        Time; a day has only 24 hours. [h]
    """
    level = require("level", level_m_s2, 0.1, 60, "m/s2")
    felt = require("vibration", vibration_m_s2, 0.01, 60, "m/s2")
    return min(DAY_H * (level / felt) ** 2, 24.0)
