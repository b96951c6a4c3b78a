"""Growth potential by temperature, and where its two curves cross."""

from __future__ import annotations

from scipy.optimize import brentq

from swardbook.foundation.provenance import Grade
from swardbook.weather.thermal import Kind, growth_potential
from tests.support.arrays import days, one
from tests.support.checks import Check


def crossing() -> float:
    """Temperature at which cool and warm-season grasses are equally near their best."""

    def gap(celsius: float) -> float:
        return potential(celsius, Kind.COOL) - potential(celsius, Kind.WARM)

    return float(brentq(gap, 20, 31))


def potential(celsius: float, kind: Kind) -> float:
    return one(growth_potential(days(celsius), kind))


CHECKS: list[Check] = [
    Check(
        id="growth-potential-crossing",
        what="temperature at which the cool and warm-season curves cross [°C]",
        source="woods_2014",
        place="text: about 24.8 °C",
        expected=24.8,
        tolerance=0.05,
        grade=Grade.PUBLISHED,
        got=crossing,
    ),
    Check(
        id="growth-potential-optimum",
        what="growth potential of cool-season grass at 68 °F [-]",
        source="gelernter_stowell_2005",
        place="optimum of the cool-season curve, 68 °F",
        expected=1.0,
        tolerance=1e-9,
        grade=Grade.PUBLISHED,
        got=lambda: potential(20.0, Kind.COOL),
    ),
]
