import numpy as np
import pytest
from skimage.color import deltaE_ciede2000, rgb2hsv, rgb2lab

from swardbook.photos.colour import (
    as_pixels,
    dark_green_index,
    difference_seen,
    excess_green,
    hue_saturation_brightness,
    lab,
    linear_light,
)

DRAW = np.random.default_rng(5)
PIXELS = DRAW.integers(0, 256, (40, 50, 3), np.uint8)


def test_hue_saturation_and_brightness_agree_with_a_library() -> None:
    hue, saturation, brightness = hue_saturation_brightness(PIXELS)
    theirs = rgb2hsv(PIXELS)
    np.testing.assert_allclose(hue / 360, theirs[..., 0], atol=1e-9)
    np.testing.assert_allclose(saturation, theirs[..., 1], atol=1e-9)
    np.testing.assert_allclose(brightness, theirs[..., 2], atol=1e-9)


def test_lab_and_the_difference_seen_agree_with_a_library() -> None:
    ours, theirs = lab(PIXELS), rgb2lab(PIXELS)
    np.testing.assert_allclose(ours, theirs, atol=2e-3)
    apart = difference_seen(theirs[:20], theirs[20:])
    judged = np.asarray(deltaE_ciede2000(theirs[:20], theirs[20:]))  # type: ignore[no-untyped-call]
    np.testing.assert_allclose(apart, judged, atol=1e-9)


def test_light_and_pixels_turn_into_each_other() -> None:
    assert (as_pixels(linear_light(PIXELS)) == PIXELS).all()


def test_black_and_grey_have_no_excess_green() -> None:
    greys = np.array([[0, 0, 0], [90, 90, 90]], np.uint8)
    assert excess_green(greys) == pytest.approx([0, 0])


def test_yellower_and_lighter_leaf_has_a_lower_index() -> None:
    dark, light = np.array([40, 80, 30], np.uint8), np.array([120, 140, 60], np.uint8)
    assert dark_green_index(dark) > dark_green_index(light)
