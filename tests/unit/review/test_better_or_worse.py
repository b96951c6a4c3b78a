"""Better or worse, by same-season pairs, honest squares and signs, each apart."""

import pytest

from swardbook.evidence import PairedChange, Verdict
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import RefillCheck, Scarify, Sow, Strip
from swardbook.observations.counts import Method
from swardbook.observations.samples import Smallest, of_pairs
from swardbook.review.better_or_worse import MARKS, Year, review_zone, year_word
from tests.support.counted import WEED, around, counted, entry, ground, plants, points

CUSTOMARY = Smallest.customary()
AUGUST = points(around(35, 24, 16), looked=100)
OCTOBER = points(around(16, 24, 10), looked=100)
AUGUST_AFTER = points(around(21, 24, 14, shift=3), looked=100)
OCTOBER_AFTER = points(around(17, 24, 10, shift=2), looked=100)


def renovated_court() -> Ground:
    return ground(
        counted("2010-08-07", AUGUST),
        entry("2010-08-14", Scarify()),
        entry("2010-09-02", Sow("BB-0417")),
        counted("2010-10-09", OCTOBER),
        counted("2011-05-07", points(around(26, 24, 12), looked=100)),
        counted("2011-08-06", AUGUST_AFTER),
        counted("2011-10-08", OCTOBER_AFTER),
    )


def test_the_fall_came_with_the_renovation_and_both_pairs_are_shown() -> None:
    """T21."""
    review = review_zone(renovated_court(), "court", WEED, CUSTOMARY)
    assert [(f"{p.before:%b}", f"{p.after:%b}") for p in review.pairs] == [
        ("Aug", "Aug"),
        ("Oct", "Oct"),
    ]
    assert [p.renovated for p in review.pairs] == [True, False]
    first, last = (pair.made for pair in review.pairs)
    assert first is not None
    assert last is not None
    assert first.verdict is Verdict.CLEAR
    assert last.verdict is not Verdict.CLEAR
    assert review.word is Year.HOLDING
    assert "The fall came with the renovation; since then it is holding." in review.sentence


def test_may_never_pairs_with_august() -> None:
    """N14."""
    review = review_zone(
        ground(counted("2011-05-07", AUGUST), counted("2011-08-06", AUGUST_AFTER)),
        "Court", WEED, CUSTOMARY,
    )  # fmt: skip
    assert review.pairs == ()
    assert review.word is Year.CANNOT_SAY
    assert "no two counts of the same season" in review.sentence


PULLED = [0, 1, 0, 2, 3, 0, 1, 5, 2, 0, 1, 4, 2, 0, 3, 6, 1, 0, 2, 1, 7, 0, 3, 2]
PULLED_AFTER = [1, 0, 2, 3, 0, 1, 5, 2, 0, 1, 4, 0, 0, 3, 6, 1, 0, 2, 1, 3, 2, 3, 1, 2]
LEFT = [9, 3, 15, 1, 22, 8, 14, 6]


def test_holding_alone_then_clear_against_the_honest_squares_in_that_order() -> None:
    """T8."""
    review = review_zone(
        ground(
            counted("2010-10-09", (*plants(PULLED), *plants([2, 1, 0, 4, 3, 5, 1, 2], letter="H"))),
            counted("2011-10-08", (*plants(PULLED_AFTER), *plants(LEFT, letter="H"))),
            squares=8,
        ),
        "Court", WEED, CUSTOMARY,
    )  # fmt: skip
    assert review.word is Year.HOLDING
    assert review.honest is not None
    contrast = review.honest.compared.comparison
    assert contrast is not None
    assert contrast.verdict is Verdict.CLEAR
    assert contrast.before == pytest.approx(sum(LEFT) / 8)
    alone, against = review.sentence.index("Holding"), review.sentence.index("honest squares")
    assert alone < against
    assert review.pairs[-1].made is not None
    assert review.pairs[-1].made.n == 24


def test_every_sentence_is_under_thirty_words() -> None:
    for each in (renovated_court(), ground()):
        assert len(review_zone(each, "Court", WEED, CUSTOMARY).sentence.split()) < 30


def test_untouched_ground_is_the_context_of_a_fall() -> None:
    """T9: nothing fell by itself that year."""
    surround = points(around(31, 12, 12), letter="R", looked=100)
    later = points(around(33, 12, 12, shift=2), letter="R", looked=100)
    court = renovated_court()
    both = ground(
        *court.diary,
        counted("2010-08-07", surround, "Surround"),
        counted("2011-08-06", later, "Surround"),
        others=[("Surround", "R", 12)],
    )
    pair = review_zone(both, "Court", WEED, CUSTOMARY).pairs[0]
    assert len(pair.context) == 1
    assert "Surround, nothing sown: 31 to 33 %" in pair.context[0]
    back = review_zone(both, "Surround", WEED, CUSTOMARY)
    assert back.pairs[0].context == ()


def test_six_places_cannot_say() -> None:
    """T10."""
    review = review_zone(
        ground(counted("2010-08-07", AUGUST[:6]), counted("2011-08-06", AUGUST_AFTER[:6])),
        "Court", WEED, CUSTOMARY,
    )  # fmt: skip
    assert review.word is Year.CANNOT_SAY
    assert "not enough data" in review.sentence


def test_slipping_in_shade_points_at_the_shade() -> None:
    """T22."""
    rising = points(around(23, 12, 8, shift=1), looked=100)
    review = review_zone(
        ground(
            counted("2010-10-09", points(around(14, 12, 8), looked=100)),
            counted("2011-10-08", rising),
            sun_hours=2.5,
        ),
        "Court", WEED, CUSTOMARY,
    )  # fmt: skip
    assert review.word is Year.SLIPPING
    assert "shade" in review.look_at


def test_leading_signs_stand_apart() -> None:
    bare = tuple(
        type(each)(each.place, each.method, {**each.found, "bare": 4}, each.looked, each.counter)
        for each in AUGUST
    )
    review = review_zone(
        ground(counted("2011-03-12", bare), entry("2011-06-04", RefillCheck(60, 31))),
        "Court", WEED, CUSTOMARY,
    )  # fmt: skip
    assert [sign.name for sign in review.signs] == ["bare ground", "refills"]
    assert review.word is Year.CANNOT_SAY


def test_tolerance_is_that_of_the_zone_not_nought() -> None:
    assert "Within the 20 %" in review_zone(renovated_court(), "Court", WEED, CUSTOMARY).tolerance


@pytest.mark.parametrize(
    ("mean", "error", "word"),
    [(-14, 2, Year.BETTER), (9, 3, Year.SLIPPING), (1, 1, Year.HOLDING), (2, 4, Year.HOLDING),
     (2, 12, Year.CANNOT_SAY), (6, 3.5, Year.CANNOT_SAY), (-6, 3.5, Year.HOLDING)],
)  # fmt: skip
def test_the_word_follows_from_the_verdict(mean: float, error: float, word: Year) -> None:
    change = PairedChange(mean, error, 24, 0, 0, 0)
    made = of_pairs(WEED, change, [1.0, 1.0], [1.0, 1.0], Method.POINTS, CUSTOMARY, "")
    assert year_word(made) is word
    assert year_word(None) is Year.CANNOT_SAY


def test_marks_tell_words_apart_without_colour() -> None:
    assert [MARKS[each] for each in Year] == ["■", "◧", "□", "?"]


def test_a_new_counter_is_joined_only_over_a_shared_count() -> None:
    """N16: found on the same ground, shown beside, never silently joined."""
    later = points(around(21, 24, 14, shift=3), "Odalys", looked=100)
    plain = ground(counted("2010-08-07", AUGUST), counted("2011-08-06", later))
    (refused,) = review_zone(plain, "Court", WEED, CUSTOMARY).pairs
    assert refused.made is None
    shared = (
        *points(around(20, 8, 5), "Ines", "X", looked=100),
        *points(around(26, 8, 9, shift=2), "Odalys", "X", looked=100),
    )
    with_overlap = ground(*plain.diary, counted("2011-03-12", shared))
    (joined,) = review_zone(with_overlap, "Court", WEED, CUSTOMARY).pairs
    assert joined.made is not None
    assert "The counter changed." in joined.made.cautions[0]


@pytest.mark.parametrize("clearing", [Strip(), Sow("BB-0417", method="seedbed")])
def test_a_count_before_the_zone_was_cleared_is_not_held_against_what_is_fine(
    clearing: Strip | Sow,
) -> None:
    counts = (counted("2010-08-07", AUGUST), counted("2010-10-09", OCTOBER))
    stale = review_zone(ground(*counts, entry("2011-03-02", clearing)), "court", WEED, CUSTOMARY)
    assert stale.tolerance.startswith("No count since the zone was cleared on Wed 2 March 2011")
    again = review_zone(
        ground(*counts, entry("2011-03-02", clearing), counted("2011-08-06", AUGUST_AFTER)),
        "court", WEED, CUSTOMARY,
    )  # fmt: skip
    assert again.tolerance == "Cannot tell whether it is within the 20 % that is fine here."
