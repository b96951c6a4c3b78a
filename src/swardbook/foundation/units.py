"""Quantities in the units a person chose; inside and in JSON they stay as they are.

A quantity is written in metric where it is worked out. At the door it is put into the chosen
units, by as many figures as the metric number had, so that it reads back to the same number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, log10

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import FACTORS


class System(StrEnum):
    """The units a person may choose."""

    METRIC = "metric"
    IMPERIAL = "imperial"
    US = "us"


POINT, COMMA = ".", ","
MARKS = {"": POINT, ".": POINT, "point": POINT, ",": COMMA, "comma": COMMA}
PARTING_SPACE = "\N{NO-BREAK SPACE}"
"""Parts thousands where the comma is the decimal mark."""


@dataclass(frozen=True, slots=True)
class Units:
    """What quantities are shown in.

    Parameters
    ----------
    system : System
        ``metric``; ``imperial`` for inches, feet, yd², oz/yd², pounds and UK gallons, with °C;
        ``us`` for inches, feet, ft², lb/1000 ft², pounds, US gallons and °F.
    decimal_mark : str
        The point or the comma.
    """

    system: System = System.METRIC
    decimal_mark: str = POINT

    @property
    def is_plain(self) -> bool:
        """Whether everything is shown as it is written inside."""
        return self == METRIC

    def unit(self, metric: str, *values: float) -> Unit | None:
        """Find the unit in which a metric quantity is shown; None where it stays.

        Parameters
        ----------
        metric : str
            The unit as written inside, such as ``g/m²``.
        *values : float
            The numbers that share it: large ones may take a larger unit. [`metric`]
        """
        made = _SHOWN[self.system].get(metric, ())
        size = max(map(abs, values), default=0.0)
        return next((each for each in made if size < each.below), None)

    def write(self, value: float, metric: str, decimals: int = 0) -> str:
        """Write one quantity with its unit.

        Parameters
        ----------
        value : float
            The quantity. [`metric`]
        metric : str
            The unit that it is held in: one of those of `unit`.
        decimals : int
            Decimals that the metric number has.

        Returns
        -------
        str
            Such as ``5/16 in`` or ``0,88 oz/yd²``.
        """
        text = f"{value:,.{decimals}f}"
        unit = self.unit(metric, value)
        if unit is None:
            return f"{self.marked(text)} {metric}"
        return f"{self.marked(written([text], unit)[0])} {unit.name}"

    def marked(self, number: str) -> str:
        """Give a number, written with point and comma, the chosen decimal mark.

        Three decimals get a nought behind them: before just three digits a comma parts thousands
        when it is read again.
        """
        if self.decimal_mark == POINT:
            return number
        whole, point, decimals = number.partition(".")
        if point and len(decimals) == 3 and whole.lstrip("-−+") != "0":
            decimals += "0"
        whole = whole.replace(",", PARTING_SPACE)
        return f"{whole}{self.decimal_mark}{decimals}" if point else whole


METRIC = Units()


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit that a metric one is shown in.

    Parameters
    ----------
    name : str
        As it is printed and read.
    factor : float
        How many make one of the metric unit. [-]
    offset : float
        What is added after, for °F. [`name`]
    below : float
        It serves numbers below this. [metric unit]
    in_fractions : bool
        Whether the trade writes halves down to thirty-seconds of it.
    """

    name: str
    factor: float
    offset: float = 0.0
    below: float = float("inf")
    in_fractions: bool = False


def read_units(system: str, decimal_mark: str = "") -> Units:
    """Read what a person chose.

    Parameters
    ----------
    system : str
        ``metric``, ``imperial`` or ``us``; empty is metric.
    decimal_mark : str
        ``point``, ``comma``, or the mark itself; empty is the point.

    Raises
    ------
    BadInputError
        If one is neither.
    """
    word, mark = system.strip().casefold(), decimal_mark.strip().casefold()
    if word and word not in set(System):
        raise BadInputError(
            "the units", system, ", ".join(System), "UK gallons go with imperial, US with us."
        )
    if mark not in MARKS:
        raise BadInputError("the decimal mark", decimal_mark, "point or comma")
    return Units(System(word or System.METRIC), MARKS[mark])


def written(numbers: Sequence[str], unit: Unit, is_wet: bool = False) -> list[str]:
    """Write metric numbers that belong together in another unit.

    Parameters
    ----------
    numbers : sequence of str
        As printed in metric: their decimals say how finely they are known.
    unit : Unit
        The unit wanted.
    is_wet : bool
        Whether this is water: its inches are decimal, those of a height of cut are fractions.

    Returns
    -------
    list of str
        The numbers, without the unit.
    """
    values = [float(each.replace(",", "").replace("−", "-")) for each in numbers]
    decimals = max(len(each.partition(".")[2]) for each in numbers)
    step = 10.0**-decimals
    if unit.in_fractions and not is_wet:
        inches = [_in_fractions(each, step * unit.factor, unit.factor) for each in values]
        if all(inches):
            return inches
    return _in_decimals(values, step, unit)


def _in_decimals(values: Sequence[float], step: float, unit: Unit) -> list[str]:
    shown = [each * unit.factor + unit.offset for each in values]
    largest = max(round(abs(each), 3) for each in shown)
    finest = ceil(-log10(step * unit.factor) - 1e-9)
    if not unit.offset:
        is_fine = unit.in_fractions or largest < 1
        finest = min(finest, 0 if largest >= 100 else 3 if is_fine else 2)
        finest = max(finest, 1) if 1 <= largest < 10 else finest
    return [
        _plain_zero(f"{round(each, finest):,.{max(finest, 0)}f}", is_nothing=not value)
        for each, value in zip(shown, values, strict=True)
    ]


def _plain_zero(text: str, *, is_nothing: bool) -> str:
    if text.strip("-0.,"):
        return text
    return "0" if is_nothing else text.lstrip("-")


_COARSE = 50.0
"""From here on [mm] an eighth of an inch is as fine as a tape is read."""


def _in_fractions(value: float, step: float, factor: float) -> str:
    """Give the coarsest fraction that reads back to the number as printed; empty if none does."""
    size = abs(value) * factor
    is_coarse = abs(value) >= _COARSE
    allowed = max(step / 2, 1.6 * factor) if is_coarse else step / 2
    for parts in (1, 2, 4, 8) if is_coarse else (1, 2, 4, 8, 16, 32):
        count = round(size * parts)
        if abs(count / parts - size) <= allowed * (1 + 1e-9) and (count or not size):
            whole, part = divmod(count, parts)
            told = " ".join(
                each for each in (f"{whole:,}" if whole or not part else "",
                                  f"{part}/{parts}" if part else "") if each
            )  # fmt: skip
            return f"-{told}" if value < 0 and count else told
    return ""


def _per(unit: str) -> float:
    return 1 / FACTORS[unit][1]


_INCH = Unit("in", _per("in"), in_fractions=True)
_MOST_FEET = 329.5 / (1000 * _per("ft"))
_MOST_OUNCES = 15.995 / _per("oz")
"""Half-way between two numbers as printed, so that neither reads back on the other side. [m, g]"""
_LENGTHS = {
    "mm": (_INCH,),
    "cm": (Unit("in", 10 * _per("in")),),
    "m": (Unit("ft", 1000 * _per("ft"), below=_MOST_FEET), Unit("yd", 1000 * _per("yd"))),
    "km/h": (Unit("mph", 1000 * _per("yd") / 1.76),),
    "m/s": (Unit("mph", 3600 * _per("yd") / 1.76),),
    "L of soil": (Unit("ft³", _per("ft3"), below=1000.0), Unit("yd³", _per("yd3"))),
    "m³": (Unit("yd³", 1000 * _per("yd3")),),
    "g": (Unit("oz", _per("oz"), below=_MOST_OUNCES), Unit("lb", _per("lb"))),
    "kg": (Unit("lb", 1000 * _per("lb")),),
    "t": (Unit("lb", 1e6 * _per("lb")),),
}  # fmt: skip
_SHOWN: dict[System, dict[str, tuple[Unit, ...]]] = {
    System.METRIC: {},
    System.IMPERIAL: {
        **_LENGTHS,
        "m²": (Unit("yd²", _per("yd2")),),
        "g/m²": (Unit("oz/yd²", _per("oz/yd2")),),
        "g N/m²": (Unit("oz N/yd²", _per("oz/yd2")),),
        "L": (Unit("UK gal", _per("gal_uk")),),
        "m³ of water": (Unit("UK gal", 1000 * _per("gal_uk")),),
        "L/min": (Unit("UK gal/min", _per("gal_uk")),),
    },
    System.US: {
        **_LENGTHS,
        "m²": (Unit("ft²", _per("ft2")),),
        "g/m²": (Unit("lb/1000 ft²", _per("lb/1000ft2")),),
        "g N/m²": (Unit("lb N/1000 ft²", _per("lb/1000ft2")),),
        "L": (Unit("US gal", _per("gal_us")),),
        "m³ of water": (Unit("US gal", 1000 * _per("gal_us")),),
        "L/min": (Unit("US gal/min", _per("gal_us")),),
        "°C": (Unit("°F", 1.8, offset=32.0),),
    },
}
