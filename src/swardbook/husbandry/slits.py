"""What blades and tines take out of a surface: share opened, volume, pitch of the strikes."""

from __future__ import annotations

from math import pi

from swardbook.foundation.quantities import require
from swardbook.husbandry.cylinder import clip_mm


def slit_share(blade_mm: float, spacing_mm: float, directions: int = 1) -> float:
    """Give the share of the surface that blades open.

    Parameters
    ----------
    blade_mm : float
        Thickness of a blade. [mm]
    spacing_mm : float
        From blade to blade. [mm]
    directions : int
        Passes, each on a line of its own; slits that cross count once. [-]

    Returns
    -------
    float
        The share. [-]

    Raises
    ------
    OutOfRangeError
        If the blades are thicker than they are apart.
    """
    blade = require("blade", blade_mm, 0.2, 20, "mm")
    spacing = require("spacing of the blades", spacing_mm, blade, 200, "mm")
    return 1 - (1 - blade / spacing) ** round(require("directions", directions, 1, 20, "-"))


def slit_volume_l_m2(blade_mm: float, spacing_mm: float, depth_mm: float) -> float:
    """Give what one pass takes out; the same fills the slits again.

    Parameters
    ----------
    blade_mm, spacing_mm : float
        Thickness of a blade, and from blade to blade. [mm]
    depth_mm : float
        Depth below the surface. [mm]

    Returns
    -------
    float
        Volume. [L m⁻²]
    """
    return slit_share(blade_mm, spacing_mm) * require("depth", depth_mm, 0, 60, "mm")


def holes_m2(along_mm: float, across_mm: float) -> float:
    """Give how many tine holes there are.

    Parameters
    ----------
    along_mm, across_mm : float
        From hole to hole along the pass and across it. [mm]

    Returns
    -------
    float
        Holes. [m⁻²]
    """
    along = require("spacing along", along_mm, 5, 1000, "mm")
    return 1e6 / (along * require("spacing across", across_mm, 5, 1000, "mm"))


def hole_share(tine_mm: float, along_mm: float, across_mm: float) -> float:
    """Give the share of the surface that tines open.

    Parameters
    ----------
    tine_mm : float
        Width of the hole: the inside of a hollow tine for what it takes out, its outside for
        what it presses. [mm]
    along_mm, across_mm : float
        From hole to hole. [mm]

    Returns
    -------
    float
        The share. [-]
    """
    tine = require("tine", tine_mm, 1, 50, "mm")
    return pi / 4 * tine**2 * holes_m2(along_mm, across_mm) / 1e6


def core_volume_l_m2(tine_mm: float, along_mm: float, across_mm: float, depth_mm: float) -> float:
    """Give the volume of the cores that hollow tines take out.

    Parameters
    ----------
    tine_mm : float
        Inside width of the tine. [mm]
    along_mm, across_mm, depth_mm : float
        From hole to hole, and how deep. [mm]

    Returns
    -------
    float
        Volume. [L m⁻²]
    """
    share = hole_share(tine_mm, along_mm, across_mm)
    return share * require("depth", depth_mm, 0, 400, "mm")


def strike_pitch_mm(speed_m_s: float, turns_min: float, teeth: int) -> float:
    """Give how far apart one blade's strikes lie along the pass: the sum of the clip.

    Parameters
    ----------
    speed_m_s : float
        Speed over the ground. [m s⁻¹]
    turns_min : float
        Turns of the shaft. [min⁻¹]
    teeth : int
        Teeth or tips of one blade.

    Returns
    -------
    float
        The pitch. [mm]
    """
    return clip_mm(speed_m_s, turns_min, teeth)
