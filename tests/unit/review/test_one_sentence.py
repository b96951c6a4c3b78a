"""A zone's year in one sentence: short, with its word, its verdict and its range."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from swardbook.evidence import Verdict
from swardbook.husbandry.ground import Ground
from swardbook.observations.samples import Smallest
from swardbook.review.better_or_worse import Year, ZoneReview, review_zone
from swardbook.review.one_sentence import earlier_sentence, honest_sentence, one_sentence
from tests.support.counted import WEED, around, counted, ground, plants, points
from tests.unit.review.test_better_or_worse import renovated_court

CUSTOMARY = Smallest.customary()
MANY = [5.0, 9, 4, 7, 12, 6, 8, 10] * 3
FEW = [2.0, 3, 1, 2, 4, 1, 3, 2] * 3
PROMISES = ("will be", "promise", "guarantee", "sure", "next year", "should", "going to")


def reviewed(made: Ground) -> ZoneReview:
    return review_zone(made, "Court", WEED, CUSTOMARY)


GROUNDS = {
    "renovated": renovated_court(),
    "fell": ground(
        counted("2010-10-09", points(around(40, 24, 10), looked=100)),
        counted("2011-10-08", points(around(20, 24, 10), looked=100)),
    ),
    "rose": ground(
        counted("2010-10-09", points(around(12, 24, 8), looked=100)),
        counted("2011-10-08", points(around(31, 24, 8), looked=100)),
    ),
    "plants": ground(counted("2010-10-09", plants(MANY)), counted("2011-10-08", plants(FEW))),
    "few places": ground(
        counted("2010-10-09", points(around(12, 6, 8), looked=100)),
        counted("2011-10-08", points(around(31, 6, 8), looked=100)),
    ),
    "counted once": ground(counted("2011-05-07", points(around(40, 24, 10), looked=100))),
    "May and September": ground(
        counted("2011-05-07", points(around(40, 24, 10), looked=100)),
        counted("2011-09-10", points(around(18, 24, 10), looked=100)),
    ),
    "another counter": ground(
        counted("2010-10-09", points(around(12, 24, 8), looked=100)),
        counted("2011-10-08", points(around(31, 24, 8), "Odalys", looked=100)),
    ),
}


@pytest.mark.parametrize("name", GROUNDS)
@pytest.mark.parametrize("zone", ["Court", "The long border by the old garden wall"])
def test_it_has_under_thirty_words_its_word_and_its_verdict_and_promises_nothing(
    name: str, zone: str
) -> None:
    """E11."""
    review = replace(reviewed(GROUNDS[name]), zone=zone)
    told = one_sentence(review)
    assert len(told.split()) < 30
    assert told.startswith(zone)
    assert str(review.word) in told
    assert told.endswith(".")
    assert not any(word in told.casefold() for word in PROMISES)
    made = review.pairs[-1].made if review.pairs else None
    if made is not None:
        assert str(made.verdict) in told
        assert re.search(r"between \d+", told)
        assert re.search(r" and \d+", told)


def test_the_range_says_both_ways_where_it_holds_both() -> None:
    assert "points less and" in one_sentence(reviewed(GROUNDS["renovated"]))
    fell = one_sentence(reviewed(GROUNDS["fell"]))
    assert re.search(r"between \d+ and \d+ points less: clear\.$", fell)
    assert fell.startswith("Court is better: ")
    rose = one_sentence(reviewed(GROUNDS["rose"]))
    assert re.search(r"between \d+ and \d+ points more: clear\.$", rose)
    assert rose.startswith("Court is slipping: ")


def test_numbers_of_plants_are_told_in_percent_fewer() -> None:
    review = reviewed(GROUNDS["plants"])
    made = review.pairs[-1].made
    assert made is not None
    assert made.verdict is Verdict.CLEAR
    assert re.search(r"between \d+ and \d+ % fewer", one_sentence(review))


def test_too_little_says_what_there_is() -> None:
    told = one_sentence(reviewed(GROUNDS["few places"]))
    assert told == (
        "Court: cannot say, not enough data: needs at least 8 places counted both times;"
        " there are 6."
    )


def test_may_is_not_set_against_september() -> None:
    review = reviewed(GROUNDS["May and September"])
    assert review.word is Year.CANNOT_SAY
    told = one_sentence(review)
    assert "no two counts of one season" in told
    assert not re.search(r"\d", told)


def test_the_honest_squares_are_told_with_and_without_the_work() -> None:
    made = ground(
        counted("2011-10-08", (*plants(FEW), *plants([8.0, 9, 12, 7, 10, 9, 11, 8], letter="H"))),
        squares=8,
    )
    told = honest_sentence(reviewed(made))
    assert told.startswith("With the work 2.2, on the honest squares without it 9.2 plants")
    assert told.endswith("% fewer: clear.")
    assert honest_sentence(reviewed(GROUNDS["fell"])) == ""


def test_the_pair_before_is_not_hidden() -> None:
    """T21."""
    told = earlier_sentence(reviewed(GROUNDS["renovated"]))
    assert told.startswith("The pair before, August to August: 35 to ")
    assert told.endswith("clear. The zone was renovated in between.")
    assert earlier_sentence(reviewed(GROUNDS["fell"])) == ""
