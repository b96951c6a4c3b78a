"""Spreaders and sprayers: what they put down over a measured run, and how to set a job by it."""

from __future__ import annotations

from swardbook.foundation.quantities import require


def spread_g_m2(caught_g: float, width_m: float, run_m: float) -> float:
    """Give what a spreader puts down in one pass.

    Parameters
    ----------
    caught_g : float
        Product caught or used over the run. [g]
    width_m : float
        Effective width: to where the output falls to half of that in the middle. [m]
    run_m : float
        Length of the run. [m]

    Returns
    -------
    float
        Rate. [g m⁻²]
    """
    caught = require("product caught", caught_g, 0, 1e6, "g")
    width = require("effective width", width_m, 0.1, 30, "m")
    return caught / (width * require("length of the run", run_m, 1, 1000, "m"))


def catch_for(rate_g_m2: float, width_m: float, run_m: float) -> float:
    """Give what should be caught over a run when the setting is right.

    Parameters
    ----------
    rate_g_m2 : float
        Rate wanted in this pass; half of the whole where two passes cross. [g m⁻²]
    width_m, run_m : float
        Effective width and length of the run. [m]

    Returns
    -------
    float
        Product. [g]
    """
    rate = require("rate", rate_g_m2, 0.1, 2000, "g/m2")
    width = require("effective width", width_m, 0.1, 30, "m")
    return rate * width * require("length of the run", run_m, 1, 1000, "m")


def spray_l_m2(litres_min: float, speed_m_s: float, width_m: float) -> float:
    """Give the water a sprayer puts down.

    Parameters
    ----------
    litres_min : float
        What all nozzles give together. [L min⁻¹]
    speed_m_s : float
        Walking speed. [m s⁻¹]
    width_m : float
        Width sprayed. [m]

    Returns
    -------
    float
        Water. [L m⁻²]
    """
    gives = require("output", litres_min, 0.01, 500, "L/min")
    speed = require("speed", speed_m_s, 0.1, 6, "m/s")
    return gives / 60 / (speed * require("width sprayed", width_m, 0.1, 50, "m"))


def run_for_share(share_m2: float, width_m: float) -> float:
    """Give the run over which a nozzle covers an area: what it gives there is the rate.

    Parameters
    ----------
    share_m2 : float
        The area. [m²]
    width_m : float
        Spacing of the nozzles. [m]

    Returns
    -------
    float
        Length of the run. [m]
    """
    area = require("area", share_m2, 0.1, 1000, "m2")
    return area / require("spacing of the nozzles", width_m, 0.05, 5, "m")


def tank_area_m2(tank_l: float, water_l_m2: float) -> float:
    """Give the area one tank covers.

    Parameters
    ----------
    tank_l : float
        What the tank holds. [L]
    water_l_m2 : float
        What the sprayer puts down. [L m⁻²]

    Returns
    -------
    float
        Area. [m²]
    """
    tank = require("tank", tank_l, 0.1, 5000, "L")
    return tank / require("water", water_l_m2, 0.001, 5, "L/m2")
