"""Young swards and banks of seed as printed, against the model at its stated values."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import numpy as np
from tools import calibration_trade_runs as more
from tools.calibration_runs import Crowd, delay, meadow_grass_share, sown_alone

from swardbook.foundation.provenance import Grade
from swardbook.model.chance import Array
from tests.support.checks import Check

STATED = Crowd(64, True)
"""Draws that are all alike: every number at its stated value."""


def _check(
    key: str, what: str, source: str, place: str, expected: float, tolerance: float,
    measure: Callable[[], Array | np.float64],
) -> Check:  # fmt: skip
    def got() -> float:
        return float(np.ravel(measure())[0])

    return Check(f"stand-{key}", what, source, place, expected, tolerance, Grade.PUBLISHED, got)


def _emergence(species: str) -> Callable[[], Array]:
    return lambda: more.field_emergence(STATED, species, 0.5, more.AUTUMN_SOIL)


CHECKS = [
    _check("emergence-ryegrass", "half of ryegrass up in a New Zealand autumn [d]",
           "lincoln_fields_1996", "abstract; soil of 12.3 °C reckoned", 15.5, 3,
           _emergence("perennial ryegrass")),
    _check("emergence-tall-fescue", "half of tall fescue up in a New Zealand autumn [d]",
           "lincoln_fields_1996", "abstract; soil of 12.3 °C reckoned", 19.4, 3,
           _emergence("tall fescue")),
    _check("ryegrass-fortnight", "cover a fortnight after sowing ryegrass at 21 °C",
           "brede_duich_1984a", "abstract: 50 %; warmth assumed", 0.5, 0.12,
           lambda: sown_alone(STATED, "perennial ryegrass", 21.0)[13]),
    _check("three-quarters", "days later to half cover at three quarters of the water",
           "arkansas_tall_fescue", "abstract: as all of it", 0, 2, lambda: delay(STATED, 0.75)),
    _check("half-again", "days later to half cover at half as much water again",
           "arkansas_tall_fescue", "abstract: no gain", 0, 1, lambda: delay(STATED, 1.5)),
    _check("meadow-grass-share", "smooth-stalked meadow-grass ten months on, 55 % of seed [%]",
           "larsen_andreasen_2004", "abstract: 3 to 30 % of tillers; its middle, half its width",
           16.5, 13.5,
           lambda: meadow_grass_share(STATED, date(2002, 4, 1),
                                      ("slender creeping red fescue", "perennial ryegrass"))),
    _check("head-start", "points gained by a head start of 35 days [%]",
           "larsen_andreasen_2004", "abstract: up to 0.08 a degree-day of 679, so 0 to 54", 27, 27,
           lambda: more.head_start(STATED)),
    _check("bank-undug", "yearly loss of a bank of weed seed never dug [%]",
           "roberts_dawkins_1967", "abstract", 22, 6, lambda: more.bank_loss(STATED, 0)),
    _check("bank-dug-twice", "yearly loss of a bank of weed seed dug twice a year [%]",
           "roberts_dawkins_1967", "abstract", 30, 6, lambda: more.bank_loss(STATED, 2)),
]  # fmt: skip
