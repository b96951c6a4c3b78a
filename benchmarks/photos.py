"""How long a picture of 12 million pixels takes, over the fastest decoder installed.

Run: ``python -m benchmarks photos``. Nothing here is asserted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib.util import find_spec

import cv2
import numpy as np
from tests.support.scenes import plot_between_cards
from tests.support.swards import PHONE, jpeg, seen, sward

from benchmarks._measuring import CACHE, Row, medians
from swardbook.photos.cards import Pixels, find_cards
from swardbook.photos.colour import dark_green_index
from swardbook.photos.correcting import correct, read_whites
from swardbook.photos.covering import Covering, Pass, load_pass, read_cover
from swardbook.photos.opening import Photo, decode, look_at
from swardbook.photos.reading import read_photo
from swardbook.photos.rectifying import rectify
from swardbook.photos.smearing import smear_of, without_smear

SIZE = (3000, 4000)
SIDES_MM = (620.0, 460.0)
AS_TAKEN = (1.0, 1.0, 1.0)


def pictures() -> tuple[bytes, bytes]:
    """Draw a sward that fills 12 million pixels, and the same between cards."""
    camera = replace(PHONE, quality=92)
    part = sward(0.7, 1, (750, 1000), 6).pixels
    whole = np.tile(part, (4, 4, 1))
    scene = plot_between_cards(np.tile(part, (3, 3, 1)), SIDES_MM, SIZE)
    return jpeg(seen(whole, camera), camera), jpeg(seen(scene.pixels, camera), camera)


def decoders(held: bytes) -> dict[str, Callable[[], object]]:
    """Give each decoder there is, decoding the picture at its quickest."""
    buffer = np.frombuffer(held, np.uint8)
    found: dict[str, Callable[[], object]] = {
        "OpenCV": lambda: cv2.imdecode(buffer, cv2.IMREAD_COLOR | cv2.IMREAD_IGNORE_ORIENTATION)
    }
    if find_spec("simplejpeg"):
        import simplejpeg

        found["simplejpeg"] = lambda: simplejpeg.decode_jpeg(held, fastdct=True, fastupsample=True)
    return found


def by_library(photo: Photo) -> tuple[float, float]:
    """Cover by a plain threshold and the index by scikit-image, on the whole picture."""
    from skimage.color import rgb2hsv

    hue, saturation, bright = np.moveaxis(rgb2hsv(decode(photo)), -1, 0)
    green = (hue >= 57 / 360) & (hue <= 140 / 360) & (saturation > 0.1)
    index = ((hue * 360 - 60) / 60 + (1 - saturation) + (1 - bright)) / 3
    return float(green.mean()), float(index[green].mean())


def parts(photo: Photo) -> dict[str, Callable[[], object]]:
    """Give the parts of the work with cards, each by itself."""
    pixels = decode(photo)
    cards = find_cards(pixels)
    plot = rectify(pixels, cards).pixels
    whites = read_whites(pixels, cards)
    assert whites is not None
    return {
        "decode": lambda: decode(photo),
        "find cards": lambda: find_cards(pixels),
        "rectify": lambda: rectify(pixels, cards),
        "put colour right": lambda: correct(plot, whites.gains),
        "cover and colour": lambda: read_cover(plot, load_pass(CACHE)),
        "cover, colour and what pressing did": lambda: covered(
            photo, plot, whites.gains, load_pass(CACHE)
        ),
    }


def run() -> list[Row]:
    """Measure."""
    cv2.setNumThreads(1)
    passes = load_pass(CACHE)
    held, held_with_cards = pictures()
    plain, carded = look_at(held, "plain.jpg"), look_at(held_with_cards, "cards.jpg")
    works: dict[str, Callable[[], object]] = {
        **decoders(held),
        "plain": lambda: covered(plain, decode(plain), AS_TAKEN, passes),
        "plain without simplejpeg": lambda: covered(plain, by_opencv(held), AS_TAKEN, passes),
    }
    taken = medians(works, 9)
    with_cards = medians({**decoders(held_with_cards), "cards": lambda: in_cards(carded)}, 9)
    whole = medians(
        {**decoders(held_with_cards), "everything": lambda: read_photo(carded, passes)}, 5
    )
    library = medians({"library": lambda: by_library(plain)}, 1)["library"]
    names = list(decoders(held))
    fastest = min(names, key=lambda name: taken[name])
    base = taken[fastest]
    base_cards = min(with_cards[name] for name in names)
    base_whole = min(whole[name] for name in names)
    pixels = decode(plain)
    found = covered(plain, pixels, AS_TAKEN, passes)
    apart = abs(float(dark_green_index(pixels[:600]).mean()) - by_rows(pixels[:600]))
    split = ", ".join(
        f"{name} {1e3 * seconds:.0f} ms" for name, seconds in medians(parts(carded), 5).items()
    )
    what = "a picture of 12 million pixels read for cover and colour"
    return [
        Row(f"{what}, over the fastest decoder ({fastest}, {1e3 * base:.0f} ms)",
            f"{taken['plain'] / base:.2f} times as long", "at most 2 times (stretch 1.3)",
            taken["plain"] / base <= 2),
        Row(f"{what} where OpenCV decodes, over the fastest decoder",
            f"{taken['plain without simplejpeg'] / base:.2f} times as long"),
        Row(f"{what} of the plot between its cards, put right, over the fastest decoder",
            f"{with_cards['cards'] / base_cards:.2f} times as long",
            "at most 3 times (stretch 2.2)", with_cards["cards"] / base_cards <= 3),
        Row("the same with quality and texture, over the fastest decoder",
            f"{whole['everything'] / base_whole:.2f} times as long"),
        Row(f"{what} by scikit-image and NumPy, over ours",
            f"{library / taken['plain']:.0f} times as long (index differs by {apart:.0e} on the"
            f" same pixels; cover read {100 * found.cover:.1f} %)"),
        Row("parts of a picture with cards", split),
    ]  # fmt: skip


def in_cards(photo: Photo) -> float:
    """Find the cards, see the plot from above, put its colour right, read cover and colour."""
    pixels = decode(photo)
    cards = find_cards(pixels)
    whites = read_whites(pixels, cards)
    assert whites is not None
    plot = correct(rectify(pixels, cards).pixels, whites.gains)
    return covered(photo, plot, whites.gains, load_pass(CACHE)).cover


def covered(
    photo: Photo, plot: Pixels, gains: tuple[float, float, float], passes: Pass
) -> Covering:
    """Read cover and colour, and take out what pressing the file did to cover."""
    found = read_cover(plot, passes)
    assert photo.pressed is not None
    return without_smear(found, smear_of(plot, found, photo.pressed, gains, 1.0, passes) or 0.0)


def by_opencv(held: bytes) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    """Decode as where no quicker library is installed."""
    flags = cv2.IMREAD_COLOR_RGB | cv2.IMREAD_IGNORE_ORIENTATION
    return np.asarray(cv2.imdecode(np.frombuffer(held, np.uint8), flags), np.uint8)


def by_rows(pixels: np.ndarray[tuple[int, ...], np.dtype[np.uint8]]) -> float:
    """Mean index of rows by scikit-image's hue, saturation and brightness."""
    from skimage.color import rgb2hsv

    hue, saturation, bright = np.moveaxis(rgb2hsv(pixels), -1, 0)
    return float((((hue * 360 - 60) / 60 + (1 - saturation) + (1 - bright)) / 3).mean())


if __name__ == "__main__":
    for row in run():
        print(row)
