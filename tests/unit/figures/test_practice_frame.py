"""A drawn frame: what lies under its crossings is what is drawn there, and it is not given away."""

import re
from collections import Counter

import pytest

from swardbook.figures.practice_frame import (
    _SPRITES,
    CROSSINGS,
    KINDS,
    STRINGS,
    practice_frame,
    sample_of,
)

MARKS = {
    "sown": 'stroke="#1f3d16"',
    "annual meadow-grass": 'fill="#c4dc7c"',
    "yorkshire fog": 'fill="#c3ccd2"',
    "moss": 'fill="#a99a2e"',
    "bare": 'fill="#b08a63"',
}
"""What only the drawing of one kind has, once each."""


@pytest.mark.parametrize("number", [1, 3, 8, 250])
def test_the_truth_is_what_was_drawn_crossing_by_crossing(number: int) -> None:
    frame = practice_frame(number, 2)
    plants = re.findall(r'<g transform="translate\((\d+) (\d+)\)">(.*?)</g>', frame.svg)
    drawn = [
        next(kind for kind, mark in MARKS.items() if mark in shapes) for _, _, shapes in plants
    ]
    assert tuple(drawn) == frame.under
    assert frame.truth == {kind: Counter(drawn)[kind] for kind in KINDS}
    assert sum(frame.truth.values()) == CROSSINGS
    assert len({(x, y) for x, y, _ in plants}) == CROSSINGS
    assert [len(row) for row in frame.rows] == [STRINGS] * STRINGS


def test_the_same_numbers_draw_the_same_bytes_and_others_another_frame() -> None:
    assert practice_frame(4, 1) == practice_frame(4, 1)
    assert len({practice_frame(4, n).under for n in range(1, 5)}) == 4


def test_a_drawing_gives_no_kind_away_in_words_and_has_no_style_of_its_own() -> None:
    svg = practice_frame(2, 1).svg
    for kind in KINDS:
        assert kind not in svg
    assert "style=" not in svg
    assert 'role="img"' in svg
    assert "<title" in svg


def test_the_key_draws_every_kind_as_the_frame_does() -> None:
    assert set(_SPRITES) == set(KINDS) == set(MARKS)
    for kind, mark in MARKS.items():
        assert mark in sample_of(kind)
