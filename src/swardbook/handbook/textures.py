"""The published texture triangle: sand, silt and clay to a soil's name."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.soils import soil_names

SUM_OFF = 0.01
"""Shares may miss 100 % by this. [%]"""


def texture(sand: float, silt: float, clay: float) -> str:
    """Name the texture of a soil by the triangle.

    Parameters
    ----------
    sand, silt, clay : float
        Shares of the fine earth by weight, together 100. [%]

    Returns
    -------
    str
        One of twelve classes (Benham, Ahrens and Nettleton 2009).

    Raises
    ------
    BadInputError
        If they do not add up to 100.
    """
    shares = {"sand": sand, "silt": silt, "clay": clay}
    for name, share in shares.items():
        require(name, share, 0, 100, "%")
    if abs(sum(shares.values()) - 100) > SUM_OFF:
        raise BadInputError(
            "sand, silt and clay", f"{sand:g} + {silt:g} + {clay:g} %", "shares that make 100 %"
        )
    for row in _table()["class"]:
        if _fits(row, sand, silt, clay):
            return str(row["name"])
    raise BadInputError("sand, silt and clay", shares, "a place in the texture triangle")


def texture_names() -> tuple[str, ...]:
    """List the twelve classes."""
    return tuple(dict.fromkeys(str(row["name"]) for row in _table()["class"]))


def soil_beside(name: str) -> str:
    """Give the soil of the book's water figures for a texture: itself, or the one beside it.

    Parameters
    ----------
    name : str
        A class of the triangle.
    """
    return name if name in soil_names() else str(_table()["beside"][name])


def _fits(row: Mapping[str, Any], sand: float, silt: float, clay: float) -> bool:
    if "below" in row:
        factor, limit = row["below"]
        return bool(silt + factor * clay < limit)
    for share, (low, high) in (
        (clay, row.get("clay", (0, 101))),
        (silt, row.get("silt", (0, 101))),
    ):
        if not low <= share < high:
            return False
    low, high = row.get("sand", (-1, 100))
    return bool(low < sand <= high)


@cache
def _table() -> Mapping[str, Any]:
    return read_toml_table(files("swardbook.handbook") / "data" / "textures.toml")
