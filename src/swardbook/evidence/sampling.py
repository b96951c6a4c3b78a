"""How many frames: for a precision, to show a change, and when a few frames are enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, exp, floor, inf, log, log1p

import numpy as np
import numpy.typing as npt

from swardbook.evidence.estimates import Interval, normal_quantile
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Taylor:
    """How the variance of counts in frames grows with their mean, ``a × mean^b``.

    Parameters
    ----------
    a : float
        Variance where the mean is 1. [plants²]
    b : float
        Power: 1 for plants that fall independently, towards 2 where they clump. [-]
    """

    a: float
    b: float


def taylors_law(means: Sequence[float], variances: Sequence[float]) -> Taylor:
    """Fit Taylor's power law through several counts, by least squares on logarithms.

    Parameters
    ----------
    means : sequence of float
        Mean count to a frame, one for each occasion or block. [plants]
    variances : sequence of float
        Variance between its frames. [plants²]

    Raises
    ------
    NotEnoughDataError
        If fewer than three of them have plants and a variance, or all have one mean.

    Notes
    -----
    Taylor, L. R., 1961, Nature 189, 732-735.
    """
    pairs = [(log(m), log(v)) for m, v in zip(means, variances, strict=True) if m > 0 and v > 0]
    if len(pairs) < 3 or len({x for x, _ in pairs}) < 2:
        raise NotEnoughDataError(
            "a power law of clumping", "three counts with plants, of unlike means", str(len(pairs))
        )
    x, y = np.array(pairs).T
    b = float(((x - x.mean()) * (y - y.mean())).sum() / ((x - x.mean()) ** 2).sum())
    return Taylor(exp(float(y.mean()) - b * float(x.mean())), b)


def green_stop(frames: int, law: Taylor, relative_error: float) -> float:
    """Give the plants in all at which counting may stop, by a power law of clumping.

    Parameters
    ----------
    frames : int
        Frames counted so far.
    law : Taylor
        Of this weed in frames of this area; its power below 2.
    relative_error : float
        Standard error over mean that is wanted. [-]

    Returns
    -------
    float
        Plants in all frames together; with as many or more the wanted error is reached. [plants]

    Raises
    ------
    OutOfRangeError
        If there are no frames, the error is not above 0, or the power not below 2.

    Notes
    -----
    Green, R. H., 1970, Researches on Population Ecology 12, 249-251.
    """
    _check(frames, relative_error)
    if not law.b < 2:
        raise OutOfRangeError("power of clumping", law.b, "below 2", "")
    return exp(
        log(relative_error**2 / law.a) / (law.b - 2) + (law.b - 1) / (law.b - 2) * log(frames)
    )


def kuno_stop(frames: int, clumping: float, relative_error: float) -> float:
    """Give the plants in all at which counting may stop, with one clumping throughout.

    Parameters
    ----------
    frames : int
        Frames counted so far.
    clumping : float
        k; infinite for plants that fall independently. [-]
    relative_error : float
        Standard error over mean that is wanted. [-]

    Returns
    -------
    float
        Plants in all frames together; infinite where clumping alone keeps so few frames from
        it, whatever they hold. [plants]

    Raises
    ------
    OutOfRangeError
        If there are no frames, or the error or k is not above 0.

    Notes
    -----
    Kuno, E., 1969, Researches on Population Ecology 11, 127-136.
    """
    _check(frames, relative_error)
    _check_clumping(clumping)
    left = relative_error**2 - 1 / (clumping * frames)
    return 1 / left if left > _ROUNDING else inf


def frames_to_show(
    mean: float, ratio: float, clumping: float, power: float = 0.8, level: float = 0.95
) -> int:
    """Give the frames on each of two occasions that would show a change of density.

    Parameters
    ----------
    mean : float
        Plants to a frame on the first. [plants]
    ratio : float
        Density of the second over the first. [-]
    clumping : float
        k on both; infinite for plants that fall independently. [-]
    power : float
        Chance of showing it. [-]
    level : float
        Level of the range that must leave out no change. [-]

    Returns
    -------
    int
        Frames on each occasion, chosen anew each time.

    Raises
    ------
    OutOfRangeError
        If the mean, ratio or k is not above 0, the ratio is 1, or the power not from 0.5 to 1.

    Notes
    -----
    Two independent samples of a negative binomial, compared by the logarithm of their ratio.
    """
    _check_clumping(clumping)
    if not mean > 0:
        raise OutOfRangeError("plants to a frame", float(mean), "above 0", "")
    if not ratio > 0 or ratio == 1:
        raise OutOfRangeError("ratio", float(ratio), "above 0, not 1", "")
    if not 0.5 <= power < 1:
        raise OutOfRangeError("chance of showing it", float(power), "from 0.5 to below 1", "")
    together = normal_quantile(level) + normal_quantile(2 * power - 1) if power > 0.5 else (
        normal_quantile(level)
    )  # fmt: skip
    variance = 1 / mean + 1 / (mean * ratio) + 2 / clumping
    return ceil((together / log(ratio)) ** 2 * variance - _ROUNDING)


class Finding(StrEnum):
    """What the first frames say."""

    FEW = "few"
    MANY = "many"
    COUNT_ON = "count on"


@dataclass(frozen=True, slots=True)
class SequentialTest:
    """Two straight lines between which counting goes on.

    Parameters
    ----------
    slope : float
        Plants that both lines rise by with each frame. [plants]
    low, high : float
        Where they begin: at or below the low line there are few, at or above the high, many.
        [plants]
    """

    slope: float
    low: float
    high: float

    def lines(self, frames: int) -> tuple[float, float]:
        """Give the plants in all [plants] at or below, and at or above, which it is settled."""
        return self.slope * frames + self.low, self.slope * frames + self.high

    def say(self, total: float, frames: int) -> Finding:
        """Tell few from many from the plants found in all, or ask for another frame."""
        low, high = self.lines(frames)
        if total <= low:
            return Finding.FEW
        return Finding.MANY if total >= high else Finding.COUNT_ON


def sequential_test(
    few: float, many: float, clumping: float, false_many: float = 0.1, false_few: float = 0.1
) -> SequentialTest:
    """Set up a test that tells few from many in as few frames as may be.

    Parameters
    ----------
    few, many : float
        The two densities to be told apart. [plants to a frame]
    clumping : float
        k; infinite for plants that fall independently. [-]
    false_many : float
        Chance of saying many where there are few. [-]
    false_few : float
        Chance of saying few where there are many. [-]

    Raises
    ------
    OutOfRangeError
        If few is not above 0 and below many, k not above 0, or a chance not below one half.

    Notes
    -----
    Wald, A., 1947, Sequential Analysis, Wiley, for the negative binomial of known k.
    """
    _check_clumping(clumping)
    if not 0 < few < many:
        raise OutOfRangeError("few", float(few), f"above 0 and below many, {many:g}", "")
    for chance in (false_many, false_few):
        if not 0 < chance < 0.5:
            raise OutOfRangeError("chance of a wrong answer", float(chance), "from 0 to 0.5", "")
    if clumping == inf:
        tilt, rise = log(many / few), many - few
    else:
        gap = log1p(many / clumping) - log1p(few / clumping)
        tilt, rise = log(many / few) - gap, clumping * gap
    return SequentialTest(
        rise / tilt,
        log(false_few / (1 - false_many)) / tilt,
        log((1 - false_few) / false_many) / tilt,
    )


@dataclass(frozen=True, slots=True)
class Operating:
    """What a sequential test does at one true density.

    Parameters
    ----------
    few : float
        Chance that it ends by saying few, as it must where frames run out nearer the low line.
        [-]
    mean_frames : float
        Frames it takes on average. [-]
    unsettled : float
        Chance that frames run out first. [-]
    """

    few: float
    mean_frames: float
    unsettled: float


def operating(
    test: SequentialTest, mean: float, clumping: float, most_frames: int, least_frames: int = 1
) -> Operating:
    """Work out, exactly, how a sequential test fares.

    Parameters
    ----------
    test : SequentialTest
        The test.
    mean : float
        Plants to a frame in truth. [plants]
    clumping : float
        k in truth. [-]
    most_frames, least_frames : int
        Frames at which it stops in any case, and before which it never does.

    Returns
    -------
    Operating
        By the chances of every sum between the lines, frame after frame.

    Raises
    ------
    OutOfRangeError
        If the mean or k is not above 0, or there is no frame.
    """
    _check(most_frames, 1.0)
    _check_clumping(clumping)
    if not mean > 0:
        raise OutOfRangeError("plants to a frame", float(mean), "above 0", "")
    top = max(1, ceil(test.lines(most_frames)[1]))
    one = _chances(mean, clumping, top)
    sums = np.arange(top + 1)
    open_ = np.zeros(top + 1)
    open_[0], beyond, few, frames = 1.0, 0.0, 0.0, 0.0
    for frame in range(1, most_frames + 1):
        before = float(open_.sum())
        frames += before + beyond
        open_ = np.convolve(open_, one)[: top + 1]
        if frame < min(least_frames, most_frames):
            beyond += before - float(open_.sum())
            continue
        beyond = 0.0
        low, high = test.lines(frame)
        few += float(open_[: max(0, floor(low) + 1)].sum())
        open_ = np.where((sums > low) & (sums < high), open_, 0.0)
    left = float(open_.sum())
    few += float(open_[sums <= test.slope * most_frames].sum())
    return Operating(few, frames, left)


def true_share(apparent: Interval, sees: float, spares: float) -> Interval:
    """Correct a share of places for finds missed and for finds that were something else.

    Parameters
    ----------
    apparent : Interval
        Range of the share of places where it was noted. [-]
    sees : float
        Chance to note it where it is. [-]
    spares : float
        Chance not to note it where it is not. [-]

    Returns
    -------
    Interval
        Within 0 to 1. [-]

    Raises
    ------
    OutOfRangeError
        If a share is not from 0 to 1, or the two chances do no better than a coin.

    Notes
    -----
    Rogan, W. J. and Gladen, B., 1978, American Journal of Epidemiology 107, 71-76. The two chances
    are taken as known.
    """
    for share in (*apparent, sees, spares):
        if not 0 <= share <= 1:
            raise OutOfRangeError("share", float(share), "from 0 to 1", "-")
    better = sees + spares - 1
    if not better > 0:
        raise OutOfRangeError("chance to see it", sees, f"above {1 - spares:g}", "-")
    low, high = ((share + spares - 1) / better for share in apparent)
    return Interval(min(1.0, max(0.0, low)), min(1.0, max(0.0, high)))


def _chances(mean: float, clumping: float, top: int) -> npt.NDArray[np.float64]:
    """Give the chance of 0, 1, 2 … plants in a frame."""
    from scipy.special import gammaln

    plants = np.arange(top + 1, dtype=float)
    if clumping == inf:
        logs = plants * log(mean) - mean - gammaln(plants + 1)
    else:
        logs = gammaln(plants + clumping) - gammaln(clumping) - gammaln(plants + 1)
        logs += plants * (log(mean) - log(clumping + mean)) - clumping * log1p(mean / clumping)
    return np.asarray(np.exp(logs), dtype=float)


def _check(frames: int, relative_error: float) -> None:
    if frames < 1:
        raise OutOfRangeError("frames", float(frames), "1 or more", "")
    if not relative_error > 0:
        raise OutOfRangeError("error wanted", float(relative_error), "above 0", "-")


def _check_clumping(clumping: float) -> None:
    if not clumping > 0:
        raise OutOfRangeError("clumping", float(clumping), "above 0", "-")
