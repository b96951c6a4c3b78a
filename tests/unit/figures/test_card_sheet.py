"""The sheet of cards prints on A4 in black, and its cards are found in a picture of it."""

import io

import cv2
import numpy as np
import pypdf
import pytest

from swardbook.figures.card_sheet import card_sheet_page, card_sheet_pdf
from swardbook.photos.card_shape import MARKER_MM
from swardbook.photos.cards import find_cards
from swardbook.photos.correcting import read_whites

DOTS = 120


def test_it_is_one_page_of_a4_and_the_same_each_time() -> None:
    made = card_sheet_pdf()
    assert made == card_sheet_pdf()
    (page,) = pypdf.PdfReader(io.BytesIO(made)).pages
    assert float(page.mediabox.width) == pytest.approx(595.28, abs=1)
    assert "must measure 60 mm" in " ".join(page.extract_text().split())


def test_its_cards_are_found_at_their_true_size_and_its_patches_are_neutral() -> None:
    held = cv2.imdecode(np.frombuffer(card_sheet_page(DOTS), np.uint8), cv2.IMREAD_COLOR_RGB)
    pixels = np.asarray(held, np.uint8)
    cards = find_cards(pixels)
    assert [card.letter for card in cards] == list("ABCD")
    for card in cards:
        assert card.side_px / DOTS * 25.4 == pytest.approx(MARKER_MM, rel=0.01)
    whites = read_whites(pixels, cards)
    assert whites is not None
    assert len(set(whites.white)) == 1
    assert whites.tone == pytest.approx(0.21, abs=0.05)
    assert (pixels.max(-1) == pixels.min(-1)).mean() > 0.999
