"""Available water of three soils."""

from __future__ import annotations

from swardbook.foundation.provenance import Grade
from swardbook.weather.soil_water import total_available_water
from tests.support.checks import Check

_SOILS = (("loamy sand", 0.15, 0.06, 36.0), ("silt", 0.32, 0.15, 68.0),
          ("silty clay", 0.35, 0.23, 48.0))  # fmt: skip

CHECKS: list[Check] = [
    Check(
        id=f"available-water-{name.replace(' ', '-')}",
        what=f"total available water of 0.4 m of {name} [mm], water contents from memory",
        source="allen_pereira_1998",
        place="Example 36",
        expected=expected,
        tolerance=0.01,
        grade=Grade.PUBLISHED,
        got=lambda a=full, b=wilted: total_available_water(a, b, 400.0),  # type: ignore[misc]
    )
    for name, full, wilted, expected in _SOILS
]
