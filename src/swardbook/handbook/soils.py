"""Soil textures and the water they hold."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.parameters import parameters, value


@dataclass(frozen=True, slots=True)
class Soil:
    """One texture with the water it holds.

    Parameters
    ----------
    name : str
        The texture, such as ``silty clay loam``.
    field_capacity : float
        Water content two days after soaking. [m³ m⁻³]
    wilting_point : float
        Water content below which roots get nothing. [m³ m⁻³]
    readily_evaporable : float
        Water that the bare top 100 mm loses at the full rate. [mm]
    totally_evaporable : float
        Water that the bare top 100 mm can lose at all. [mm]
    """

    name: str
    field_capacity: float
    wilting_point: float
    readily_evaporable: float
    totally_evaporable: float


@cache
def soil_names() -> tuple[str, ...]:
    """List the textures of the handbook, coarse to fine."""
    end = ".field_capacity"
    found = [key for key in parameters() if key.startswith("soil.") and key.endswith(end)]
    return tuple(key.removeprefix("soil.").removesuffix(end).replace("_", " ") for key in found)


def soil(name: str) -> Soil:
    """Find one texture.

    Parameters
    ----------
    name : str
        The texture; spaces, hyphens and underscores are alike, and so are capitals.

    Raises
    ------
    UnknownNameError
        If the handbook has no such texture.
    """
    words = " ".join(name.casefold().replace("-", " ").replace("_", " ").split())
    if words not in soil_names():
        raise UnknownNameError("soil texture", name, soil_names())
    stem = f"soil.{words.replace(' ', '_')}"
    return Soil(
        words,
        value(f"{stem}.field_capacity"),
        value(f"{stem}.wilting_point"),
        value(f"{stem}.readily_evaporable"),
        value(f"{stem}.totally_evaporable"),
    )
