"""Pull passes of a zone."""

import pytest

from swardbook.husbandry.happenings import Pull, Seedlings
from swardbook.review.pulling import review_pulling
from tests.support.counted import WEED, entry, ground

PASSES = [
    ("2011-03-19", "A", 1484, 16.5), ("2011-03-26", "B", 445, 9.8),
    ("2011-05-07", "A", 604, 7.2), ("2011-05-14", "B", 188, 4.1),
    ("2011-06-25", "A", 391, 5.0),
    ("2011-08-20", "A", 352, 4.9), ("2011-08-27", "B", 231, 4.6),
]  # fmt: skip
LOG = [entry(day, Pull(plants=n, pass_name=p), hours=h) for day, p, n, h in PASSES]


def test_two_good_passes_headline_what_is_left() -> None:
    first = review_pulling(ground(*LOG), "Court", WEED).removals[0]
    assert first.may_headline_left
    assert first.passes is not None
    assert round(first.passes.left) == 191
    assert first.next_plants == pytest.approx(133, abs=1)
    assert first.next_hours is not None
    assert first.next_hours > 1


def test_one_pass_is_not_enough() -> None:
    single = review_pulling(ground(*LOG), "Court", WEED).removals[2]
    assert single.passes is None
    assert "needs two passes" in single.refusal


def test_newcomers_between_the_passes_are_a_caution_and_left_is_not_headlined() -> None:
    """T14."""
    august = review_pulling(ground(*LOG), "Court", WEED).removals[3]
    assert august.passes is not None
    assert round(august.passes.total) == 1024
    assert not august.may_headline_left
    assert "newcomers" in august.cautions[0]


def test_seedlings_noted_between_the_passes_are_a_caution() -> None:
    seen = entry("2011-03-22", Seedlings(first_seen=True))
    first = review_pulling(ground(*LOG, seen), "Court", WEED).removals[0]
    assert "Seedlings came up" in first.cautions[0]


def test_passes_more_than_a_week_apart_are_a_caution() -> None:
    far = [
        entry("2011-03-19", Pull(plants=220, pass_name="A")),
        entry("2011-03-29", Pull(plants=66, pass_name="B")),
    ]
    (removal,) = review_pulling(ground(*far), "Court", WEED).removals
    assert "10 days apart" in removal.cautions[0]
    assert not removal.may_headline_left


def test_barely_fewer_the_second_time_is_refused() -> None:
    """B7."""
    two = [
        entry("2011-03-19", Pull(plants=41, pass_name="A")),
        entry("2011-03-22", Pull(plants=35, pass_name="B")),
    ]
    (removal,) = review_pulling(ground(*two), "Court", WEED).removals
    assert removal.passes is None
    assert "barely fewer" in removal.refusal


def test_without_timed_passes_the_pace_is_a_guess_and_says_so() -> None:
    untimed = review_pulling(ground(entry("2011-03-19", Pull(plants=41))), "Court", WEED)
    assert untimed.pace is None
    assert "a guess: 20 to 60 s" in untimed.pace_words
    fitted = review_pulling(ground(*LOG), "Court", WEED)
    assert fitted.pace is not None
    assert "Fitted to 7 timed passes" in fitted.pace_words


def test_another_weed_is_not_counted_in() -> None:
    fog = entry("2011-03-19", Pull("holcus lanatus", 12))
    assert review_pulling(ground(*LOG, fog), "Court", "yorkshire fog").removals[0].first == 12
    assert len(review_pulling(ground(*LOG, fog), "Court", WEED).removals) == 4
