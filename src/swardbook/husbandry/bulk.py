"""Sand, soil and spoil: depth, volume, weight, barrows and bags. 1 mm on 1 m² is 1 L."""

from __future__ import annotations

from math import ceil

from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameters, value

MATERIALS = ("sand", "loamy sand", "sandy loam", "loam", "clay loam", "clay", "compost")
"""What the handbook has a bulk density for."""


def bulk_density(material: str) -> float:
    """Give the settled dry bulk density of a material [kg L⁻¹].

    Raises
    ------
    UnknownNameError
        If the handbook has none.
    """
    key = f"bulk_density_{material.strip().casefold().replace(' ', '_')}"
    known = {each for each in parameters() if each.startswith("bulk_density_")}
    if key not in known:
        names = [each.removeprefix("bulk_density_").replace("_", " ") for each in sorted(known)]
        raise UnknownNameError("material", material, names)
    return value(key)


def volume_l(area_m2: float, depth_mm: float) -> float:
    """Give the volume of a layer.

    Parameters
    ----------
    area_m2 : float
        The area. [m²]
    depth_mm : float
        Depth of the layer, settled. [mm]

    Returns
    -------
    float
        Volume. [L]
    """
    area = require("area", area_m2, 0.01, 1e6, "m2")
    return area * require("depth", depth_mm, 0, 500, "mm")


def weight_kg(area_m2: float, depth_mm: float, density: float) -> float:
    """Give the weight of a layer.

    Parameters
    ----------
    area_m2, depth_mm : float
        The area [m²] and the settled depth. [mm]
    density : float
        Settled bulk density. [kg L⁻¹]

    Returns
    -------
    float
        Weight. [kg]
    """
    return volume_l(area_m2, depth_mm) * require("bulk density", density, 0.2, 2.2, "kg/L")


def depth_mm(weight_kg_m2: float, density: float) -> float:
    """Give the depth that a weight spread on a square metre comes to.

    Parameters
    ----------
    weight_kg_m2 : float
        Weight spread. [kg m⁻²]
    density : float
        Settled bulk density. [kg L⁻¹]

    Returns
    -------
    float
        Depth. [mm]
    """
    spread = require("weight spread", weight_kg_m2, 0, 500, "kg/m2")
    return spread / require("bulk density", density, 0.2, 2.2, "kg/L")


def barrows(volume: float) -> int:
    """Give how many barrows a loose volume fills, the last one part full [-].

    Parameters
    ----------
    volume : float
        Loose volume. [L]
    """
    return ceil(require("volume", volume, 0, 1e6, "L") / value("barrow_litres"))


def loose_l(settled: float) -> float:
    """Give the loose volume to order for a settled one: it packs down.

    Parameters
    ----------
    settled : float
        Settled volume. [L]

    Returns
    -------
    float
        Loose volume. [L]
    """
    return require("volume", settled, 0, 1e9, "L") * (1 + value("bulk_settles"))


def bags(weight: float, bag_kg: float) -> int:
    """Give how many whole bags hold a weight [-].

    Parameters
    ----------
    weight, bag_kg : float
        The weight wanted and what a bag holds. [kg]
    """
    size = require("weight of a bag", bag_kg, 0.1, 2000, "kg")
    return ceil(require("weight", weight, 0, 1e6, "kg") / size - 1e-9)
