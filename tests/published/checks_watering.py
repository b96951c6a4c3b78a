"""Watering: evenness of catches, rates, the multiplier, and litres."""

from __future__ import annotations

from functools import partial

from swardbook.foundation.provenance import Grade
from swardbook.husbandry.bulk import volume_l
from swardbook.husbandry.tins import (
    evenness,
    longest_run,
    rate_mm_h,
    run_for,
    scheduling_multiplier,
)
from tests.support.checks import Check

FIFTEEN = [47.0, 42, 45, 24, 13, 26, 33, 34, 27, 30, 40, 44, 32, 12, 12]
SIXTEEN = [12.0, 14, 10, 9, 13, 15, 11, 8, 12, 10, 14, 13, 9, 11, 12, 7]
TWELVE = [6, 8.5, 7, 9, 5, 7.5, 8, 6.5, 9.5, 4.5, 7, 8.5]


def _sixteen_run(depth: float, share: float | None) -> float:
    even = evenness(SIXTEEN)
    return run_for(depth, rate_mm_h(even.mean, 15), share, None).run_min


CATCHES = [
    Check("cans_15_mean", "mean of fifteen cans [mL]", "grabow_catch_cans", "example", 30.733,
          0.0005, Grade.DEFINED, lambda: evenness(FIFTEEN).mean),
    Check("cans_15_lowest", "evenness of fifteen cans, four of them the lowest quarter [%]",
          "grabow_catch_cans", "example, a quarter of the cans rounded", 49.62, 0.01,
          Grade.DEFINED, lambda: 100 * evenness(FIFTEEN).share),
    Check("cans_15_rounded_down", "evenness of fifteen cans by the lowest three [%]",
          "grabow_catch_cans", "the same cans, a quarter rounded down", 40.13, 0.01, Grade.DEFINED,
          lambda: 100 * evenness(FIFTEEN).rounded_down),
    Check("cans_15_exact_quarter", "evenness of fifteen cans by 3.75 of them [%]",
          "grabow_catch_cans", "the same cans, with a part of a can", 47.72, 0.01, Grade.DEFINED,
          lambda: 100 * evenness(FIFTEEN).exact_quarter),
    Check("cans_12_mean", "mean of twelve tins [mm]", "practice", "sum over number", 7.25, 1e-9,
          Grade.DEFINED, lambda: evenness(TWELVE).mean),
    Check("cans_15_christiansen", "Christiansen's coefficient of fifteen cans [%]",
          "grabow_catch_cans", "example", 69.14, 0.01, Grade.DEFINED,
          lambda: 100 * evenness(FIFTEEN).christiansen),
    Check("cans_15_counted", "cans in the lowest quarter of fifteen", "grabow_catch_cans",
          "example, a quarter of the cans rounded", 4, 0, Grade.DEFINED,
          lambda: evenness(FIFTEEN).lowest),
    Check("cans_16_mean", "mean of sixteen cans [mm]", "practice", "sum over number", 11.25, 1e-9,
          Grade.DEFINED, lambda: evenness(SIXTEEN).mean),
    Check("cans_16_lowest", "evenness of sixteen cans [-]", "practice", "lowest four over mean",
          0.7333, 1e-4, Grade.DEFINED, lambda: evenness(SIXTEEN).share),
    Check("cans_16_christiansen", "Christiansen's coefficient of sixteen cans [-]", "practice",
          "1 less mean deviation over mean", 0.8333, 1e-4, Grade.DEFINED,
          lambda: evenness(SIXTEEN).christiansen),
    Check("cans_16_rate", "rate of fall, 11.25 mm in 15 minutes [mm/h]", "practice",
          "depth over time", 45, 1e-9, Grade.DEFINED,
          lambda: rate_mm_h(evenness(SIXTEEN).mean, 15)),
    Check("cans_12_lowest", "evenness of twelve tins [-]", "practice", "lowest three over mean",
          0.71, 0.005, Grade.DEFINED, lambda: evenness(TWELVE).share),
    Check("cans_12_quarter", "lowest quarter of twelve tins [mm]", "practice", "lowest three", 5.17,
          0.005, Grade.DEFINED, lambda: evenness(TWELVE).lowest_mean),
]  # fmt: skip

RUNS = [
    *(
        Check(f"multiplier_{round(1e4 * share)}", f"multiplier at evenness {share:g} [-]",
              "irrigation_association_multiplier", "1 / (0.4 + 0.6 DU)", expected, 0.001,
              Grade.JUDGED, partial(scheduling_multiplier, share))
        for share, expected in ((1.0, 1.0), (0.7333, 1.1905), (0.5, 1.4286))
    ),
    Check("run_12_mm", "12 mm by sixteen cans, no allowance [min]", "practice", "depth over rate",
          16.0, 1e-9, Grade.DEFINED, lambda: _sixteen_run(12, None)),
    Check("run_12_mm_allowed", "12 mm by sixteen cans, with the multiplier [min]",
          "irrigation_association_multiplier", "times 1.1905", 19.05, 0.005, Grade.JUDGED,
          lambda: _sixteen_run(12, evenness(SIXTEEN).share)),
    Check("ring_25_in_22", "25 mm in 22 minutes [mm/h]", "practice", "depth over time", 68, 0.5,
          Grade.DEFINED, lambda: rate_mm_h(25, 22)),
    Check("turn_on_slow_ground", "45 mm/h onto ground that takes 10, 3 mm held [min]", "practice",
          "60 times what lies, over the difference", 5.143, 0.001, Grade.DEFINED,
          lambda: longest_run(45, 10) or 0.0),
    Check("litres_240_m2", "4 mm on 240 m² [L]", "practice", "1 mm on 1 m² is 1 L", 960, 1e-9,
          Grade.DEFINED, lambda: volume_l(240, 4)),
    Check("minutes_240_m2", "that at 12 L/min [min]", "practice", "litres over rate", 80, 1e-9,
          Grade.DEFINED, lambda: volume_l(240, 4) / 12),
]  # fmt: skip

CHECKS: list[Check] = [*CATCHES, *RUNS]
