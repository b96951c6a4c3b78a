"""Colour of pixels: hue, saturation and brightness, indices of green, and difference as seen."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Pixels = NDArray[np.uint8]
Values = NDArray[np.float64]

# IEC 61966-2-1: sRGB to XYZ under D65, and the white of D65 (2° observer).
_TO_XYZ = np.array(
    [
        [0.412453, 0.357580, 0.180423],
        [0.212671, 0.715160, 0.072169],
        [0.019334, 0.119193, 0.950227],
    ]
)
_WHITE = np.array([0.95047, 1.0, 1.08883])


def hue_saturation_brightness(pixels: Pixels) -> tuple[Values, Values, Values]:
    """Give hue, saturation and brightness of pixels.

    Smith (1978). Grey has hue 0.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]

    Returns
    -------
    tuple of array
        Hue [°], saturation [-], brightness [-].
    """
    red, green, blue = np.moveaxis(pixels.astype(np.float64), -1, 0)
    most = np.maximum(np.maximum(red, green), blue)
    apart = most - np.minimum(np.minimum(red, green), blue)
    held = np.where(apart > 0, apart, 1.0)
    sixth = np.select(
        [apart == 0, most == red, most == green],
        [np.zeros_like(most), (green - blue) / held % 6, 2 + (blue - red) / held],
        4 + (red - green) / held,
    )
    return 60 * sixth, apart / np.where(most > 0, most, 1.0), most / 255


def dark_green_index(pixels: Pixels) -> Values:
    """Give the dark green colour index: 0 yellow, about 0.3 to 0.7 turf, more is darker green.

    Karcher and Richardson (2003): [(H − 60) / 60 + (1 − S) + (1 − B)] / 3. Not held to 0 to 1.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]

    Returns
    -------
    array
        The index. [-]
    """
    hue, saturation, brightness = hue_saturation_brightness(pixels)
    return ((hue - 60) / 60 + (1 - saturation) + (1 - brightness)) / 3


def excess_green(pixels: Pixels) -> Values:
    """Give excess green on shares of the three channels: 2g − r − b.

    Woebbecke et al. (1995). Black has 0.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]

    Returns
    -------
    array
        The index, -1 to 2. [-]
    """
    total = pixels.sum(-1, dtype=np.float64)
    green = pixels[..., 1].astype(np.float64)
    return np.where(total > 0, 3 * green / np.where(total > 0, total, 1.0) - 1, 0.0)


def share_in_hue_band(pixels: Pixels, low: float, high: float) -> float:
    """Give the share of pixels whose hue lies in a band, of any saturation and brightness.

    Richardson, Karcher and Purcell (2001).

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]
    low, high : float
        The band, both ends in it. [°]

    Returns
    -------
    float
        Share. [-]
    """
    hue, _, _ = hue_saturation_brightness(pixels)
    return float(((hue >= low) & (hue <= high)).mean())


def linear_light(pixels: Pixels) -> Values:
    """Give light from sRGB values.

    IEC 61966-2-1.

    Parameters
    ----------
    pixels : array of uint8
        Channel values. [of 255]

    Returns
    -------
    array
        Light, 0 to 1. [-]
    """
    share = pixels / 255.0
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def as_pixels(light: Values) -> Pixels:
    """Give sRGB values from light, rounded and held to 0 to 255.

    IEC 61966-2-1.

    Parameters
    ----------
    light : array
        Light, 0 to 1. [-]

    Returns
    -------
    array of uint8
        Channel values. [of 255]
    """
    held = np.clip(light, 0, 1)
    share = np.where(held <= 0.0031308, held * 12.92, 1.055 * held ** (1 / 2.4) - 0.055)
    return np.asarray(np.rint(share * 255), np.uint8)


def lab(pixels: Pixels) -> Values:
    """Give CIE L*, a*, b* of sRGB values under D65.

    Parameters
    ----------
    pixels : array of uint8
        Red, green and blue on the last axis. [of 255]

    Returns
    -------
    array
        L*, a* and b* on the last axis. [-]
    """
    share = linear_light(pixels) @ _TO_XYZ.T / _WHITE
    root = np.where(share > 0.008856, np.cbrt(share), 7.787 * share + 16 / 116)
    x, y, z = np.moveaxis(root, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], -1)


def difference_seen(one: Values, other: Values) -> Values:
    """Give the CIEDE2000 difference of two colours in CIE L*a*b*; about 1 can just be seen.

    Sharma, Wu and Dalal (2005), with all weights one.

    Parameters
    ----------
    one, other : array
        L*, a* and b* on the last axis. [-]

    Returns
    -------
    array
        The difference. [-]
    """
    l1, a1, b1 = np.moveaxis(np.asarray(one, np.float64), -1, 0)
    l2, a2, b2 = np.moveaxis(np.asarray(other, np.float64), -1, 0)
    chroma = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    stretched = 1.5 - 0.5 * np.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    a1, a2 = a1 * stretched, a2 * stretched
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, a1)) % 360, np.degrees(np.arctan2(b2, a2)) % 360
    turn = (h2 - h1 + 180) % 360 - 180
    colourless = c1 * c2 == 0
    hues = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(np.where(colourless, 0, turn)) / 2)
    hue = np.where(colourless, h1 + h2, (h1 + turn / 2) % 360)
    light, mean = (l1 + l2) / 2, (c1 + c2) / 2
    weight_t = (
        1
        - 0.17 * np.cos(np.radians(hue - 30))
        + 0.24 * np.cos(np.radians(2 * hue))
        + 0.32 * np.cos(np.radians(3 * hue + 6))
        - 0.20 * np.cos(np.radians(4 * hue - 63))
    )
    by_light = 1 + 0.015 * (light - 50) ** 2 / np.sqrt(20 + (light - 50) ** 2)
    by_chroma, by_hue = 1 + 0.045 * mean, 1 + 0.015 * mean * weight_t
    twist = np.sin(np.radians(60 * np.exp(-(((hue - 275) / 25) ** 2))))
    twist *= -2 * np.sqrt(mean**7 / (mean**7 + 25.0**7))
    parts = (l2 - l1) / by_light, (c2 - c1) / by_chroma, hues / by_hue
    light_part, chroma_part, hue_part = parts
    square = light_part**2 + chroma_part**2 + hue_part**2 + twist * chroma_part * hue_part
    return np.asarray(np.sqrt(square), np.float64)
