"""Available water of soils, the stress of a dry root zone, and its balance over a dry week."""

from __future__ import annotations

from functools import cache, partial

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.handbook.soils import soil
from swardbook.weather.soil_water import (
    RootZone,
    WaterBalance,
    depletion_fraction,
    root_zone_balance,
    root_zone_of,
    stress_factor,
    total_available_water,
)
from tests.support.arrays import days, one, scalar
from tests.support.checks import Check

FAO = "allen_pereira_1998"
_SOILS = (("loamy sand", 0.15, 0.06, 36.0), ("silt", 0.32, 0.15, 68.0),
          ("silty clay", 0.35, 0.23, 48.0))  # fmt: skip
# texture: water between field capacity and wilting point in a metre, middles of the table [mm]
_METRE = {"sand": 75, "loamy sand": 85, "sandy loam": 120, "loam": 130, "silt loam": 140,
          "silt": 150, "silty clay loam": 130, "silty clay": 130, "clay": 140}  # fmt: skip
# easy water of 0.10, 0.15 and 0.30 m of roots [mm]
_EASY = {"sand": (3.0, 4.5, 9.0), "loam": (5.2, 7.8, 15.6), "clay": (5.6, 8.4, 16.8)}
_DEPLETION = (2.728, 6.072, 9.768, 11.598, 13.381)
_STRESS = (1.0, 1.0, 1.0, 0.8318, 0.6754)


@cache
def _dry_week() -> WaterBalance:
    """Five days without rain on 150 mm of loam, with four tenths of its water easy to take."""
    none = np.zeros(5)
    et0 = days(3.1, 3.8, 4.2, 2.5, 3.0)
    return root_zone_balance(et0, none, none, RootZone(19.5, 0.4), crop_coefficient=0.88)


def _easy(texture: str, depth: float) -> float:
    """Water that roots take without stress at 5 mm a day [mm]."""
    return root_zone_of(soil(texture), depth).total * scalar(depletion_fraction, 5.0)


CHECKS: list[Check] = [
    *(
        Check(
            f"available-water-{name.replace(' ', '-')}",
            f"total available water of 0.4 m of {name} [mm], water contents from memory", FAO,
            "Example 36", expected, 0.01, Grade.PUBLISHED,
            partial(total_available_water, full, wilted, 400.0),
        )
        for name, full, wilted, expected in _SOILS
    ),
    *(
        Check(
            f"available-water-metre-{name.replace(' ', '-')}",
            f"available water of a metre of {name} [mm]", FAO,
            "Table 19, middles of its water contents", expected, 0.01, Grade.DEFINED,
            lambda name=name: root_zone_of(soil(name), 1000).total,  # type: ignore[misc]
        )
        for name, expected in _METRE.items()
    ),
    *(
        Check(
            f"easy-water-{name}-{depth}", f"easy water of {depth} mm of {name} [mm]", FAO,
            "Table 19, middles, times 0.40 of Table 22", expected, 0.01, Grade.DEFINED,
            partial(_easy, name, depth),
        )
        for name, by_depth in _EASY.items()
        for depth, expected in zip((100, 150, 300), by_depth, strict=True)
    ),
    Check("stress-half", "stress factor at 14 of 20 mm missing, 0.4 of it easy [-]", FAO,
          "eq. 84", 0.5, 1e-6, Grade.DEFINED, lambda: one(stress_factor(days(14.0), 20.0, 0.4))),
    *(
        Check(
            f"dry-week-{name}-{day}", f"{what} of day {day} of five dry ones on loam [{unit}]",
            "practice", "sum by hand", expected, tolerance, Grade.DEFINED,
            lambda name=name, day=day: float(  # type: ignore[misc]
                getattr(_dry_week(), name)[day - 1]),
        )
        for name, what, unit, values, tolerance in (
            ("depletion", "water missing in the evening", "mm", _DEPLETION, 0.001),
            ("stress", "stress factor", "-", _STRESS, 0.0001),
        )
        for day, expected in enumerate(values, start=1)
    ),
]  # fmt: skip
