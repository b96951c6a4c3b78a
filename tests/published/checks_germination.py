"""Coming up in order, and in dry soil, as printed, against the model at its stated values."""

from __future__ import annotations

from functools import partial

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.handbook.species import find_species
from swardbook.model.parameters import central_parameters, sown_kinds
from swardbook.model.processes.germination import share_emerged, warmth, wetness
from swardbook.seed.lot import LotPart
from tests.support.checks import Check

FULL_MPA = -0.03
P = Grade.PUBLISHED


def _share_up(species: str, potential_mpa: float, soil_c: float, days: int) -> float:
    """Share of the seed that is up after so many days at one warmth and water potential."""
    stated = central_parameters(sown_kinds([LotPart(species, 1.0)])).sown.a
    base, half, spread, dry, slow = (
        float(np.ravel(each)[0])
        for each in (stated.base_temperature, stated.warmth_50, stated.spread,
                     stated.potential_base, stated.potential_slow)
    )  # fmt: skip
    earned = float(warmth(soil_c, base) * wetness(potential_mpa, dry, slow))
    below = 1.0
    for day in range(days):
        below *= 1 - float(share_emerged(day * earned, earned, half, spread))
    return 1 - below


def _days(species: str, soil_c: float) -> float:
    """Days until half of it is up in moist soil."""
    return float(next(day for day in range(1, 400)
                      if _share_up(species, FULL_MPA, soil_c, day) >= 0.5))  # fmt: skip


def _not_later(one: str, other: str, soil_c: float) -> float:
    return float(_days(one, soil_c) <= _days(other, soil_c))


CHECKS: list[Check] = [
    Check("germination-timothy-after-tall-fescue",
          "half of tall fescue up before half of small timothy: 1 yes", "lincoln_fields_1996",
          "abstract: 19.4 and 23.6 days, large timothy; soil of 12.3 °C reckoned", 1, 0, P,
          lambda: float(_days("tall fescue", 12.3) < _days("small timothy", 12.3))),
    *(
        Check(f"germination-{find_species(one).model_name}-{find_species(other).model_name}",
              f"half of {one} up no later than half of {other}: 1 yes", "purdue_fine_fescues",
              "abstract: order of germination; soil of 15 °C assumed", 1, 0, P,
              partial(_not_later, one, other, 15.0))
        for one, other in (
            ("strong creeping red fescue", "slender creeping red fescue"),
            ("slender creeping red fescue", "hard fescue"),
            ("chewings fescue", "sheep's fescue"), ("sheep's fescue", "tall fescue"),
            ("hard fescue", "sheep's fescue"),
        )
    ),
    *(
        Check(f"germination-tall-fescue-{soil}-{str(mpa).lstrip('-0.') or '0'}",
              f"share of tall fescue up in the end at {soil} °C and {mpa:g} MPa [-]",
              "lincoln_tall_fescue_2016", "abstract: 80 to 100 %; here after 150 days", 0.9, 0.1,
              P, partial(_share_up, "tall fescue", mpa, soil, 150))
        for soil in (10, 20, 30)
        for mpa in (FULL_MPA, -0.37)
    ),
    Check("germination-tall-fescue-too-dry", "share of tall fescue up in the end at -0.95 MPa [-]",
          "lincoln_tall_fescue_2016", "abstract: base water potential; here after 150 days", 0,
          0.02, P, partial(_share_up, "tall fescue", -0.95, 20.0, 150)),
]  # fmt: skip
