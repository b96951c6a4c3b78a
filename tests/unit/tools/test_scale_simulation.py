"""The simulated night keeps the bounds that can be reckoned by hand."""

import pytest
from tools.scale_simulation import Night, simulate


@pytest.mark.parametrize(
    ("night", "seconds"),
    [
        (Night(1000, 4, 1, [1.0], 0.0, 0.0, 0.0), 250.0),  # workers alone
        (Night(2000, 64, 1, [0.1], 0.001, 0.01, 0.01), 40.0),  # one driver, 20 ms a lawn
        (Night(2000, 64, 8, [0.1], 0.02, 0.001, 0.001), 40.0),  # the scheduler, 20 ms a lawn
    ],
)
def test_what_is_shortest_of_hands_bounds_the_night(night: Night, seconds: float) -> None:
    found = simulate(night)
    assert found.seconds == pytest.approx(seconds, rel=0.02)
    assert found.efficiency <= 1
    assert max(found.scheduler_busy, found.drivers_busy) <= 1 + 1e-9
