"""What a cut takes."""

from __future__ import annotations

from swardbook.model.fixed import BLADE_HEIGHT
from swardbook.model.numbers import Numbers, least, most, select


def share_above(odds: Numbers, height: Numbers) -> Numbers:
    """Share of heads that stand above a blade: `odds` at 25 mm, less as the cut is higher."""
    here = odds * BLADE_HEIGHT / most(height, 1.0)
    return here / (1.0 + here)


def takes_high(above_before: Numbers, above_now: Numbers, is_cut: Numbers) -> Numbers:
    """Share of the heads above the last cut that this cut takes; less if it is set higher."""
    return is_cut * least(above_now / above_before, 1.0)


def takes_low(above_before: Numbers, above_now: Numbers, is_cut: Numbers) -> Numbers:
    """Share of the heads below the last cut that this cut takes, if it is set lower."""
    return is_cut * most((above_now - above_before) / (1.0 - above_before + 1e-9), 0.0)


def clipped(height: Numbers, cut_height: Numbers, is_cut: Numbers) -> Numbers:
    """Height that a cut takes off.

    Returns
    -------
    float or array
        Clip. [mm]
    """
    return is_cut * most(height - cut_height, 0.0)


def after_cut(before: Numbers, now: Numbers, is_cut: Numbers) -> Numbers:
    """Keep a value unless there was a cut today."""
    return select(is_cut > 0.5, now, before)
