"""How hard a file was pressed is read from it, taken out of cover, or the picture sent back."""

from __future__ import annotations

import io
from dataclasses import replace

import cv2
import numpy as np
import pytest
from PIL import Image

from swardbook.photos.covering import read_cover
from swardbook.photos.opening import look_at
from swardbook.photos.pressing import Pressed, press
from swardbook.photos.reading import PlotPicture, read_photo
from swardbook.photos.smearing import smear_of, without_smear
from tests.support.pixels import rows_of_leaf, the_pass
from tests.support.scenes import plot_between_cards
from tests.support.swards import PHONE, Pixels, jpeg, seen, sward

AS_TAKEN = (1.0, 1.0, 1.0)
PLOT = sward(0.55, 31, (480, 600), 7)
SCENE = plot_between_cards(PLOT.pixels, (400.0, 320.0), (990, 1110)).pixels


def saved(pixels: Pixels, form: str, **more: object) -> bytes:
    made = io.BytesIO()
    Image.fromarray(pixels).save(made, form, **more)
    return made.getvalue()


def pressed(quality: int, sampling: int = 2) -> Pressed:
    held = saved(PLOT.pixels, "JPEG", quality=quality, subsampling=sampling)
    found = look_at(held, "a").pressed
    assert found is not None
    return found


def reading(held: bytes) -> PlotPicture:
    return read_photo(look_at(held, "a"), the_pass())


def faults(held: bytes) -> dict[str, str]:
    return {fault.name: fault.do for fault in reading(held).faults}


@pytest.mark.parametrize("sampling", [0, 1, 2])
def test_a_file_tells_how_its_colour_was_kept_and_rounded(sampling: int) -> None:
    found = pressed(50, sampling)
    assert found.sampling == sampling
    # ITU-T T.81, table K.2, at quality 50 as printed: its first sixteen steps.
    printed = [17, 18, 24, 47, 18, 21, 26, 66, 24, 26, 56, 99, 47, 66, 99, 99]
    assert found.colour_step == pytest.approx(np.mean(printed))


def test_the_harder_a_file_is_pressed_the_larger_its_steps() -> None:
    steps = [pressed(quality).colour_step for quality in (98, 90, 80, 70, 50)]
    assert steps == sorted(steps)
    assert steps[0] < 3


@pytest.mark.parametrize("quality", [60, 92])
def test_pressing_again_does_what_the_file_did(quality: int) -> None:
    theirs = cv2.imdecode(
        np.frombuffer(saved(PLOT.pixels, "JPEG", quality=quality, subsampling=2), np.uint8),
        cv2.IMREAD_COLOR_RGB,
    )
    assert theirs is not None
    assert (press(PLOT.pixels, pressed(quality)) == theirs).all()


def test_a_picture_that_was_not_pressed_is_left_as_it_was_read() -> None:
    png = look_at(saved(SCENE, "PNG"), "a")
    assert png.pressed is None
    assert not png.is_lossy
    found = read_photo(png, the_pass())
    assert found.covering == read_cover(found.plot, the_pass())
    assert found.cover_stands


@pytest.mark.parametrize("seed", [41, 42, 43])
def test_taking_out_what_pressing_did_brings_thin_leaves_nearer_to_the_truth(seed: int) -> None:
    plot = sward(0.3 + 0.1 * (seed - 40), seed, (480, 600), 5)
    camera = replace(PHONE, quality=74)
    photo = look_at(jpeg(seen(plot.pixels, camera, seed), camera), "a")
    assert photo.pressed is not None
    with_smear = read_cover(cv2_opened(photo.held), the_pass())
    smear = smear_of(cv2_opened(photo.held), with_smear, photo.pressed, AS_TAKEN, 1.0, the_pass())
    assert smear is not None
    before = with_smear.cover - plot.cover
    after = without_smear(with_smear, smear).cover - plot.cover
    assert before > 0.01
    assert abs(after) < before


def cv2_opened(held: bytes) -> Pixels:
    found = cv2.imdecode(np.frombuffer(held, np.uint8), cv2.IMREAD_COLOR_RGB)
    return np.asarray(found, np.uint8)


def test_leaves_far_wider_than_what_pressing_reaches_keep_their_cover() -> None:
    plot = rows_of_leaf(0.4, 400)
    found = read_cover(plot, the_pass())
    smear = smear_of(plot, found, pressed(90), AS_TAKEN, 1.0, the_pass())
    assert smear == pytest.approx(0, abs=0.005)


def test_a_picture_without_leaf_has_no_smear_to_take_out() -> None:
    bare = np.full((400, 400, 3), (150, 130, 90), np.uint8)
    found = read_cover(bare, the_pass())
    assert smear_of(bare, found, pressed(80), AS_TAKEN, 1.0, the_pass()) is None


@pytest.mark.parametrize("smear", [-0.5, -0.03, 0.0, 0.04, 0.9])
def test_shares_of_a_plot_still_add_up(smear: float) -> None:
    found = without_smear(read_cover(PLOT.pixels, the_pass()), smear)
    assert found.cover + found.pale + found.bare == pytest.approx(1)
    assert min(found.cover, found.pale, found.bare) >= 0


def test_a_file_that_was_pressed_too_hard_is_sent_back_with_what_to_do() -> None:
    told = faults(jpeg(SCENE, replace(PHONE, quality=55)))
    assert "as the phone wrote it" in told["pressed too hard"]
    assert "best quality" in told["pressed too hard"]
    assert not reading(jpeg(SCENE, replace(PHONE, quality=55))).cover_stands
    assert faults(jpeg(SCENE, replace(PHONE, quality=88))) == {}


def test_a_file_that_does_not_tell_how_it_was_pressed_has_no_cover() -> None:
    assert (
        "JPEG as the phone wrote it"
        in faults(saved(SCENE, "WEBP", quality=80))["pressed, not told how"]
    )
    assert faults(saved(SCENE, "WEBP", lossless=True)) == {}
