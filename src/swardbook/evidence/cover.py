"""Ground cover by points in frames: the frame is the unit, points in it are not independent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from swardbook.evidence.estimates import Interval, normal_quantile, t_quantile
from swardbook.evidence.none_found import largest_unseen_share
from swardbook.evidence.proportions import wilson
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Cover:
    """Cover of one kind over several frames.

    Parameters
    ----------
    share : float
        Cover. [-]
    points : float
        Points looked at in all. [-]
    frames : int
        Frames, or places where a place has several: the unit.
    standard_error : float
        From frame to frame. [-]
    design_effect : float or None
        Variance between frames over that of independent points, at least 1; None where all or
        none of the points were hit. [-]
    within_frames : float or None
        How alike points of one frame are (intraclass correlation). [-]
    """

    share: float
    points: float
    frames: int
    standard_error: float
    design_effect: float | None
    within_frames: float | None

    @property
    def effective_points(self) -> float:
        """Independent points [-] that would say as much; the frames where that is not known."""
        if self.design_effect is None:
            return float(self.frames)
        return self.points / self.design_effect

    def interval(self, level: float = 0.95) -> Interval:
        """Give the score interval [-] on the effective number of points."""
        return self._scored(self.effective_points, level)

    def interval_for_few(self, level: float = 0.95) -> Interval:
        """Give the same, widened [-] for a spread that is known from few frames only.

        The effective number is multiplied by the squared ratio of the normal to Student's
        quantile: Korn, E. L. and Graubard, B. I., 1998, Survey Methodology 24, 193-201.
        """
        shrink = (normal_quantile(level) / t_quantile(level, self.frames - 1)) ** 2
        return self._scored(self.effective_points * shrink, level)

    def unseen_limits(self, confidence: float = 0.95) -> tuple[float, float]:
        """Give what none found still allows [-]: with points independent, and frame by frame."""
        return (
            largest_unseen_share(self.points, confidence),
            largest_unseen_share(self.frames, confidence),
        )

    def _scored(self, n: float, level: float) -> Interval:
        if self.share == 0:
            return Interval(0.0, largest_unseen_share(n, level))
        if self.share == 1:
            return Interval(1 - largest_unseen_share(n, level), 1.0)
        return wilson(self.share * n, n, level)


def point_cover(hits: Sequence[float], points: Sequence[float]) -> Cover:
    """Work out cover from hits in frames.

    Parameters
    ----------
    hits : sequence of float
        Points hit in each frame. [-]
    points : sequence of float
        Points in each frame. [-]

    Returns
    -------
    Cover
        With the design effect between frames.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two frames.
    OutOfRangeError
        If a frame has no points, or more hits than points.
    """
    n = len(hits)
    if n != len(points):
        raise OutOfRangeError("frames with points", len(points), str(n), "")
    for hit, looked in zip(hits, points, strict=True):
        if not 0 <= hit <= looked or looked == 0:
            raise OutOfRangeError("points hit", float(hit), f"from 0 to {looked:g}", "")
    if n < 2:
        raise NotEnoughDataError("a range of cover", "at least 2 places", str(n))
    total = sum(points)
    share = sum(hits) / total
    departures = [hit - share * looked for hit, looked in zip(hits, points, strict=True)]
    variance = n / (n - 1) * sum(each**2 for each in departures) / total**2
    alike = share * (1 - share) / total
    if alike == 0:
        return Cover(share, total, n, 0.0, None, None)
    effect = variance / alike
    size = total / n
    within = (effect - 1) / (size - 1) if size > 1 else None
    return Cover(share, total, n, variance**0.5, max(1.0, effect), within)


def points_needed(share: float, half_width: float, level: float = 0.95) -> int:
    """Give the independent points needed for a cover to a wanted half-width.

    Parameters
    ----------
    share : float
        Cover expected. [-]
    half_width : float
        Half the length of the range wanted. [-]
    level : float
        Level of the range. [-]

    Returns
    -------
    int
        Points; times the design effect where they sit in frames.

    Raises
    ------
    OutOfRangeError
        If the share is not between 0 and 1, or the half-width not above 0.
    """
    if not 0 < share < 1:
        raise OutOfRangeError("cover expected", float(share), "between 0 and 1", "-")
    if not half_width > 0:
        raise OutOfRangeError("half-width wanted", float(half_width), "above 0", "-")
    z = normal_quantile(level)
    return ceil(z * z * share * (1 - share) / half_width**2 - _ROUNDING)


def plain_half_width(share: float, points: float, level: float = 0.95) -> float:
    """Give the half-width [-] of cover from independent points, for planning only.

    Parameters
    ----------
    share : float
        Cover expected. [-]
    points : float
        Independent points. [-]
    level : float
        Level of the range. [-]
    """
    return normal_quantile(level) * float((share * (1 - share) / points) ** 0.5)
