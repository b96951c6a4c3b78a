"""Files of photographs of the made-up trial ground, as a phone would write them."""

from __future__ import annotations

import io
from functools import lru_cache
from pathlib import Path

from PIL import Image

from tests.support.scenes import plot_between_cards
from tests.support.swards import PHONE, Camera, jpeg, seen, sward

SIDES_MM = (400.0, 320.0)


@lru_cache(maxsize=16)
def _scene(cover: float, leaf: tuple[int, int, int], seed: int, camera: Camera) -> bytes:
    plot = sward(cover, seed, (480, 600), 8, leaf=leaf)
    scene = plot_between_cards(plot.pixels, SIDES_MM, (860, 1020))
    return jpeg(seen(scene.pixels, camera), camera)


def write_photograph(
    path: Path,
    taken: str = "2011:10:06 10:15:00",
    cover: float = 0.6,
    leaf: tuple[int, int, int] = (70, 112, 48),
    *,
    seed: int = 3,
    model: str = "Fen Two",
    camera: Camera = PHONE,
    has_place: bool = False,
) -> Path:
    """Write one photograph of a plot between cards, with what a camera writes beside it."""
    tags = Image.Exif()
    tags[0x0110] = model
    if taken:
        tags.get_ifd(0x8769)[0x9003] = taken
    if has_place:
        tags.get_ifd(0x8825).update({1: "N", 2: (52.0, 7.0, 30.0), 3: "W", 4: (1.0, 2.0, 3.0)})
    held = _scene(cover, leaf, seed, camera)
    exif = b"Exif\x00\x00" + tags.tobytes().removeprefix(b"Exif\x00\x00")
    path.write_bytes(held[:2] + b"\xff\xe1" + (len(exif) + 2).to_bytes(2, "big") + exif + held[2:])
    assert Image.open(io.BytesIO(path.read_bytes())).getexif()[0x0110] == model
    return path
