"""Numbers asked for in the chosen units: what stands beside a field, and what a bare number is."""

from __future__ import annotations

import re

from swardbook.foundation.units import METRIC, Units, written

_ALONE = re.compile(
    r"[-−+]?(?:(?:\d{1,3}(?:[ \N{NO-BREAK SPACE}]\d{3})+|\d+)(?:[.,]\d+)*|[.,]\d+"
    r"|(?:\d+\s+)?\d+\s*/\s*\d+)"
)
_PARTED = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")


def asked_in(metric: str, units: Units, held: float = 0.0) -> str:
    """Name the unit in which a metric quantity is asked for.

    Parameters
    ----------
    metric : str
        As written inside, such as ``g/m²``.
    units : Units
        What the person chose.
    held : float
        What stands in the field: large ones may take a larger unit. [`metric`]

    Returns
    -------
    str
        A unit that is read where numbers are typed.
    """
    unit = units.unit(metric, held)
    return metric if unit is None else unit.name


def standing(held: float, metric: str, units: Units, is_wet: bool = False) -> str:
    """Write a number as it stands in a field, without its unit.

    Parameters
    ----------
    held : float
        What is held. [`metric`]
    metric : str
        Its unit; empty for a number without.
    units : Units
        What the person chose.
    is_wet : bool
        Whether this is water, whose inches are decimal.
    """
    text = f"{held:.6g}"
    unit = units.unit(metric, held) if metric else None
    told = text if unit is None else written([text], unit, is_wet)[0]
    return _PARTED.sub("", units.marked(told))


def with_unit(text: str, unit: str) -> str:
    """Put the unit to what was typed, where it is a number alone.

    Parameters
    ----------
    text : str
        As typed.
    unit : str
        What a number alone was asked for in; empty leaves it as it is.

    Returns
    -------
    str
        Such as ``5/16 in``.
    """
    is_alone = bool(unit) and bool(_ALONE.fullmatch(text.strip()))
    return f"{text.strip()} {unit}" if is_alone else text


def is_metric(units: Units) -> bool:
    """Tell whether numbers are asked for as they are held."""
    return units.system is METRIC.system
