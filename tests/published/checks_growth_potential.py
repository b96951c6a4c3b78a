"""Growth potential by temperature, where its two curves cross, and light for leaves."""

from __future__ import annotations

from functools import partial

from scipy.optimize import brentq

from swardbook.foundation.provenance import Grade
from swardbook.weather.sun import light_sum
from swardbook.weather.thermal import Kind, growth_potential
from tests.support.arrays import days, one, scalar
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
    Check(
        id="growth-potential-ten",
        what="growth potential of cool-season grass at 10 °C, to six places [-]",
        source="virtanen_scipy_2020",
        place="normal density over its top, computed",
        expected=0.191495,
        tolerance=1e-5,
        grade=Grade.DEFINED,
        got=partial(potential, 10.0, Kind.COOL),
    ),
    *(
        Check(
            id=f"growth-potential-warm-{celsius}",
            what=f"growth potential of warm-season grass at {celsius} °C [-]",
            source="virtanen_scipy_2020",
            place="normal density over its top, computed",
            expected=expected,
            tolerance=6e-5,
            grade=Grade.DEFINED,
            got=partial(potential, float(celsius), Kind.WARM),
        )
        for celsius, expected in ((10, 0.0111), (15, 0.0734), (20, 0.2909), (25, 0.6926))
    ),
    *(
        Check(
            id=f"light-sum-{radiation}",
            what=f"light for leaves of {radiation} MJ m⁻² of sun [mol m⁻² d⁻¹]",
            source="thimijan_heins_1983",
            place="0.45 of the radiation, 4.57 mol a megajoule (from memory)",
            expected=expected,
            tolerance=tolerance,
            grade=Grade.JUDGED,
            got=partial(scalar, light_sum, float(radiation)),
        )
        for radiation, expected, tolerance in ((20, 41.0, 0.5), (2, 4.1, 0.05))
    ),
]
