from dataclasses import replace

import cv2
import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.photos.card_shape import BITS, CELLS, LETTERS
from swardbook.photos.cards import find_cards
from swardbook.photos.correcting import correct, read_whites
from swardbook.photos.covering import read_cover
from swardbook.photos.rectifying import missing_letters, rectify
from tests.support.pixels import the_pass
from tests.support.scenes import Scene, plot_between_cards
from tests.support.swards import PHONE, Camera, Pixels, sward, taken

SIDES = (500.0, 400.0)
GROUND = sward(0.6, 12, (640, 800), 6)


def scene(plot: Pixels = GROUND.pixels, tilt: float = 0.0, left_out: str = "") -> Scene:
    return plot_between_cards(plot, SIDES, (1050, 1250), tilt, left_out)


def test_the_cells_are_those_of_the_open_dictionary() -> None:
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for number, rows in enumerate(BITS):
        drawn = cv2.aruco.generateImageMarker(dictionary, number, CELLS)
        assert ["".join("1" if cell else "0" for cell in row) for row in drawn] == list(rows)


@pytest.mark.parametrize("tilt", [0.0, 0.25, 0.4])
def test_tips_are_found_to_a_pixel_and_the_sides_to_a_hundredth(tilt: float) -> None:
    seen = scene(tilt=tilt)
    cards = find_cards(taken(seen.pixels))
    assert [card.letter for card in cards] == list(LETTERS)
    for card, corner in zip(cards, seen.corners, strict=True):
        assert np.hypot(*(card.tip - corner)) < 1.5
    found = rectify(seen.pixels, cards)
    assert found.wide_mm == pytest.approx(SIDES[0], rel=0.01)
    assert found.high_mm == pytest.approx(SIDES[1], rel=0.01)
    assert found.off < 0.02


@pytest.mark.parametrize("tilt", [0.0, 0.3])
def test_cover_of_the_plot_is_the_same_from_above_and_from_the_side(tilt: float) -> None:
    pixels = taken(scene(tilt=tilt).pixels)
    plot = rectify(pixels, find_cards(pixels))
    found = read_cover(plot.pixels, the_pass())
    assert found.cover == pytest.approx(GROUND.cover, abs=value("photo_cover_error"))


def test_a_card_that_is_missing_is_named() -> None:
    cards = find_cards(scene(left_out="BD").pixels)
    assert missing_letters(cards) == "BD"
    with pytest.raises(BadInputError, match="no card B, D"):
        rectify(scene().pixels, cards)


def test_a_picture_without_cards_has_none() -> None:
    assert find_cards(taken(GROUND.pixels)) == ()
    assert read_whites(GROUND.pixels, ()) is None


def test_a_sheet_printed_too_small_is_found_out() -> None:
    pixels = scene().pixels
    with pytest.raises(BadInputError, match="printed at 100 %"):
        rectify(pixels, find_cards(pixels), (600.0, 480.0))


def test_the_white_of_the_cards_puts_cast_and_exposure_right() -> None:
    lit = replace(PHONE, gains=(0.9, 0.72, 0.6))
    pixels = taken(scene().pixels, lit)
    whites = read_whites(pixels, find_cards(pixels))
    assert whites is not None
    assert whites.cards == 4
    assert not whites.clipped
    assert whites.uneven == pytest.approx(1, abs=0.05)
    again = correct(pixels, whites.gains)
    plain = taken(scene().pixels)
    assert np.abs(again.mean((0, 1)) - plain.mean((0, 1))).max() < 3


def colour_apart(one: Pixels, other: Pixels, camera: Camera) -> float:
    """Difference of two plots in colour, each put right by the cards in its picture."""
    found = []
    for plot in (one, other):
        pixels = taken(scene(plot).pixels, camera)
        cards = find_cards(pixels)
        whites = read_whites(pixels, cards)
        assert whites is not None
        seen = rectify(pixels, cards)
        index = read_cover(correct(seen.pixels, whites.gains), the_pass()).colour_index
        assert index is not None
        found.append(index)
    return found[0] - found[1]


@pytest.mark.parametrize(
    "camera",
    [
        replace(PHONE, gains=(1.05, 0.95, 0.8)),
        replace(PHONE, gains=(0.6, 0.55, 0.45)),
        replace(PHONE, gains=(0.85, 0.8, 0.9), tone=1.06, bleed=0.06),
        replace(PHONE, gains=(0.8, 0.8, 0.7), tone=0.94, bleed=-0.08),
    ],
    ids=["warm", "dark", "pale tones", "coloured up"],
)
def test_side_by_side_colour_is_within_its_stated_error(camera: Camera) -> None:
    dark = sward(0.8, 5, (640, 800), 7, leaf=(60, 100, 46))
    light = sward(0.55, 6, (640, 800), 7, leaf=(88, 122, 56))
    true = dark.colour_index - light.colour_index
    assert abs(true) > 0.04
    found = colour_apart(dark.pixels, light.pixels, camera)
    assert found == pytest.approx(true, abs=value("photo_colour_error"))
