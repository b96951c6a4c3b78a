"""The three figures of a feed's label: N, P₂O₅ and K₂O by weight, as oxides and as elements."""

from __future__ import annotations

import re
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import K_PER_K2O, P_PER_P2O5, require
from swardbook.husbandry.happenings import Feed


@dataclass(frozen=True, slots=True)
class Given:
    """What a feed gives, nutrient by nutrient.

    Parameters
    ----------
    nitrogen : float
        Nitrogen. [g m⁻²]
    p2o5, k2o : float
        As oxides, the way labels print them. [g m⁻²]
    phosphorus, potassium : float
        As elements. [g m⁻²]
    """

    nitrogen: float
    p2o5: float
    k2o: float
    phosphorus: float
    potassium: float


def read_label(text: str, are_elements: bool = False) -> tuple[float, float, float]:
    """Read ``12-0-9`` as N, P₂O₅ and K₂O.

    Parameters
    ----------
    text : str
        Three figures with dashes.
    are_elements : bool
        Whether P and K are printed as elements, as some labels outside the UK and US do.

    Returns
    -------
    tuple of float
        N, P₂O₅ and K₂O. [%]

    Raises
    ------
    BadInputError
        If these are not three figures.
    OutOfRangeError
        If they add up to more than the bag.
    """
    figures = re.fullmatch(
        r"\s*(\d+(?:\.\d+)?)\s*[-–:]\s*(\d+(?:\.\d+)?)\s*[-–:]\s*(\d+(?:\.\d+)?)\s*", text
    )
    if figures is None:
        raise BadInputError("--npk", text, "three figures as on the bag, such as 12-0-9")
    nitrogen, second, third = (float(each) for each in figures.groups())
    if are_elements:
        second, third = second / P_PER_P2O5, third / K_PER_K2O
    require("N, P₂O₅ and K₂O together", nitrogen + second + third, 0, 100, "%")
    return nitrogen, second, third


def given(feed: Feed) -> Given | None:
    """Work out what a feed gives a square metre; None where rate or nitrogen is not known.

    Oxide to element by atomic weights: P is 0.4364 of P₂O₅, K is 0.8302 of K₂O.
    """
    if feed.rate_g_m2 is None or feed.nitrogen_percent is None:
        return None
    p2o5 = feed.rate_g_m2 * feed.p2o5_percent / 100
    k2o = feed.rate_g_m2 * feed.k2o_percent / 100
    return Given(
        nitrogen=feed.rate_g_m2 * feed.nitrogen_percent / 100,
        p2o5=p2o5,
        k2o=k2o,
        phosphorus=p2o5 * P_PER_P2O5,
        potassium=k2o * K_PER_K2O,
    )
