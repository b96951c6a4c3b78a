"""What a task is worth, in words: a range, never a promise."""

import pytest

from swardbook.book.worth_words import worth_words
from swardbook.evidence.estimates import Interval
from swardbook.model.prospects import Range
from swardbook.model.worth import SkippedWorth

NOUGHT = Range(0.0, Interval(0.0, 0.0))


def skipped(low: float, high: float, cover: float = 0.0) -> SkippedWorth:
    seed = Range((low + high) / 2, Interval(low, high))
    return SkippedWorth("cut", Range(cover, Interval(0.0, cover)), NOUGHT, seed, NOUGHT)


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        (2.0, 495.0, "2 to 495 more seeds a m²"),
        (-2.0, 6.0, "from 2 fewer to 6 more seeds a m²"),
        (-9.0, -3.0, "3 to 9 fewer seeds a m²"),
        (-0.2, 0.3, "changes nothing that shows by October"),
    ],
)
def test_the_range_of_four_in_five_is_told_in_whole_seeds(
    low: float, high: float, told: str
) -> None:
    worth = worth_words(skipped(low, high), "Short court", is_general=False)
    assert told in worth.words
    assert (worth.low, worth.high, worth.unit) == (low, high, "seeds m⁻²")


def test_points_of_cover_are_told_only_where_they_show() -> None:
    assert "points of cover" not in worth_words(skipped(1, 9), "A", is_general=False).words
    assert "0 to +0.4 points of cover" in worth_words(skipped(1, 9, 0.4), "A", False).words


def test_without_counts_it_says_general_knowledge_only() -> None:
    assert worth_words(skipped(1, 9), "A", is_general=True).words.endswith("general knowledge only")
