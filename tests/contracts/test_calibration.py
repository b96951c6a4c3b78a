"""Each target of the calibration can be run, names its source, and says what it informs."""

import numpy as np
import pytest
from tools.calibration_runs import Measure, find
from tools.calibration_targets import TARGETS

from swardbook.handbook.parameters import parameters
from swardbook.handbook.sources import sources
from swardbook.model.calibration import Target
from swardbook.model.draws import is_drawn

LONGEST = ("rough-stalked", "bent")
"""Weeds whose years are run as those of the others are, only longer."""


@pytest.mark.parametrize(
    ("target", "measure"),
    [
        pytest.param(
            *each, marks=[pytest.mark.long] if any(kind in each[0].what for kind in LONGEST) else []
        )
        for each in TARGETS
    ],
    ids=lambda each: getattr(each, "key", ""),
)
def test_a_target_runs_and_says_where_it_comes_from(target: Target, measure: Measure) -> None:
    assert target.source in sources()
    assert target.low <= target.high
    assert all(key in parameters() and is_drawn(key) for key in target.informs)
    found = find(target, measure, 64)
    assert found.draws.shape == (64,)
    assert np.isfinite(found.draws).all()
    assert np.isfinite(found.central)


def test_a_target_whose_numbers_were_chosen_with_it_weighs_nothing() -> None:
    assert all(target.independent for target, _ in TARGETS if target.likeness is not None)
