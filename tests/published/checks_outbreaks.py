"""Weather of dollar spot and brown patch: values worked out apart from this code."""

from __future__ import annotations

from functools import partial

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.weather.outbreaks import brown_patch_index, dollar_spot_chance
from tests.support.arrays import days, one
from tests.support.checks import Check

_CHANCES = (
    (70, 15, 0.0955), (80, 18, 0.3155), (85, 20, 0.5147), (90, 20, 0.6238), (100, 13, 0.5119),
    (95, 12, 0.3560), (75, 25, 0.5327), (20, 35, 0.0545),
)  # fmt: skip
FIVE = (days(17, 18.5, 19, 18, 17.5), days(82, 88, 91, 79, 85))
"""Five days of temperature and humidity, whose means are 18 °C and 85 %."""


def _chance(humidity: float, celsius: float) -> float:
    return one(dollar_spot_chance(days(celsius), days(humidity)))


def _index(humidity: float, celsius: float) -> float:
    return one(brown_patch_index(days(celsius), days(humidity)))


CHECKS: list[Check] = [
    *(
        Check(f"dollar-spot-{humidity}-{celsius}",
              f"chance of dollar spot at {humidity} % and {celsius} °C [-]", "smith_kerns_2018",
              "equation; scipy's logistic function agrees", expected, 1e-4, Grade.DEFINED,
              partial(_chance, humidity, celsius))
        for humidity, celsius, expected in _CHANCES
    ),
    Check("dollar-spot-five-days", "chance of dollar spot after five days of 18 °C and 85 % [-]",
          "smith_kerns_2018", "equation on means of five days", 0.4188, 1e-4, Grade.DEFINED,
          lambda: _chance(float(np.mean(FIVE[1])), float(np.mean(FIVE[0])))),
    Check("dollar-spot-threshold", "chance at 20 °C and 68.83 %, where it counts [-]",
          "smith_kerns_2018", "threshold of 20 %", 0.20, 1e-4, Grade.DEFINED,
          lambda: _chance(68.83, 20)),
    *(
        Check(f"brown-patch-{humidity}-{celsius}",
              f"index of brown patch at {humidity} %, a night of {celsius} °C [-]", "fidanza_1996",
              "index (coefficients from memory)", expected, 0.01, Grade.JUDGED,
              partial(_index, humidity, celsius))
        for humidity, celsius, expected in ((95, 20, 7.55), (80, 10, 1.20))
    ),
]  # fmt: skip
