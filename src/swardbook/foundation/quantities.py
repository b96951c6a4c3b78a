"""One canonical unit per quantity, and the only unit conversions in the project.

Inside: °C, mm, MJ m⁻² d⁻¹, kPa, m s⁻¹, g m⁻², plants m⁻², seeds m⁻², heads m⁻², fractions 0-1.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import inf, isfinite

from swardbook.foundation.errors import BadInputError, OutOfRangeError, plain_number

FACTORS: dict[str, tuple[str, float]] = {
    # unit as typed: (canonical unit, factor); the exact definitions are those of the SI and of
    # the international yard and pound (1959); gallons: UK 4.54609 L, US 3.785411784 L.
    "mm": ("mm", 1.0),
    "cm": ("mm", 10.0),
    "m": ("mm", 1000.0),
    "in": ("mm", 25.4),
    "ft": ("mm", 304.8),
    "yd": ("mm", 914.4),
    "g/m2": ("g/m2", 1.0),
    "kg/m2": ("g/m2", 1000.0),
    "kg/ha": ("g/m2", 0.1),
    "lb/1000ft2": ("g/m2", 453.59237 / (1000 * 0.3048**2)),
    "oz/yd2": ("g/m2", 28.349523125 / 0.9144**2),
    "lb/ac": ("g/m2", 453.59237 / (43560 * 0.3048**2)),
    "m2": ("m2", 1.0),
    "ha": ("m2", 10_000.0),
    "ft2": ("m2", 0.3048**2),
    "yd2": ("m2", 0.9144**2),
    "ac": ("m2", 43560 * 0.3048**2),
    "g": ("g", 1.0),
    "kg": ("g", 1000.0),
    "lb": ("g", 453.59237),
    "oz": ("g", 28.349523125),
    "l": ("l", 1.0),
    "ml": ("l", 0.001),
    "m3": ("l", 1000.0),
    "ft3": ("l", 0.3048**3 * 1000),
    "yd3": ("l", 0.9144**3 * 1000),
    "gal_uk": ("l", 4.54609),
    "gal_us": ("l", 3.785411784),
    "h": ("h", 1.0),
    "min": ("h", 1 / 60),
}
P_PER_P2O5 = 0.4364
K_PER_K2O = 0.8302
"""Element per oxide, from standard atomic weights (P 30.974, K 39.098, O 15.999)."""


@dataclass(frozen=True, slots=True)
class Typed:
    """A number as typed: kept beside what it means in the canonical unit."""

    text: str
    value: float
    unit: str


def celsius_from_fahrenheit(degrees: float) -> float:
    """Turn a temperature [°F] into °C."""
    return (degrees - 32) * 5 / 9


def convert(value: float, unit: str) -> tuple[float, str]:
    """Turn a value into its canonical unit.

    Parameters
    ----------
    value : float
        The number. [`unit`]
    unit : str
        One of the keys of `FACTORS`; ``g/m²`` and ``g m⁻²`` are read as ``g/m2``.

    Returns
    -------
    tuple of float and str
        The number and the canonical unit.

    Raises
    ------
    BadInputError
        If the unit is unknown.
    """
    known = _plain(unit)
    if known not in FACTORS:
        hint = "UK or US gallons?" if known.startswith("gal") else ""
        raise BadInputError("the unit", unit, ", ".join(FACTORS), hint)
    canonical, factor = FACTORS[known]
    return value * factor, canonical


def read_quantity(text: str, default_unit: str, name: str) -> Typed:
    """Read ``35``, ``35 g/m2``, ``5/16 in`` or ``3,5`` into the canonical unit.

    Parameters
    ----------
    text : str
        What was typed; a decimal comma is understood.
    default_unit : str
        The unit that a bare number has; its canonical unit is the one returned.
    name : str
        The quantity, for the message.

    Raises
    ------
    BadInputError
        If it is no number, or its unit measures something else.
    """
    number, typed_unit = _number_and_unit(text)
    if number is None:
        raise BadInputError(name, text, f"a number, with a unit if it is not {default_unit}")
    wanted = convert(1.0, default_unit)[1]
    fitting = [each for each, (canonical, _) in FACTORS.items() if canonical == wanted]
    if typed_unit and _plain(typed_unit) not in FACTORS:
        hint = "UK or US gallons?" if _plain(typed_unit).startswith("gal") else ""
        raise BadInputError(name, text, f"a number in {', '.join(fitting)}", hint)
    value, unit = convert(number, typed_unit or default_unit)
    if unit != wanted:
        raise BadInputError(
            name, text, f"a number in {', '.join(fitting)}", f"{typed_unit} is no {wanted}."
        )
    return Typed(text.strip(), value, unit)


def read_number(text: str) -> float | None:
    """Read a number with a decimal point or a decimal comma; None if it is none.

    A comma before exactly three digits parts thousands, as in everything printed here
    (``13,800``), unless the number begins with 0. A space that does not break parts them too.
    """
    plain = text.strip().replace("−", "-")
    plain = re.sub(rf"(?<=\d)[{_PARTING}](?=\d{{3}}(\D|$))", "", plain)
    if re.fullmatch(r"[-+]?[1-9]\d{0,2}(,\d{3})+(\.\d+)?", plain):
        plain = plain.replace(",", "")
    elif re.fullmatch(r"[-+]?\d{1,3}(\.\d{3})+,\d+", plain):
        plain = plain.replace(".", "").replace(",", ".")
    elif re.fullmatch(r"[-+]?\d*,\d+", plain):
        plain = plain.replace(",", ".")
    if not re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?", plain, re.IGNORECASE):
        return None
    number = float(plain)
    return number if isfinite(number) else None


def require(name: str, value: float, low: float, high: float, unit: str, hint: str = "") -> float:
    """Give `value` back if it lies from `low` to `high`, both included.

    Raises
    ------
    OutOfRangeError
        If it does not, or is not a number.
    """
    if not low <= value <= high:
        allowed = f"from {plain_number(low)}"
        allowed = f"{allowed} to {plain_number(high)}" if high < inf else f"{allowed[5:]} or more"
        raise OutOfRangeError(name, float(value), allowed, unit, hint)
    return value


_PARTING = "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}"
_PARTED = rf"\d{{1,3}}(?:[ {_PARTING}]\d{{3}})+(?!\d)"


def height_hint(height_mm: float) -> str:
    """Say the likely slip in a height of cut: inches below 2, centimetres above.

    Parameters
    ----------
    height_mm : float
        The height as read. [mm]
    """
    if 0 < height_mm < 2:
        return f"{height_mm:g} in is {height_mm * FACTORS['in'][1]:.1f} mm."
    return "8 cm is 80 mm."


def _number_and_unit(text: str) -> tuple[float | None, str]:
    plain = text.strip().replace("−", "-")
    part = re.fullmatch(r"([-+]?)(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)(?![\d/.,])\s*(.*)", plain)
    if part and int(part[4]):
        number = int(part[2] or 0) + int(part[3]) / int(part[4])
        return -number if part[1] == "-" else number, part[5]
    whole = re.fullmatch(rf"([-+]?(?:{_PARTED})?[\d.,]*)\s*(.*)", plain)
    plain = whole[1].replace(" ", "") if whole else ""
    return (read_number(plain), whole[2]) if whole and not part else (None, "")


_SPELLED = {
    "millimetres": "mm", "inch": "in", "inches": "in", "feet": "ft", "foot": "ft", "yards": "yd",
    "sqm": "m2", "sqft": "ft2", "sqyd": "yd2", "acres": "ac", "acre": "ac", "hectares": "ha",
    "litre": "l", "litres": "l", "liter": "l", "liters": "l", "gram": "g", "grams": "g",
    "ukgal": "gal_uk", "usgal": "gal_us", "hours": "h", "hour": "h", "minutes": "min",
}  # fmt: skip


_IN_WORDS = (
    (r"[″”“\"]|''", "in"), (r"\bins?\b\.?", "in"), (r"\bsq(?:uare|\.)?\s*(?:yards?|yds?)\b", "yd2"),
    (r"\bsq(?:uare|\.)?\s*(?:feet|foot|ft)\b", "ft2"),
    (r"\bsq(?:uare|\.)?\s*(?:metres?|m)\b", "m2"),
    (r"\blbs\b\.?|\bpounds?\b", "lb"), (r"\bozs\b\.?|\bounces?\b", "oz"),
    (r"\b(?:gms?|grammes?|grams?)\b\.?", "g"), (r"\bkgs\b|\bkilos?\b", "kg"),
    (r"\b1,000\s*|\bthousand\s*", "1000"), (r"\b(?:hrs?)\b\.?", "h"), (r"\bmins\b\.?", "min"),
)  # fmt: skip
"""Units in the words of an old notebook, as patterns."""


def known_unit(text: str) -> str:
    """Give a unit as it is known here, such as ``oz/yd2`` for "oz per sq yd"; empty if none."""
    plain = _plain(text)
    return plain if plain in FACTORS else ""


_CUSTOMARY = frozenset(
    {"in", "ft", "yd", "lb/1000ft2", "oz/yd2", "lb/ac", "ft2", "yd2", "ac", "lb", "oz", "ft3",
     "yd3", "gal_uk", "gal_us"}
)  # fmt: skip


def is_customary(text: str) -> bool:
    """Tell whether a quantity was typed in inches, pounds, gallons or another unit not metric."""
    number, unit = _number_and_unit(text)
    return number is not None and _plain(unit) in _CUSTOMARY


def with_decimal_comma(text: str) -> str:
    """Read a comma before just three digits as a decimal mark, as one who chose it types it.

    Returns
    -------
    str
        The same text, with a point where it is one number of that kind and perhaps a unit.
    """
    found = re.fullmatch(r"((?:\w+=)?[-+−]?\d{1,3}),(\d{3})(\s*[^\d\s,;].*)?", text.strip())
    if found is None or (found[3] and not known_unit(found[3])):
        return text
    return f"{found[1]}.{found[2]}{found[3] or ''}"


def _plain(unit: str) -> str:
    text = unit.strip().lower().translate(str.maketrans("²³⁻¹", "23-1"))
    for pattern, short in _IN_WORDS:
        text = re.sub(pattern, short, text)
    text = re.sub(r"\s+per\s+|\s+an?\s+", "/", text)
    text = re.sub(r"\s*\bm-2$", "/m2", text)
    text = re.sub(r"\s*\bha-1$", "/ha", text).replace(" ", "")
    return _SPELLED.get(text, text)
