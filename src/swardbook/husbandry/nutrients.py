"""Feed by the bag and by the soil test: oxide and element, product for a dose, what is short."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value

ATOMIC = {"H": 1.008, "N": 14.007, "O": 15.999, "Mg": 24.305, "P": 30.974, "S": 32.06,
          "K": 39.098, "Ca": 40.078, "Fe": 55.845, "C": 12.011}  # fmt: skip
"""Standard atomic weights, abridged (IUPAC 2021)."""
COMPOUNDS: dict[str, dict[str, int]] = {
    "P2O5": {"P": 2, "O": 5}, "K2O": {"K": 2, "O": 1}, "MgO": {"Mg": 1, "O": 1},
    "SO3": {"S": 1, "O": 3}, "CaO": {"Ca": 1, "O": 1},
    "urea": {"C": 1, "O": 1, "N": 2, "H": 4},
    "ammonium sulphate": {"N": 2, "H": 8, "S": 1, "O": 4},
    "iron sulphate heptahydrate": {"Fe": 1, "S": 1, "O": 11, "H": 14},
    "iron sulphate monohydrate": {"Fe": 1, "S": 1, "O": 5, "H": 2},
}  # fmt: skip
"""Atoms of what labels name."""
NUTRIENTS = ("P", "K", "Ca", "Mg", "S")
"""Nutrients that a soil test is read for."""


def share_of(element: str, compound: str) -> float:
    """Give the share of an element in a compound by weight [-].

    Raises
    ------
    UnknownNameError
        If the compound, or the element in it, is none that labels name.
    """
    if compound not in COMPOUNDS:
        raise UnknownNameError("compound", compound, COMPOUNDS)
    atoms = COMPOUNDS[compound]
    if element not in atoms:
        raise UnknownNameError(f"element of {compound}", element, atoms)
    return ATOMIC[element] * atoms[element] / sum(ATOMIC[a] * n for a, n in atoms.items())


def product_g_m2(dose_g_m2: float, percent: float) -> float:
    """Give the product that carries a dose.

    Parameters
    ----------
    dose_g_m2 : float
        Of the nutrient. [g m⁻²]
    percent : float
        Of it in the product by weight. [%]

    Returns
    -------
    float
        Product. [g m⁻²]
    """
    dose = require("dose", dose_g_m2, 0, 100, "g/m2")
    return dose / (require("share of the nutrient", percent, 0.1, 100, "%") / 100)


def soil_g_m2(parts_per_million: float, depth_mm: float, density: float) -> float:
    """Turn a soil test into weight on a square metre.

    Parameters
    ----------
    parts_per_million : float
        Of the nutrient in dry soil. [mg kg⁻¹]
    depth_mm : float
        Depth that was sampled. [mm]
    density : float
        Bulk density of the soil. [kg L⁻¹]

    Returns
    -------
    float
        Nutrient. [g m⁻²]
    """
    found = require("soil test", parts_per_million, 0, 50_000, "mg/kg")
    depth = require("sampled depth", depth_mm, 10, 500, "mm")
    return found * depth * require("bulk density", density, 0.2, 2.2, "kg/L") / 1000


def carried_g_m2(depth_mm: float, mg_l: float) -> float:
    """Give what water brings of a nutrient: rain, or irrigation from a borehole or tank.

    Parameters
    ----------
    depth_mm : float
        Water that fell. [mm]
    mg_l : float
        Of the nutrient in it. [mg L⁻¹]

    Returns
    -------
    float
        Nutrient; 1 mm on 1 m² is 1 L. [g m⁻²]
    """
    depth = require("water", depth_mm, 0, 5000, "mm")
    return depth * require("nutrient in the water", mg_l, 0, 5000, "mg/L") / 1000


@dataclass(frozen=True, slots=True)
class Need:
    """What the soil is short of over a year.

    Parameters
    ----------
    nutrient : str
        Chemical symbol.
    used, floor, held : float
        What the grass takes up, what has to stay, and what the soil holds. [g m⁻²]
    need : float
        What has to be given; 0 where there is enough. [g m⁻²]
    """

    nutrient: str
    used: float
    floor: float
    held: float
    need: float


def need_g_m2(
    nutrient: str, tested: float, nitrogen_g_m2: float, depth_mm: float, density: float,
    floor: float | None = None,
) -> Need:  # fmt: skip
    """Work out what a year's growth will want beyond what the soil can spare.

    Use by the grass, plus the least that has to stay in the soil, less what the test found; below
    nothing is nothing (Woods, Stowell and Gelernter's minimum levels, Mehlich-3 extract).

    Parameters
    ----------
    nutrient : str
        ``P``, ``K``, ``Ca``, ``Mg`` or ``S``.
    tested : float
        The soil test. [mg kg⁻¹]
    nitrogen_g_m2 : float
        Nitrogen given in the year; the rest is taken up in proportion. [g m⁻²]
    depth_mm : float
        Depth that was sampled. [mm]
    density : float
        Bulk density of the soil. [kg L⁻¹]
    floor : float, optional
        Least that has to stay, where the test was another extract than the handbook's. [mg kg⁻¹]

    Returns
    -------
    Need
        Each part of the sum.
    """
    if nutrient not in NUTRIENTS:
        raise UnknownNameError("nutrient", nutrient, NUTRIENTS)
    used = require("nitrogen", nitrogen_g_m2, 0, 60, "g/m2") * value(f"taken_up_{nutrient.lower()}")
    least = value(f"soil_least_{nutrient.lower()}") if floor is None else floor
    stays = soil_g_m2(least, depth_mm, density)
    held = soil_g_m2(tested, depth_mm, density)
    return Need(nutrient, used, stays, held, max(used + stays - held, 0.0))
