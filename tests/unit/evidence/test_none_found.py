"""None found is not none there."""

import pytest

from swardbook.evidence import (
    chance_of_missing,
    densest_unseen,
    largest_unseen_share,
    looks_needed,
)
from swardbook.foundation.errors import OutOfRangeError


def test_none_in_24_square_metres_still_allows_30_plants_in_240() -> None:
    assert densest_unseen(24) == pytest.approx(0.125, abs=0.0005)
    assert round(240 * densest_unseen(24)) == 30


def test_none_in_effective_points() -> None:
    assert largest_unseen_share(100) == pytest.approx(0.030, abs=0.0005)
    assert largest_unseen_share(300) == pytest.approx(0.010, abs=0.0005)


def test_a_hundred_points_miss_two_percent_one_time_in_eight() -> None:
    assert chance_of_missing(0.02, 100) == pytest.approx(0.1326, abs=1e-4)
    assert looks_needed(0.02, 0.95) == 149


@pytest.mark.parametrize(
    ("share", "looks"),
    [(0.01, (230, 299, 459)), (0.02, (114, 149, 228)), (0.05, (45, 59, 90)),
     (0.10, (22, 29, 44)), (0.20, (11, 14, 21))],
)  # fmt: skip
def test_looks_needed_to_rule_out_a_share(share: float, looks: tuple[int, int, int]) -> None:
    assert tuple(looks_needed(share, level) for level in (0.90, 0.95, 0.99)) == looks


def test_poor_detection_needs_more_looks() -> None:
    assert looks_needed(0.05, 0.95, detection=0.5) == 117


def test_refuses_shares_and_areas_without_meaning() -> None:
    for call in (
        lambda: densest_unseen(0),
        lambda: largest_unseen_share(0),
        lambda: looks_needed(1.0),
        lambda: looks_needed(0.1, 1.0),
        lambda: looks_needed(0.1, detection=0),
        lambda: chance_of_missing(0, 10),
    ):
        with pytest.raises(OutOfRangeError):
            call()
