"""Cover by points in frames."""

import pytest

from swardbook.evidence import plain_half_width, point_cover, points_needed
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

HITS = [2, 0, 5, 1, 3, 0, 0, 4, 1, 2]


def test_ten_frames_of_ten_points_count_as_48_not_100() -> None:
    cover = point_cover(HITS, [10] * 10)
    assert cover.share == pytest.approx(0.18)
    assert cover.standard_error == pytest.approx(0.055377, abs=1e-6)
    assert cover.design_effect == pytest.approx(2.077688, abs=1e-6)
    assert cover.within_frames == pytest.approx(0.119743, abs=1e-6)
    assert cover.effective_points == pytest.approx(48.130, abs=1e-3)
    assert cover.interval() == pytest.approx((0.0966, 0.3107), abs=1e-4)


def test_few_frames_widen_the_range() -> None:
    cover = point_cover(HITS, [10] * 10)
    low, high = cover.interval_for_few()
    assert low < cover.interval().low
    assert high > cover.interval().high


def test_frames_more_alike_than_chance_gain_nothing() -> None:
    assert point_cover([5, 5, 5, 5], [25] * 4).design_effect == 1


def test_all_zero_frames_give_two_limits_and_the_wider_range() -> None:
    cover = point_cover([0] * 12, [25] * 12)
    assert cover.design_effect is None
    by_point, by_place = cover.unseen_limits()
    assert (by_point, by_place) == pytest.approx((0.0099, 0.2209), abs=1e-4)
    assert cover.interval() == (0.0, by_place)


def test_frames_hit_everywhere_are_not_taken_as_certain() -> None:
    assert point_cover([25] * 8, [25] * 8).interval().low < 0.7


@pytest.mark.parametrize(
    ("share", "points"),
    [(0.05, (457, 203, 73)), (0.10, (865, 385, 139)), (0.25, (1801, 801, 289)),
     (0.50, (2401, 1068, 385))],
)  # fmt: skip
def test_independent_points_needed(share: float, points: tuple[int, int, int]) -> None:
    assert tuple(points_needed(share, half) for half in (0.02, 0.03, 0.05)) == points


def test_a_hundred_independent_points_at_ten_percent_are_good_to_six() -> None:
    assert plain_half_width(0.1, 100) == pytest.approx(0.0588, abs=1e-4)


def test_refuses_one_frame_and_impossible_hits() -> None:
    with pytest.raises(NotEnoughDataError, match="at least 2 places"):
        point_cover([3], [25])
    with pytest.raises(OutOfRangeError, match="from 0 to 25"):
        point_cover([3, 27], [25, 25])
