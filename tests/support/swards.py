"""Swards drawn blade by blade, whose cover and colour are known, and pictures of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import cv2
import numpy as np
from numpy.typing import NDArray

Pixels = NDArray[np.uint8]
FINER = 3
"""Each pixel is drawn as so many by so many, so that truth is finer than the picture."""


@dataclass(frozen=True)
class Sward:
    """A drawn sward, seen from above by a perfect camera.

    Parameters
    ----------
    pixels : array of uint8
        The picture, red, green, blue.
    cover : float
        Share of it that is leaf. [-]
    colour_index : float
        Mean dark green colour index of the leaf that is seen. [-]
    classes : array of uint8
        What each pixel mostly is: 0 ground, 1 the first grass, 2 the second.
    """

    pixels: Pixels
    cover: float
    colour_index: float
    classes: Pixels


@dataclass(frozen=True)
class Camera:
    """What a phone does to a picture: cast, exposure, noise and JPEG."""

    gains: tuple[float, float, float] = (1.0, 1.0, 1.0)
    """Of linear red, green, blue: cast and exposure together."""
    noise: float = 0.0
    """Standard deviation of a pixel, of full scale."""
    quality: int = 92
    halved_colour: bool = True
    """Whether colour is kept at half the resolution (4:2:0)."""
    tone: float = 1.0
    """Exponent that the phone puts on the sRGB scale: its own tone curve."""
    bleed: float = 0.0
    """Share of each channel's light that comes from all three; below 0 the phone colours up."""


PHONE = Camera(noise=0.012, quality=85)
CAST = replace(PHONE, gains=(1.12, 0.95, 0.82))


@lru_cache(maxsize=64)
def sward(
    cover: float,
    seed: int = 1,
    size: tuple[int, int] = (480, 640),
    blade_px: float = 5.0,
    leaf: tuple[int, int, int] = (70, 112, 48),
    other: tuple[int, int, int] | None = None,
    soil: tuple[int, int, int] = (120, 98, 72),
) -> Sward:
    """Draw blades on soil until so much of it is covered.

    Parameters
    ----------
    cover : float
        Share to be covered; met to within a blade. [-]
    seed : int
        Seed of the draw.
    size : tuple of int
        Height and width. [px]
    blade_px : float
        Width of a blade. [px]
    leaf, other, soil : tuple of int
        Red, green and blue of the leaf, of a second grass (every third tuft), and of the ground.
    """
    draw = np.random.default_rng(seed)
    high, wide = size[0] * FINER, size[1] * FINER
    canvas = _ground(draw, high, wide, soil)
    kinds = np.zeros((high, wide), np.uint8)
    index = np.zeros((high, wide), np.float32)
    while (so_far := (kinds[::7, ::7] > 0).mean()) < cover:
        many = 60 if so_far < cover - 0.05 else 6
        for _ in range(many):
            second = other is not None and draw.random() < 1 / 3
            base = other if second and other is not None else leaf
            shade = draw.normal(1.0, 0.1)
            colour = np.clip(np.array(base) * shade + draw.normal(0, 4, 3), 3, 250)
            points = _blade(draw, high, wide, blade_px * FINER)
            cv2.fillPoly(canvas, [points], colour.tolist())
            cv2.fillPoly(kinds, [points], 2 if second else 1)
            cv2.fillPoly(index, [points], dark_green_of(colour))
    small = cv2.resize(canvas, (size[1], size[0]), interpolation=cv2.INTER_AREA)
    green = kinds > 0
    classes = kinds[FINER // 2 :: FINER, FINER // 2 :: FINER]
    truth = float(index[green].mean()) if green.any() else float("nan")
    return Sward(
        np.asarray(small, np.uint8), float(green.mean()), truth, np.ascontiguousarray(classes)
    )


def dark_green_of(colour: NDArray[np.float64]) -> float:
    """Work the index out from one colour, by the formula as printed."""
    red, green, blue = colour
    most, least = max(colour), min(colour)
    apart = most - least
    if most == green:
        hue = 120 + 60 * (blue - red) / apart
    elif most == red:
        hue = 60 * (green - blue) / apart % 360
    else:
        hue = 240 + 60 * (red - green) / apart
    return float(((hue - 60) / 60 + (1 - apart / most) + (1 - most / 255)) / 3)


def linear(pixels: Pixels) -> NDArray[np.float64]:
    """Give light from sRGB, 0 to 1."""
    share = pixels / 255.0
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def encoded(light: NDArray[np.float64]) -> NDArray[np.float64]:
    """Give sRGB from light, 0 to 1."""
    held = np.clip(light, 0, 1)
    return np.where(held <= 0.0031308, held * 12.92, 1.055 * held ** (1 / 2.4) - 0.055)


def seen(pixels: Pixels, camera: Camera = PHONE, seed: int = 1) -> Pixels:
    """See a picture through a camera, up to its JPEG."""
    draw = np.random.default_rng(seed)
    light = linear(pixels) * np.array(camera.gains)
    light += camera.bleed * (light.mean(-1, keepdims=True) - light)
    share = encoded(light) ** camera.tone
    share += draw.normal(0, camera.noise, share.shape) if camera.noise else 0
    return np.asarray(np.clip(share * 255 + 0.5, 0, 255), np.uint8)


def jpeg(pixels: Pixels, camera: Camera = PHONE) -> bytes:
    """Write a picture as JPEG."""
    sampling = (
        cv2.IMWRITE_JPEG_SAMPLING_FACTOR_420
        if camera.halved_colour
        else cv2.IMWRITE_JPEG_SAMPLING_FACTOR_444
    )
    options = [
        cv2.IMWRITE_JPEG_QUALITY, camera.quality, cv2.IMWRITE_JPEG_SAMPLING_FACTOR, sampling,
    ]  # fmt: skip
    done, held = cv2.imencode(".jpg", cv2.cvtColor(pixels, cv2.COLOR_RGB2BGR), options)
    assert done
    return held.tobytes()


def taken(pixels: Pixels, camera: Camera = PHONE, seed: int = 1) -> Pixels:
    """Take a picture with a camera and open its JPEG."""
    held = np.frombuffer(jpeg(seen(pixels, camera, seed), camera), np.uint8)
    opened = cv2.imdecode(held, cv2.IMREAD_COLOR)
    assert opened is not None
    return np.asarray(cv2.cvtColor(opened, cv2.COLOR_BGR2RGB), np.uint8)


def _ground(
    draw: np.random.Generator, high: int, wide: int, soil: tuple[int, int, int]
) -> NDArray[np.uint8]:
    """Draw soil: crumbs of several sizes, lighter and darker."""
    light = np.ones((high, wide), np.float32)
    for crumb, strength in ((4, 0.06), (16, 0.10), (64, 0.08)):
        coarse = draw.normal(0, strength, (high // crumb + 2, wide // crumb + 2))
        light += cv2.resize(coarse.astype(np.float32), (wide, high))
    ground = np.clip(light[..., None] * np.array(soil, np.float32), 8, 245)
    return np.ascontiguousarray(ground, np.uint8)


def _blade(draw: np.random.Generator, high: int, wide: int, width: float) -> NDArray[np.int32]:
    """Shape one blade: a bent strip that tapers."""
    start = draw.uniform((-20, -20), (wide + 20, high + 20))
    angle, bend = draw.uniform(0, 2 * np.pi), draw.normal(0, 0.5)
    long = width * draw.uniform(8, 20)
    along = np.linspace(0, 1, 7)
    turning = angle + bend * along
    middle = start + np.cumsum(
        np.stack([np.cos(turning), np.sin(turning)], 1) * long / len(along), axis=0
    )
    half = width * draw.uniform(0.7, 1.2) / 2 * np.sqrt(1 - along**2 * 0.9)
    side = np.stack([-np.sin(turning), np.cos(turning)], 1) * half[:, None]
    outline = np.concatenate([middle + side, (middle - side)[::-1]])
    return np.asarray(np.rint(outline), np.int32)
