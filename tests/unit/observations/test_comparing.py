"""Like compared with like, or refused."""

import pytest

from swardbook.evidence import Verdict
from swardbook.observations.comparing import (
    Reason,
    compare_occasions,
    compare_pairs,
    compare_samples,
)
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import place_figures
from swardbook.observations.overlap import counters_overlap
from swardbook.observations.samples import Smallest
from swardbook.observations.shares import compare_shares
from tests.support.counted import WEED, around, occasion, plants, points

CUSTOMARY = Smallest.customary()
BEFORE = points(around(35, 24, 16), looked=100)
AFTER = points(around(21, 24, 14, shift=3), looked=100)
ALIGNED = points(around(21, 24, 14), looked=100)


def test_a_true_fall_at_the_same_places_in_the_same_month_is_clear() -> None:
    """T20."""
    made = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", AFTER), WEED, CUSTOMARY
    )
    assert made.comparison is not None
    assert made.comparison.verdict is Verdict.CLEAR
    assert made.comparison.difference == pytest.approx(-14, abs=0.5)
    assert made.comparison.smallest == 5
    assert made.fell + made.rose + made.unchanged == 24


def test_may_and_august_are_refused_as_progress() -> None:
    """T19 and N14: different seasons are not compared."""
    made = compare_occasions(
        occasion("2011-05-07", BEFORE), occasion("2011-08-06", AFTER), WEED, CUSTOMARY
    )
    assert made.comparison is None
    assert [each.reason for each in made.refusals] == [Reason.DIFFERENT_SEASON]
    assert "Different seasons: not compared" in made.refusals[0].words


def test_new_year_does_not_part_a_season() -> None:
    made = compare_occasions(
        occasion("2010-12-28", BEFORE), occasion("2012-01-06", AFTER), WEED, CUSTOMARY
    )
    assert made.comparison is not None


def test_six_places_are_not_enough() -> None:
    """T10."""
    made = compare_occasions(
        occasion("2010-10-09", BEFORE[:6]), occasion("2011-10-08", AFTER[:6]), WEED, CUSTOMARY
    )
    assert [each.reason for each in made.refusals] == [Reason.TOO_FEW_PLACES]


def test_another_counter_breaks_the_record() -> None:
    """N16: two counters without a shared count are not joined."""
    other = points(around(21, 24, 14), "Odalys", looked=100)
    made = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", other), WEED, CUSTOMARY
    )
    assert [each.reason for each in made.refusals] == [Reason.COUNTER_CHANGED]
    assert "a break in the record" in made.refusals[0].words


def test_eight_shared_plots_are_shown_but_never_used_to_correct() -> None:
    """T7: 8.5 points (-1.5 to 18.5) on 8 plots."""
    base = [20.0] * 8
    apart = [-9.0, 22, 4, 20, -3, 23, 2, 9]
    shared = (
        *points(base, "Ines", looked=100),
        *points([b + a for b, a in zip(base, apart, strict=True)], "Odalys", looked=100),
    )
    overlap = counters_overlap(shared, WEED, Method.POINTS, "Ines", "Odalys")
    assert overlap.difference == pytest.approx(8.5)
    assert overlap.interval == pytest.approx((-1.5, 18.5), abs=0.6)
    assert not overlap.may_correct
    assert "Recount 8 more" in overlap.words
    made = compare_occasions(
        occasion("2010-08-07", BEFORE),
        occasion("2011-08-06", points(around(21, 24, 14), "Odalys", looked=100)),
        WEED,
        CUSTOMARY,
        overlap,
    )
    assert made.comparison is not None
    assert made.comparison.difference == pytest.approx(-14, abs=0.5)
    assert "not enough to put right" in made.comparison.cautions[0]


def test_sixteen_shared_places_put_a_counter_right_and_widen_the_range() -> None:
    one = points(around(20, 16, 5), "Ines", looked=100)
    two = points(
        [p + (3 if n % 2 else 5) for n, p in enumerate(around(20, 16, 5))], "Odalys", looked=100
    )
    overlap = counters_overlap((*one, *two), WEED, Method.POINTS, "Ines", "Odalys")
    assert overlap.may_correct
    later = occasion("2011-08-06", points(around(21, 24, 14), "Odalys", looked=100))
    plain = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", ALIGNED),
        WEED, CUSTOMARY,
    )  # fmt: skip
    made = compare_occasions(occasion("2010-08-07", BEFORE), later, WEED, CUSTOMARY, overlap)
    assert made.comparison is not None
    assert plain.comparison is not None
    assert made.comparison.difference == pytest.approx(
        plain.comparison.difference - overlap.difference
    )
    assert made.comparison.spread.at95.half_width > plain.comparison.spread.at95.half_width


def test_places_counted_by_another_are_left_out_by_name() -> None:
    mixed = (*AFTER[:20], *points(around(21, 24, 14), "Odalys", looked=100)[20:])
    made = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", mixed), WEED, CUSTOMARY
    )
    assert made.comparison is not None
    assert made.comparison.n == 20
    assert made.left_out == ("M21", "M22", "M23", "M24")


def test_places_that_were_not_fixed_are_two_samples_and_wider() -> None:
    moved = points(around(21, 24, 14, shift=3), letter="X", looked=100)
    fixed = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", ALIGNED),
        WEED, CUSTOMARY,
    )  # fmt: skip
    loose = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", moved), WEED, CUSTOMARY
    )
    assert fixed.comparison is not None
    assert loose.comparison is not None
    assert loose.comparison.spread.at95.half_width > fixed.comparison.spread.at95.half_width
    assert "two separate samples" in loose.comparison.cautions[0]


def test_a_blank_place_is_left_out_never_nought() -> None:
    """N18."""
    blank = (*AFTER[:23], PlaceCount("M24", Method.POINTS, {"bare": 2}, 25, "Ines"))
    made = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", blank), WEED, CUSTOMARY
    )
    assert made.comparison is not None
    assert made.comparison.n == 23
    assert made.left_out == ("M24",)


def test_points_are_not_compared_with_plants_or_with_the_eye() -> None:
    made = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", plants([1] * 24)), WEED, CUSTOMARY
    )
    assert [each.reason for each in made.refusals] == [Reason.DIFFERENT_METHOD]
    none = compare_occasions(
        occasion("2010-08-07", BEFORE), occasion("2011-08-06", AFTER), "bare", CUSTOMARY
    )
    assert [each.reason for each in none.refusals] == [Reason.NOT_COUNTED]


def test_the_same_change_everywhere_is_no_evidence() -> None:
    made = compare_occasions(
        occasion("2010-08-07", points([20] * 10)), occasion("2011-08-06", points([20] * 10)),
        WEED, CUSTOMARY,
    )  # fmt: skip
    assert [each.reason for each in made.refusals] == [Reason.NOTHING_TO_TELL]


def test_plants_are_compared_as_a_ratio() -> None:
    before, after = [2, 0, 5, 1, 3, 0, 4, 9], [1, 1, 3, 0, 2, 0, 1, 6]
    made = compare_occasions(
        occasion("2010-10-09", plants(before)),
        occasion("2011-10-08", plants(after)),
        WEED,
        CUSTOMARY,
    ).comparison
    assert made is not None
    assert made.is_log_ratio
    assert made.ratio == pytest.approx(14 / 24)
    assert made.smallest == pytest.approx(0.4055, abs=1e-4)


def test_a_visit_that_found_none_is_still_compared_and_says_so() -> None:
    made = compare_occasions(
        occasion("2010-10-09", plants([4, 2, 0, 6, 1, 3, 0, 8])),
        occasion("2011-10-08", plants([0] * 8)), WEED, CUSTOMARY,
    ).comparison  # fmt: skip
    assert made is not None
    assert "half a plant" in made.cautions[0]
    assert made.ratio_at95 is not None
    assert made.ratio_at95.high > 0


def test_five_pairs_of_verticut_strips_lean() -> None:
    """T11 and B9."""
    treated = points([15, 18, 21, 21, 19], letter="V", looked=100)
    left = points([27, 19, 30, 22, 26], letter="U", looked=100)
    pairs = [list(place_figures(each, WEED, Method.POINTS).values()) for each in (left, treated)]
    made = compare_pairs(pairs[0], pairs[1], WEED, CUSTOMARY)
    assert made.comparison is not None
    assert made.comparison.verdict is Verdict.LEANING
    assert made.comparison.spread.at95 == pytest.approx((-12.1, 0.1), abs=0.05)
    few = compare_pairs(pairs[0][:3], pairs[1][:3], WEED, CUSTOMARY)
    assert "at least 4 pairs" in few.refusals[0].words


def test_margin_of_dug_clumps_matters_and_the_cause_is_not_shown() -> None:
    """T12: 34 points, 12 to 57."""
    made = compare_shares("clumps", (2, 40), (7, 18), CUSTOMARY, "Not allotted at random.")
    assert made.verdict is Verdict.CLEAR
    assert made.difference == pytest.approx(33.9, abs=0.05)
    assert made.spread.at95 == pytest.approx((12, 57), abs=0.5)
    assert made.cautions == ("Not allotted at random.",)


def test_autumn_and_spring_refills_differ() -> None:
    """T13."""
    made = compare_shares("refills", (52, 58), (31, 60), CUSTOMARY, "Cause not shown.")
    assert made.verdict is Verdict.CLEAR


def test_honest_squares_need_enough_places() -> None:
    few = compare_samples(
        occasion("2011-10-08", plants([9] * 4, letter="H")),
        occasion("2011-10-08", plants([1] * 24)), WEED, CUSTOMARY,
    )  # fmt: skip
    assert [each.reason for each in few.refusals] == [Reason.TOO_FEW_PLACES]
