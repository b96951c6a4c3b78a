"""Cylinder mowers: how far apart the blades clip, against the height they cut at.

A cylinder of B blades turning n times a minute over ground passing at v clips every
``v / (n B)``. Where the clip is longer than the height of cut the cut comes out in ribs.
"""

from __future__ import annotations

from enum import StrEnum
from math import pi

from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value

MM_PER_M = 1000.0


class Clip(StrEnum):
    """How a clip stands against a height of cut."""

    GOOD = "good"
    WATCH = "watch for ribs"
    RIBS = "ribs"


def clip_mm(speed_m_s: float, turns_min: float, blades: int) -> float:
    """Give the distance along the ground between two clips of an engine-driven cylinder.

    Parameters
    ----------
    speed_m_s : float
        Speed over the ground. [m s⁻¹]
    turns_min : float
        Turns of the cylinder. [min⁻¹]
    blades : int
        Its blades.

    Returns
    -------
    float
        The clip. [mm]

    Raises
    ------
    OutOfRangeError
        If a number is outside what a mower does.
    """
    speed = require("speed", speed_m_s, 0.05, 6, "m/s", "A walking pace is about 1.2 m/s.")
    turns = require("turns of the cylinder", turns_min, 50, 5000, "a minute")
    return MM_PER_M * speed / (turns / 60 * _blades(blades))


def ground_driven_clip_mm(wheel_mm: float, clips_a_turn: float) -> float:
    """Give the clip of a cylinder driven by its wheels, which speed does not change.

    Parameters
    ----------
    wheel_mm : float
        Diameter of the driving wheel or roller. [mm]
    clips_a_turn : float
        Blades that pass the bottom blade in one turn of the wheel: gearing times blades. [-]

    Returns
    -------
    float
        The clip. [mm]
    """
    across = require("wheel", wheel_mm, 50, 1000, "mm")
    return pi * across / require("clips a turn of the wheel", clips_a_turn, 1, 500, "-")


def clips_a_turn(driving_teeth: float, driven_teeth: float, blades: int) -> float:
    """Give the clips in one turn of the wheel from the gears between wheel and cylinder.

    Parameters
    ----------
    driving_teeth, driven_teeth : float
        Teeth of the gear on the wheel and of that on the cylinder. [-]
    blades : int
        Blades of the cylinder.

    Returns
    -------
    float
        Clips a turn. [-]
    """
    driving = require("teeth on the wheel", driving_teeth, 1, 1000, "-")
    return driving / require("teeth on the cylinder", driven_teeth, 1, 1000, "-") * _blades(blades)


def cuts_per_metre(clip: float) -> float:
    """Give the cuts per metre of a clip, the trade's way of saying it.

    Parameters
    ----------
    clip : float
        The clip. [mm]

    Returns
    -------
    float
        Cuts per metre. [m⁻¹]
    """
    return MM_PER_M / require("clip", clip, 0.1, 500, "mm")


def clip_against_height(clip: float, height_mm: float) -> Clip:
    """Say how a clip stands against a height of cut: no longer than it is good.

    Parameters
    ----------
    clip, height_mm : float
        The clip, and the height of cut as the grass gets it. [mm]

    Returns
    -------
    Clip
        Good, watch for ribs, or ribs.
    """
    share = clip / require("height of cut", height_mm, 1, 200, "mm")
    if share <= value("clip_good_to"):
        return Clip.GOOD
    return Clip.WATCH if share <= value("clip_watch_to") else Clip.RIBS


def fastest_m_s(height_mm: float, turns_min: float, blades: int) -> float:
    """Give the speed up to which a cylinder cuts a height cleanly.

    Parameters
    ----------
    height_mm : float
        Height of cut. [mm]
    turns_min : float
        Turns of the cylinder. [min⁻¹]
    blades : int
        Its blades.

    Returns
    -------
    float
        The speed. [m s⁻¹]
    """
    height = require("height of cut", height_mm, 1, 200, "mm")
    clips = require("turns of the cylinder", turns_min, 50, 5000, "a minute") / 60 * _blades(blades)
    return value("clip_good_to") * height * clips / MM_PER_M


def effective_height_mm(bench_mm: float, sinks_mm: float) -> float:
    """Give the height of cut that grass gets from the one set on the bench.

    Parameters
    ----------
    bench_mm : float
        From bottom blade to the plane of the rollers, on a bar. [mm]
    sinks_mm : float
        How far the rollers sink into the sward; below 0 where puffed-up grass lifts them. [mm]

    Returns
    -------
    float
        The effective height. [mm]
    """
    bench = require("bench height", bench_mm, 1, 150, "mm")
    return max(bench - require("how far the rollers sink", sinks_mm, -10, 20, "mm"), 0.0)


def _blades(blades: float) -> float:
    return require("blades", blades, 1, 20, "-")
