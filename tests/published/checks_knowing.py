"""The worth of knowing a normal unknown, against the printed table of the unit normal loss."""

from functools import partial

import numpy as np

from swardbook.evidence.knowing import worth_of_knowing
from swardbook.foundation.provenance import Grade
from swardbook.model.chance import Chance
from tests.support.checks import Check

_DRAWS = 32768
_PRINTED = {0.0: 0.3989, 0.5: 0.1978, 1.0: 0.08332}


def _got(middle: float) -> float:
    chance = Chance(("unit normal loss",))
    unknown = middle + chance.normals("unknown", _DRAWS)
    losses = np.stack([np.zeros(_DRAWS), unknown])
    return worth_of_knowing(losses, unknown[None], np.arange(_DRAWS) % 16).worth


CHECKS = [
    Check(
        f"unit normal loss at {middle:g}",
        f"Worth of knowing a unit normal that lies {middle:g} from level, by simulation",
        "raiffa_schlaifer_1961",
        "table of the unit normal loss (from memory)",
        printed,
        0.012,
        Grade.JUDGED,
        partial(_got, middle),
    )
    for middle, printed in _PRINTED.items()
]
