from dataclasses import replace

import cv2
import numpy as np
import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.handbook.parameters import value
from swardbook.photos.colour import dark_green_index, excess_green
from swardbook.photos.covering import Covering, Pixels, read_cover
from tests.support.pixels import rows_of_leaf, the_pass
from tests.support.swards import CAST, PHONE, Camera, sward, taken

ERROR = value("photo_cover_error")
SIZE = (300, 400)


def reading(pixels: Pixels) -> Covering:
    return read_cover(np.ascontiguousarray(pixels), the_pass())


@pytest.mark.parametrize("camera", [PHONE, CAST, replace(PHONE, quality=75)], ids=["", "cast", "q"])
@pytest.mark.parametrize("cover", [0.0, 0.06, 0.24, 0.5, 0.75, 0.9, 0.985])
def test_cover_is_within_two_points_through_a_phones_eyes(cover: float, camera: Camera) -> None:
    drawn = sward(cover, seed=int(100 * cover) + 3, size=SIZE, blade_px=6)
    assert reading(taken(drawn.pixels, camera)).cover == pytest.approx(drawn.cover, abs=ERROR)


@pytest.mark.parametrize("look", ["light", "dark", "two grasses", "dry soil"])
def test_cover_holds_for_other_leaves_and_other_ground(look: str) -> None:
    light, dark = (120, 150, 70), (45, 85, 35)
    drawn = {
        "light": lambda: sward(0.6, 4, SIZE, 8, leaf=light),
        "dark": lambda: sward(0.6, 4, SIZE, 6, leaf=dark, soil=(80, 62, 45)),
        "two grasses": lambda: sward(0.6, 4, SIZE, 6, other=light),
        "dry soil": lambda: sward(0.6, 4, SIZE, 6, soil=(165, 145, 105)),
    }[look]()
    assert reading(taken(drawn.pixels)).cover == pytest.approx(drawn.cover, abs=ERROR + 0.01)


@pytest.mark.parametrize("rows", [300, 256, 122, 121, 64])
def test_the_index_agrees_with_the_formula_over_the_same_pixels_however_many_strips(
    rows: int,
) -> None:
    pixels = np.ascontiguousarray(taken(sward(0.7, 8, SIZE).pixels)[:rows])
    found = reading(pixels)
    level = round((1 + found.split.at(value("photo_sure_leaf_cut"))) * 1024) / 1024 - 1
    sure = (excess_green(pixels) > level) & (pixels[..., 1] >= pixels[..., 2])
    core = cv2.erode(sure.astype(np.uint8), np.ones((5, 5), np.uint8)) > 0
    core[:2], core[-2:], core[:, :2], core[:, -2:] = False, False, False, False
    theirs = dark_green_index(pixels)[core]
    assert found.colour_index == pytest.approx(theirs.mean(), abs=1e-4)
    assert found.colour_spread == pytest.approx(theirs.std(), abs=1e-4)


def test_a_picture_turned_round_has_the_same_cover() -> None:
    pixels = taken(sward(0.7, 8, SIZE).pixels)
    turned = reading(np.ascontiguousarray(pixels[::-1, ::-1]))
    assert turned.cover == pytest.approx(reading(pixels).cover, abs=5e-3)


def test_bare_ground_is_not_split_into_leaf_and_ground() -> None:
    found = reading(taken(sward(0.0, 2, SIZE).pixels))
    assert found.cover == 0
    assert found.colour_index is None
    assert not found.split.is_from_picture


def test_what_is_not_green_is_pale_or_bare() -> None:
    found = reading(rows_of_leaf(0.37))
    assert (found.cover, found.pale, found.bare) == pytest.approx((0.37, 0.63, 0.0))
    dark = rows_of_leaf(0.37)
    dark[37:] = (90, 70, 50)
    assert reading(dark).bare == pytest.approx(0.63)


def test_black_and_white_pictures_have_no_cover() -> None:
    for grey in (0, 128, 255):
        found = reading(np.full((80, 90, 3), grey, np.uint8))
        assert (found.cover, found.colour_index) == (0, None)


def test_a_thumbnail_is_refused_with_the_likely_slip() -> None:
    with pytest.raises(OutOfRangeError, match="thumbnail"):
        reading(np.zeros((40, 60, 3), np.uint8))


def test_pictures_that_packages_ship_are_read() -> None:
    from skimage import data

    for name in ("grass", "gravel", "coffee", "astronaut", "chelsea", "rocket"):
        picture = getattr(data, name)()
        pixels = picture if picture.ndim == 3 else np.stack([picture] * 3, -1)
        assert 0 <= reading(pixels).cover <= 1
