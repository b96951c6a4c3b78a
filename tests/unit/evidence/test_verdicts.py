"""The six verdicts, each by its rule and in its order."""

import pytest

from swardbook.evidence import Interval, PairedChange, Spread, Verdict, log_of, verdict
from swardbook.evidence.paired import paired_change
from swardbook.foundation.errors import OutOfRangeError


def spread(difference: float, error: float) -> Spread:
    return Spread(
        *(Interval(difference - z * error, difference + z * error) for z in (1.96, 1.645, 1.282))
    )


@pytest.mark.parametrize(
    ("difference", "error", "told"),
    [(-7, 2, Verdict.CLEAR), (-2, 0.5, Verdict.CLEAR_BUT_SMALL), (1, 1, Verdict.AS_GOOD_AS_EQUAL),
     (-6, 3.4, Verdict.LEANING), (2, 4, Verdict.TOO_CLOSE), (5, 2, Verdict.CLEAR)],
)  # fmt: skip
def test_each_verdict_has_its_case(difference: float, error: float, told: Verdict) -> None:
    assert verdict(difference, spread(difference, error), 5) is told


def test_as_good_as_equal_comes_before_leaning() -> None:
    both = spread(2, 1.2)
    assert both.at80.excludes(0)
    assert verdict(2, both, 5) is Verdict.AS_GOOD_AS_EQUAL


def test_twenty_places_are_clear_and_eight_lean() -> None:
    for n, told in ((20, Verdict.CLEAR), (8, Verdict.LEANING)):
        change = PairedChange(-7, 9 / n**0.5, n, 0, 0, 0)
        assert verdict(change.mean, Spread.of(change.interval), 5) is told


def test_five_pairs_of_strips_lean() -> None:
    change = paired_change([27, 19, 30, 22, 26], [15, 18, 21, 21, 19])
    assert verdict(change.mean, Spread.of(change.interval), 5) is Verdict.LEANING


def test_words_are_those_that_are_shown() -> None:
    assert [str(each) for each in Verdict] == [
        "not enough data", "clear", "clear but small", "as good as equal", "leaning",
        "too close to call",
    ]  # fmt: skip


def test_smallest_difference_must_be_one() -> None:
    with pytest.raises(OutOfRangeError):
        verdict(1, spread(1, 1), 0)
    with pytest.raises(OutOfRangeError):
        log_of(1)
