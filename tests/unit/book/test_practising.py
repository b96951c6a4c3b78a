"""Practising: the drawing is the truth, and differences are told with ranges, never as marks."""

import pytest

from swardbook.book.practising import (
    COLLEAGUE,
    DRAWING,
    FRAMES,
    YOU,
    colleagues_counts,
    practice_set,
    set_beside,
)
from swardbook.evidence import paired_change
from swardbook.figures.practice_frame import CROSSINGS, KINDS
from swardbook.foundation.errors import BadInputError, OutOfRangeError

WEED = "annual meadow-grass"


def test_who_reads_as_drawn_is_told_so_in_every_frame() -> None:
    asked = practice_set(3)
    told = set_beside(asked, [frame.truth for frame in asked.frames])
    for each in told.kinds:
        assert each.against_drawing.difference == 0
        assert each.sentences[0] == "You read it as the drawing in every frame."


def test_a_difference_and_its_range_are_the_paired_ones() -> None:
    asked = practice_set(7)
    shifts = (3, 1, 2, 2)
    mine = []
    for frame, shift in zip(asked.frames, shifts, strict=True):
        assert frame.truth["sown"] >= shift
        read = dict(frame.truth)
        mine.append({**read, WEED: read[WEED] + shift, "sown": read["sown"] - shift})
    weed = next(each for each in set_beside(asked, mine).kinds if each.kind == WEED)
    truth = [100 * frame.truth[WEED] / CROSSINGS for frame in asked.frames]
    expected = paired_change(truth, [100 * row[WEED] / CROSSINGS for row in mine])
    found = weed.against_drawing
    assert (found.first, found.second, found.n) == (DRAWING, YOU, FRAMES)
    assert found.difference == pytest.approx(8.0)
    assert found.interval == pytest.approx(expected.interval(0.95))
    assert "8 points more than the drawing" in weed.sentences[0]
    assert "more than luck" in weed.sentences[0]


def test_what_a_colleague_reads_adds_up_and_is_the_same_whenever_it_is_asked() -> None:
    for number in range(1, 12):
        asked = practice_set(number)
        rows = colleagues_counts(asked)
        assert rows == colleagues_counts(practice_set(number))
        assert [sum(row.values()) for row in rows] == [CROSSINGS] * FRAMES


def test_over_many_sets_a_colleague_has_a_habit_of_reading_the_weed_high() -> None:
    over = []
    for number in range(1, 41):
        asked = practice_set(number)
        rows = colleagues_counts(asked)
        over += [
            row[WEED] - frame.truth[WEED] for row, frame in zip(rows, asked.frames, strict=True)
        ]
    assert sum(over) / len(over) > 1


def test_a_frame_that_does_not_add_up_is_named() -> None:
    asked = practice_set(1)
    rows = [dict(frame.truth) for frame in asked.frames]
    rows[1]["sown"] -= 1
    with pytest.raises(BadInputError, match="frame 2"):
        set_beside(asked, rows)
    with pytest.raises(BadInputError, match="4 frames"):
        set_beside(asked, rows[:3])


def test_there_are_sets_by_number_from_one_on() -> None:
    with pytest.raises(OutOfRangeError):
        practice_set(0)
    assert practice_set(1) != practice_set(2)


def test_no_sentence_is_a_mark() -> None:
    asked = practice_set(5)
    told = set_beside(asked, colleagues_counts(asked))
    said = " ".join(line for each in told.kinds for line in each.sentences).casefold()
    for word in ("score", "out of", "correct", "wrong", "well done"):
        assert word not in said
    assert {each.against_colleague.first for each in told.kinds} == {COLLEAGUE}
    assert {each.kind for each in told.kinds} <= set(KINDS)
