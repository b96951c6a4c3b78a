"""How many frames of points give cover to a wanted half-width."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from statistics import fmean, stdev

from swardbook.evidence import places_needed, points_needed
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter, value
from swardbook.observations.count_plans import PastCount


@dataclass(frozen=True, slots=True)
class PointsPlan:
    """A count of cover by points in frames, planned.

    Parameters
    ----------
    cover : float
        Cover expected. [%]
    points_in_frame : float
        Crossings of a frame. [-]
    half_width : float
        Half the length of the range wanted. [points]
    places : int
        Places for it.
    places_range : tuple of int
        Places if points of one frame are less and more alike than thought.
    points_if_independent : int
        Points that would do if points of one frame were not alike.
    based_on : str
        Where cover and spread come from, in words.
    """

    cover: float
    points_in_frame: float
    half_width: float
    places: int
    places_range: tuple[int, int]
    points_if_independent: int
    based_on: str


def plan_points(past: Sequence[PastCount], half_width: float | None = None) -> PointsPlan:
    """Plan a count of cover from what earlier counts of the zone showed.

    Parameters
    ----------
    past : sequence of (date, sequence of PlaceFigure)
        Counts by points, in order.
    half_width : float or None
        Half the length of the 95 % range wanted; None for the smallest change worth acting on.
        [points]

    Returns
    -------
    PointsPlan
        By the spread between places of the latest count; without one for a cover of a half, the
        hardest, with points as alike as the handbook says.
    """
    half = value("compare_cover_points") if half_width is None else half_width
    found = [(day, row) for day, row in past if len(row) > 1]
    if found:
        day, row = found[-1]
        cover, spread = fmean(each.value for each in row), stdev(each.value for each in row)
        if spread > 0:
            places = places_needed(spread, half)
            share = min(max(cover / 100, 1e-6), 1 - 1e-6)
            return PointsPlan(
                cover, fmean(each.looked for each in row), half, places, (places, places),
                points_needed(share, half / 100),
                f"from the {len(row)} places of {say(day)}",
            )  # fmt: skip
    points, alike = value("frame_points"), parameter("count.point_clumping")
    loose = points_needed(0.5, half / 100)
    few, middle, many = (
        ceil(loose * (1 + (points - 1) * each) / points)
        for each in (alike.low, alike.value, alike.high)
    )
    return PointsPlan(50.0, points, half, middle, (few, many), loose,
                      "judged, for a cover of a half, the hardest to pin down")  # fmt: skip
