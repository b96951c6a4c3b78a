"""The compiled passes over pixels, for tests."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

import numpy as np

from swardbook.photos.covering import Pass, Pixels, load_pass

ROOT = Path(__file__).parents[2]


@cache
def the_pass() -> Pass:
    """Give the compiled passes, kept between runs."""
    return load_pass(Path(os.environ.get("SWARDBOOK_CACHE", ROOT / ".cache" / "swardbook")))


def rows_of_leaf(share: float, side: int = 100) -> Pixels:
    """Make a square of leaf above and soil below."""
    made = np.empty((side, side, 3), np.uint8)
    made[: round(share * side)] = (80, 110, 50)
    made[round(share * side) :] = (150, 130, 90)
    return made
