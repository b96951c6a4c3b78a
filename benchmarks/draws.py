"""Random numbers: the published known answers, and what drawing costs.

Run: ``python -m benchmarks draws``. Nothing here is asserted.
"""

from __future__ import annotations

import numpy as np

from benchmarks._measuring import Row, medians
from benchmarks.model import PARTS
from swardbook.model.chance import Chance
from swardbook.model.parameters import draw_parameters, sown_kinds
from swardbook.model.start import Start, start_state

KNOWN = "16554d9eca36314c db20fe9d672d0fdc d7e772cee186176b 7e68b68aec7ba23b"
"""Philox4x64-10 for counter 0 and key 0 (Salmon and others 2011)."""
MANY = 100_000


def run() -> list[Row]:
    """Measure."""
    words = np.random.Philox(key=0, counter=2**256 - 1).random_raw(4)
    got = " ".join(f"{int(word):016x}" for word in words)
    chance, kinds, draws = Chance(("benchmark",)), sown_kinds(PARTS), 4096

    def ensemble() -> None:
        parameters = draw_parameters(kinds, draws, chance)
        start_state(Start(), parameters, chance)

    took = medians({"one": lambda: chance.normals("use", MANY), "all": ensemble}, 5)
    return [
        Row(
            "counter-based source (Philox4x64-10) against its published known answer",
            f"{got} (all three published vectors are a test)",
            "the same",
            got == KNOWN,
        ),
        Row(
            "drawing, once a run and never a day",
            f"{took['one'] / MANY * 1e9:.0f} ns a normal number;"
            f" {took['all'] / draws * 1e6:.1f} µs a draw for all its constants and its start",
        ),
    ]
