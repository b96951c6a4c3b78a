"""No more digits than the range supports."""

import pytest

from swardbook.evidence import Interval, PairedChange
from swardbook.observations.counts import Method
from swardbook.observations.estimating import estimate_kind
from swardbook.observations.samples import Smallest, of_pairs
from swardbook.review.words import (
    change_words,
    decimals,
    estimate_words,
    figure,
    places_to_settle,
    places_words,
    points_words,
)
from tests.support.counted import WEED, plants, points


def test_eight_frames_are_told_in_whole_numbers() -> None:
    """N12."""
    (found,) = estimate_kind(points([8, 12, 16, 16, 20, 20, 24, 24]), WEED)
    assert found.estimate is not None
    words = estimate_words(found.estimate)
    assert words.startswith("18 % (")
    assert "." not in words


def test_densities_have_a_decimal_where_the_range_is_narrow() -> None:
    (found,) = estimate_kind(plants([1, 2, 0, 3, 2, 1, 2, 4]), WEED)
    assert found.estimate is not None
    assert estimate_words(found.estimate).startswith("1.9 a square metre (")
    assert [decimals(Interval(0, width)) for width in (10, 1, 0.05)] == [0, 1, 2]


def test_a_range_over_nought_names_both_ways() -> None:
    change = PairedChange(-7, 9 / 8**0.5, 8, 7, 1, 0)
    made = of_pairs(WEED, change, [18.0, 18], [11.0, 11], Method.POINTS, Smallest.customary(), "")
    assert points_words(made) == "7 points less (15 less to 1 more)"
    assert change_words(made).startswith("18 to 11 %, 7 points less")
    assert places_to_settle(made) == pytest.approx(16, abs=1)


def test_a_clear_fall_needs_no_more_places() -> None:
    change = PairedChange(-7, 2, 20, 14, 4, 2)
    made = of_pairs(WEED, change, [18.0, 18], [11.0, 11], Method.POINTS, Smallest.customary(), "")
    assert points_words(made) == "7 points less (3 to 11)"
    assert places_to_settle(made) is None


def test_there_is_no_minus_nought() -> None:
    assert figure(-0.2) == "0"
    assert figure(-3.2) == "−3"
    assert places_words(1) == "1 place"
