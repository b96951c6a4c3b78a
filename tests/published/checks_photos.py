"""Photographs: colour by its published formulas, against values of scikit-image's functions."""

from __future__ import annotations

from functools import partial

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.photos.colour import (
    dark_green_index,
    difference_seen,
    excess_green,
    hue_saturation_brightness,
    lab,
    share_in_hue_band,
)
from swardbook.photos.covering import read_cover
from tests.support.checks import Check
from tests.support.pixels import rows_of_leaf, the_pass

GRADE = Grade.PUBLISHED
Colour = tuple[int, int, int]


def index(colour: Colour) -> float:
    return float(dark_green_index(np.array(colour, np.uint8)))


def excess(colour: Colour) -> float:
    return float(excess_green(np.array(colour, np.uint8)))


def hue(colour: Colour) -> float:
    return float(hue_saturation_brightness(np.array(colour, np.uint8))[0])


def lab_of(colour: Colour, part: int) -> float:
    return float(lab(np.array(colour, np.uint8))[part])


def apart(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    return float(difference_seen(np.array(one), np.array(other)))


INDICES: list[tuple[Colour, float, float]] = [
    ((60, 90, 40), 0.5638, 1e-4), ((255, 255, 0), 0.0, 1e-9), ((0, 255, 0), 1 / 3, 1e-6),
    ((0, 128, 0), 0.4993, 1e-4), ((80, 110, 50), 0.5077, 1e-4), ((120, 140, 60), 0.3765, 1e-4),
    ((40, 80, 30), 0.6204, 1e-4), ((150, 130, 90), 0.2261, 1e-4), ((60, 100, 40), 0.558170, 1e-6),
    ((34, 139, 34), 0.566502, 1e-6), ((100, 140, 60), 0.459851, 1e-6),
    ((30, 80, 30), 0.687092, 1e-6),
]  # fmt: skip
HUES: list[tuple[Colour, float]] = [
    ((0, 255, 0), 120.0), ((255, 255, 0), 60.0), ((60, 90, 40), 96.0), ((80, 110, 50), 90.0),
    ((120, 140, 60), 75.0), ((40, 80, 30), 108.0), ((150, 130, 90), 40.0),
]  # fmt: skip
EXCESSES: list[tuple[Colour, float]] = [
    ((0, 255, 0), 2.0), ((255, 255, 0), 0.5), ((60, 90, 40), 0.4211), ((80, 110, 50), 0.3750),
    ((120, 140, 60), 0.3125), ((40, 80, 30), 0.6), ((150, 130, 90), 0.0541),
]  # fmt: skip

CHECKS: list[Check] = [
    *(
        Check(f"photos_dark_green_{'_'.join(map(str, colour))}", "Dark green colour index of a"
              f" pixel {colour}", "skimage_2014", "rgb2hsv put into the formula of Karcher and"
              " Richardson (2003)", expected, tolerance, GRADE, partial(index, colour))
        for colour, expected, tolerance in INDICES
    ),
    *(
        Check(f"photos_hue_{'_'.join(map(str, colour))}", f"Hue of a pixel {colour} [°]",
              "skimage_2014", "rgb2hsv", expected, 1e-9, GRADE, partial(hue, colour))
        for colour, expected in HUES
    ),
    *(
        Check(f"photos_excess_green_{'_'.join(map(str, colour))}", f"Excess green of {colour}",
              "woebbecke_1995", "the index 2g - r - b worked out by hand", expected, 1e-4, GRADE,
              partial(excess, colour))
        for colour, expected in EXCESSES
    ),
    Check("photos_cover_37_of_100", "Cover of 37 rows of leaf in 100 [-]", "skimage_2014",
          "rgb2hsv and a count of its pixels", 0.37, 1e-12, GRADE,
          lambda: read_cover(rows_of_leaf(0.37), the_pass()).cover),
    Check("photos_hue_band_37_of_100", "The same by the published band of hue [-]",
          "skimage_2014", "rgb2hsv and a count of its pixels", 0.37, 1e-12, GRADE,
          lambda: share_in_hue_band(rows_of_leaf(0.37), 57, 107)),
    Check("photos_lab_l_of_leaf", "L* of a pixel (80, 110, 50)", "skimage_2014", "rgb2lab",
          42.895, 1e-3, GRADE, lambda: lab_of((80, 110, 50), 0)),
    Check("photos_lab_a_of_leaf", "a* of the same", "skimage_2014", "rgb2lab", -22.143, 1e-3,
          GRADE, lambda: lab_of((80, 110, 50), 1)),
    Check("photos_lab_b_of_leaf", "b* of the same", "skimage_2014", "rgb2lab", 29.711, 1e-3,
          GRADE, lambda: lab_of((80, 110, 50), 2)),
    Check("photos_ciede2000_pair_1", "CIEDE2000 of the first pair of the test data",
          "sharma_2005", "test data, pair 1", 2.0425, 1e-4, Grade.JUDGED,
          lambda: apart((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485))),
]  # fmt: skip
