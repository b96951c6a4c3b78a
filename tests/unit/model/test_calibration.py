"""Weighing draws by what was seen: right where the answer is known, and silent about luck."""

import numpy as np
import pytest

from swardbook.handbook.parameters import parameter
from swardbook.model.calibration import (
    Found,
    Target,
    effective,
    likeness,
    moved,
    weighted_quantiles,
)
from swardbook.model.chance import Chance

KEY, OTHER = "model.zone.pressing", "model.zone.thinning"
DRAWS = 4096
SCORES = {key: Chance(("calibration",)).normals(key, DRAWS) for key in (KEY, OTHER)}


def target(low: float, high: float, near: tuple[float, float] | None = None) -> Target:
    return Target("key", "what [-]", "practice", "place", low, high, "seen", (KEY,), likeness=near)


@pytest.mark.parametrize(
    ("low", "high", "verdict"),
    [(-1.0, 1.0, "inside"), (1.0, 2.0, "within the draws"), (9.0, 10.0, "missed")],
)
def test_a_verdict_says_how_near_the_draws_come(low: float, high: float, verdict: str) -> None:
    assert Found(target(low, high), 0.0, SCORES[KEY]).verdict == verdict


def test_weighing_a_normal_number_by_a_normal_likeness_gives_the_known_answer() -> None:
    found = Found(target(0, 0, (1.0, 1.0)), 0.0, SCORES[KEY])
    weights = likeness([found])
    mean = float(weights @ SCORES[KEY])
    spread = float(np.sqrt(weights @ (SCORES[KEY] - mean) ** 2))
    assert mean == pytest.approx(0.5, abs=0.05)
    assert spread == pytest.approx(np.sqrt(0.5), abs=0.05)
    assert weights.sum() == pytest.approx(1.0)


def test_only_the_number_that_was_weighed_is_said_to_move() -> None:
    found = Found(target(0, 0, (1.0, 1.0)), 0.0, SCORES[KEY])
    rows = moved(SCORES, likeness([found]))
    assert [row.key for row in rows] == [KEY]
    assert rows[0].shift == pytest.approx(0.5, abs=0.1)
    assert rows[0].narrowing == pytest.approx(1 - np.sqrt(0.5), abs=0.06)
    assert rows[0].before[1] == pytest.approx(parameter(KEY).value, rel=0.05)


def test_draws_that_all_count_the_same_move_nothing() -> None:
    even = np.full(DRAWS, 1 / DRAWS)
    assert effective(even) == pytest.approx(DRAWS)
    assert moved(SCORES, even) == []


def test_weighted_quantiles_of_even_weights_are_those_of_the_values() -> None:
    values = np.array([4.0, 1.0, 3.0, 2.0])
    assert weighted_quantiles(values, np.ones(4), (0.25, 0.5, 1.0)).tolist() == [1.0, 2.0, 4.0]
