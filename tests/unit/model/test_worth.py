"""What a job of this week is worth, on the same draws and weather."""

from dataclasses import replace

import numpy as np
import pytest

from swardbook.model.programmes import programme
from swardbook.model.worth import skipped_worth
from tests.support.ahead import tonight


def test_skipping_a_pull_leaves_more_plants() -> None:
    ahead, plan, grow = tonight()
    found = skipped_worth(ahead, plan, "pull", grow, hours=40.0)
    assert found is not None
    assert found.plants_m2.median > 0
    assert found.seed_m2.median > 0


def test_more_hours_of_pulling_are_worth_more() -> None:
    ahead, plan, grow = tonight()
    few, many = (skipped_worth(ahead, plan, "pull", grow, hours=hours) for hours in (2.0, 40.0))
    assert few is not None
    assert many is not None
    assert many.plants_m2.median > few.plants_m2.median


def test_no_hours_of_pulling_are_worth_exactly_nothing() -> None:
    ahead, plan, grow = tonight()
    found = skipped_worth(ahead, replace(plan, pull_hours_week=0.0), "pull", grow)
    assert found is not None
    assert found.plants_m2.at80 == (0.0, 0.0)
    assert found.seed_m2.at80 == (0.0, 0.0)


@pytest.mark.parametrize("job", ["cut", "verticut", "refill", "feed"])
def test_every_job_of_the_model_has_a_worth_with_a_range(job: str) -> None:
    ahead, _, grow = tonight()
    found = skipped_worth(ahead, programme("whole"), job, grow)
    assert found is not None
    assert np.isfinite([found.cover_points.median, found.seed_m2.median]).all()
    assert found.cover_points.at80.low <= found.cover_points.at80.high


def test_a_job_the_model_does_not_know_has_none() -> None:
    ahead, plan, grow = tonight()
    assert skipped_worth(ahead, plan, "roll", grow) is None
