"""Seedlings in frames: density, what came by itself, the share of viable seed, and whose."""

from math import inf

import pytest

from swardbook.evidence.counts import density
from swardbook.evidence.differences import difference_of_densities
from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.seed.seedlings import count_seedlings, whose

FRAMES = (40.0, 55.0, 61.0, 70.0, 75.0, 80.0, 86.0, 92.0, 98.0, 104.0, 117.0, 130.0)
UNSOWN = (9.0, 12.0, 8.0, 15.0)


def test_twelve_frames_give_seedlings_a_square_metre_with_a_range() -> None:
    found = count_seedlings(FRAMES, (), 100, None)
    assert found.sown.per_m2 == pytest.approx(8400)
    assert found.interval.low == pytest.approx(6900, rel=0.05)
    assert found.interval.high == pytest.approx(10_300, rel=0.05)


def test_without_an_unsown_frame_no_share_is_told() -> None:
    found = count_seedlings(FRAMES, (), 100, 21_000)
    assert (found.net, found.share, found.self_sown_share) == (None, None, None)


def test_what_came_by_itself_is_taken_off_and_widens_the_range() -> None:
    found = count_seedlings(FRAMES, UNSOWN, 100, 21_000)
    assert found.net == pytest.approx(7300)
    share = found.share
    assert share is not None
    assert share[0] == pytest.approx(0.348, abs=0.001)
    assert 0.2 < share[1].low < 0.3
    assert 0.4 < share[1].high < 0.5
    range_ = found.net_interval
    assert range_ is not None
    assert range_.high - range_.low > found.interval.high - found.interval.low
    assert found.self_sown_share == pytest.approx(1100 / 8400)


def test_a_test_of_the_seed_widens_the_share_both_ways() -> None:
    sure = count_seedlings(FRAMES, UNSOWN, 100, 21_000).share
    tested = count_seedlings(FRAMES, UNSOWN, 100, 21_000, Interval(18_400, 23_300)).share
    assert sure is not None
    assert tested is not None
    assert tested[0] == sure[0]
    assert tested[1].low < sure[1].low
    assert tested[1].high > sure[1].high


def test_the_difference_of_two_densities_turns_round_with_them() -> None:
    one, two = density(FRAMES, [0.01] * 12), density(UNSOWN, [0.01] * 4)
    ahead, back = difference_of_densities(one, two), difference_of_densities(two, one)
    assert (ahead.low, ahead.high) == pytest.approx((-back.high, -back.low))


def test_a_certain_second_density_leaves_the_first_ones_width() -> None:
    one = density(FRAMES, [0.01] * 12)
    none = density([0.0, 0.0], [1e9, 1e9])
    found = difference_of_densities(one, none)
    assert found.low == pytest.approx(one.interval().low, rel=1e-4)
    assert found.high == pytest.approx(one.interval().high, rel=1e-4)
    assert none.clumping == inf


def test_fewer_than_six_frames_or_one_unsown_frame_is_too_little() -> None:
    with pytest.raises(NotEnoughDataError, match="6 frames"):
        count_seedlings(FRAMES[:5], (), 100, None)
    with pytest.raises(NotEnoughDataError, match="2 unsown"):
        count_seedlings(FRAMES, (9.0,), 100, None)
    with pytest.raises(OutOfRangeError):
        count_seedlings((*FRAMES, -1.0), (), 100, None)


def test_cannot_tell_makes_a_range_that_chance_widens() -> None:
    found = whose(168, 41, 31, leaves=3)
    assert (found.least, found.most) == pytest.approx((0.171, 0.30), abs=0.001)
    assert found.interval.low < found.least < found.most < found.interval.high


def test_one_or_two_leaves_cannot_be_told_apart() -> None:
    with pytest.raises(NotEnoughDataError, match="cannot tell"):
        whose(168, 41, 31, leaves=2)
    with pytest.raises(NotEnoughDataError, match="none"):
        whose(0, 0, 0, leaves=3)
    with pytest.raises(OutOfRangeError):
        whose(-1, 0, 2, leaves=3)
