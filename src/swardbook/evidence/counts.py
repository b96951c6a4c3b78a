"""Plants counted in frames: density with its range when plants sit in clumps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil, exp, inf, log, sqrt

import numpy as np
import numpy.typing as npt

from swardbook.evidence.estimates import Interval, normal_quantile, t_quantile
from swardbook.evidence.none_found import densest_unseen
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

Array = npt.NDArray[np.float64]

_CLUMPING_RANGE = (log(1e-3), log(1e6))
_GRID = 33
_ROUNDING = 1e-9


def poisson_exact(count: float, level: float = 0.95) -> Interval:
    """Give the exact interval of the mean behind one count of things that fall independently.

    Parameters
    ----------
    count : float
        Things counted. [-]
    level : float
        Least share of such intervals that hold the truth. [-]

    Returns
    -------
    Interval
        Of the expected count. [-]

    Raises
    ------
    OutOfRangeError
        If the count is below 0.

    Notes
    -----
    Garwood, F., 1936, Biometrika 28, 437-442.
    """
    from scipy.special import gammaincinv

    if not count >= 0:
        raise OutOfRangeError("count", float(count), "0 or more", "")
    normal_quantile(level)
    tail = (1 - level) / 2
    low = 0.0 if count == 0 else float(gammaincinv(count, tail))
    return Interval(low, float(gammaincinv(count + 1, 1 - tail)))


@dataclass(frozen=True, slots=True)
class Density:
    """Density of plants from counts in frames.

    Parameters
    ----------
    per_m2 : float
        Plants. [plants m⁻²]
    clumping : float
        k of the negative binomial: small where plants clump, infinite where they fall
        independently. [-]
    counts : tuple of float
        Plants in each frame. [plants]
    areas_m2 : tuple of float
        Area of each frame. [m²]
    """

    per_m2: float
    clumping: float
    counts: tuple[float, ...]
    areas_m2: tuple[float, ...]

    @property
    def frames(self) -> int:
        """Frames counted: the unit."""
        return len(self.counts)

    @property
    def standard_error_of_log(self) -> float:
        """Standard error of the logarithm of the density [-]; needs a plant."""
        if not self.per_m2 > 0:
            raise NotEnoughDataError("the error of a density", "a plant", "none found")
        return sqrt(_log_variance(np.array(self.areas_m2), self.per_m2, self.clumping))

    def interval(self, level: float = 0.95) -> Interval:
        """Give the profile-likelihood range [plants m⁻²]; clumping is free to vary with it.

        With none found the lower end is 0 and the upper is the exact limit of the area looked
        at, which clumps can exceed.
        """
        if self.per_m2 == 0:
            return Interval(0.0, densest_unseen(sum(self.areas_m2), level))
        counts, areas = np.array(self.counts), np.array(self.areas_m2)
        clumps = self.clumping != inf
        if not clumps:
            total = poisson_exact(float(counts.sum()), level)
            return Interval(total.low / areas.sum(), total.high / areas.sum())
        best = _profile(counts, areas, self.per_m2)
        floor = best - normal_quantile(level) ** 2 / 2
        below = partial(_gap_to, counts, areas, floor)
        return Interval(_cross(below, self.per_m2, -1), _cross(below, self.per_m2, 1))


def density(counts: Sequence[float], areas_m2: Sequence[float]) -> Density:
    """Fit density and clumping to counts in frames.

    Parameters
    ----------
    counts : sequence of float
        Plants in each frame; looked and found none is 0. [plants]
    areas_m2 : sequence of float
        Area of each frame. [m²]

    Returns
    -------
    Density
        Maximum likelihood of the negative binomial; its limit, independent plants, where the
        counts vary no more than that.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two frames.
    OutOfRangeError
        If a count is below 0 or an area not above 0.
    """
    seen, areas = np.asarray(counts, dtype=float), np.asarray(areas_m2, dtype=float)
    if seen.shape != areas.shape:
        raise OutOfRangeError("frames with an area", areas.size, str(seen.size), "")
    if seen.size < 2:
        raise NotEnoughDataError("a density with its range", "at least 2 frames", str(seen.size))
    if seen.min() < 0:
        raise OutOfRangeError("count", float(seen.min()), "0 or more", "plants")
    if not areas.min() > 0:
        raise OutOfRangeError("area of a frame", float(areas.min()), "above 0", "m2")
    rate, clumping = _fit(seen, areas)
    return Density(rate, clumping, tuple(seen.tolist()), tuple(areas.tolist()))


def common_clumping(first: Density, second: Density) -> float:
    """Give the one clumping k [-] that fits two samples with a density each."""
    samples = [
        (np.array(each.counts), np.array(each.areas_m2), each.per_m2)
        for each in (first, second)
        if each.per_m2 > 0
    ]
    if not samples or all(_is_even(counts, areas) for counts, areas, _ in samples):
        return inf

    def likelihood(log_k: Array) -> Array:
        heights = [_loglik(counts, areas, rate, np.exp(log_k)) for counts, areas, rate in samples]
        return np.asarray(np.sum(heights, axis=0), dtype=float)

    log_k, _ = _highest(likelihood)
    return _open_ended(log_k)


@dataclass(frozen=True, slots=True)
class LogRatio:
    """Logarithm of the ratio of two densities.

    Parameters
    ----------
    log : float
        Natural logarithm of the second over the first. [log ratio]
    standard_error : float
        Its standard error. [log ratio]
    degrees : float
        Degrees of freedom of its range. [-]
    none_in_one : bool
        Whether one sample held none, so that half a plant was added to both.
    """

    log: float
    standard_error: float
    degrees: float
    none_in_one: bool = False

    def interval(self, level: float) -> Interval:
        """Give the range of the log ratio by Student's t."""
        quantile = (
            normal_quantile(level) if self.degrees == inf else t_quantile(level, self.degrees)
        )
        half = quantile * self.standard_error
        return Interval(self.log - half, self.log + half)


def ratio_of_samples(first: Density, second: Density, clumping: float | None = None) -> LogRatio:
    """Compare two separate samples of frames: the second as a multiple of the first.

    Parameters
    ----------
    first, second : Density
        Counted in different frames.
    clumping : float or None
        k, if it is known; None fits one k to both samples. [-]

    Returns
    -------
    LogRatio
        With the standard error of independent negative binomial samples.

    Raises
    ------
    NotEnoughDataError
        If neither sample holds a plant.

    Notes
    -----
    ``sqrt((1/m1 + 1/k)/n1 + (1/m2 + 1/k)/n2)`` with m plants to a frame, n frames. Where one
    sample holds none, half a plant is added to both totals.
    """
    if first.per_m2 == 0 and second.per_m2 == 0:
        raise NotEnoughDataError("a ratio of two densities", "a plant", "none in either sample")
    k = common_clumping(first, second) if clumping is None else clumping
    empty = first.per_m2 == 0 or second.per_m2 == 0
    rates, variance = [], 0.0
    for each in (first, second):
        area = sum(each.areas_m2)
        rate = (each.per_m2 * area + 0.5) / area if empty else each.per_m2
        rates.append(rate)
        variance += _log_variance(np.array(each.areas_m2), rate, k)
    degrees = first.frames + second.frames - 2
    return LogRatio(log(rates[1] / rates[0]), sqrt(variance), degrees, empty)


def quadrats_needed(mean: float, clumping: float, relative_error: float) -> int:
    """Give the frames needed for a density to a wanted relative standard error.

    Parameters
    ----------
    mean : float
        Plants to a frame expected. [plants]
    clumping : float
        k; infinite for plants that fall independently. [-]
    relative_error : float
        Standard error over mean. [-]

    Returns
    -------
    int
        Frames.

    Raises
    ------
    OutOfRangeError
        If one of the three is not above 0.
    """
    for name, number in (("mean", mean), ("clumping", clumping), ("error", relative_error)):
        if not number > 0:
            raise OutOfRangeError(name, float(number), "above 0", "")
    return ceil((1 / mean + 1 / clumping) / relative_error**2 - _ROUNDING)


def none_in_a_frame(mean: float, clumping: float) -> float:
    """Give the chance [-] that a frame holds none.

    Parameters
    ----------
    mean : float
        Plants to a frame. [plants]
    clumping : float
        k; infinite for plants that fall independently. [-]
    """
    if clumping == inf:
        return exp(-mean)
    return float((1 + mean / clumping) ** -clumping)


def variance_of_counts(mean: float, clumping: float) -> float:
    """Give the variance [plants²] of counts in frames, ``m + m²/k``.

    Parameters
    ----------
    mean : float
        Plants to a frame. [plants]
    clumping : float
        k; infinite for plants that fall independently. [-]
    """
    return mean + mean * mean / clumping


def _log_variance(areas: Array, rate: float, k: float) -> float:
    means = areas * rate
    return float(1 / np.sum(means / (1 + means / k)))


def _is_even(counts: Array, areas: Array) -> bool:
    """Tell whether the counts vary no more than independent plants would."""
    rate = counts.sum() / areas.sum()
    expected = areas * rate
    if rate == 0:
        return True
    return float(((counts - expected) ** 2).sum()) <= float(
        (expected * (1 - areas / areas.sum())).sum()
    )


def _loglik(counts: Array, areas: Array, rate: float, k: Array) -> Array:
    """Negative binomial log-likelihood at one rate, for several k, less what depends on neither."""
    from scipy.special import gammaln

    mean = (areas * rate)[None, :]
    clump = k[:, None]
    terms = gammaln(counts + clump) - gammaln(clump) - clump * np.log1p(mean / clump)
    terms += counts * (np.log(mean) - np.log(clump + mean))
    return np.asarray(terms.sum(axis=1))


def _highest(likelihood: Callable[[Array], Array], rounds: int = 7) -> tuple[float, float]:
    """Find log k where a likelihood is highest, on a grid that closes in."""
    low, high = _CLUMPING_RANGE
    for _ in range(rounds):
        grid = np.linspace(low, high, _GRID)
        heights = likelihood(grid)
        at = int(np.argmax(heights))
        low, high = float(grid[max(at - 1, 0)]), float(grid[min(at + 1, _GRID - 1)])
    return float(grid[at]), float(heights[at])


def _profile(counts: Array, areas: Array, rate: float) -> float:
    """Highest log-likelihood over k at one rate."""
    return _highest(lambda log_k: _loglik(counts, areas, rate, np.exp(log_k)), rounds=4)[1]


def _fit(counts: Array, areas: Array) -> tuple[float, float]:
    rate = float(counts.sum() / areas.sum())
    if _is_even(counts, areas):
        return rate, inf
    if areas.min() < areas.max():
        rate = _best_rate(counts, areas, rate)
    log_k, _ = _highest(lambda each: _loglik(counts, areas, rate, np.exp(each)))
    return rate, _open_ended(log_k)


def _best_rate(counts: Array, areas: Array, start: float) -> float:
    """Find the rate of highest profile likelihood by narrowing thirds, on the log scale."""
    low, high = log(start) - 2, log(start) + 2
    for _ in range(60):
        left, right = low + (high - low) / 3, high - (high - low) / 3
        if _profile(counts, areas, exp(left)) < _profile(counts, areas, exp(right)):
            low = left
        else:
            high = right
    return exp((low + high) / 2)


def _open_ended(log_k: float) -> float:
    return inf if log_k >= _CLUMPING_RANGE[1] - 0.1 else exp(log_k)


def _gap_to(counts: Array, areas: Array, floor: float, rate: float) -> float:
    return _profile(counts, areas, rate) - floor


def _cross(gap: Callable[[float], float], start: float, way: int) -> float:
    """Find where a gap that is positive at `start` reaches 0, going up or down."""
    inside, step = log(start), 0.5 * way
    while gap(exp(inside + step)) > 0:
        inside += step
    outside = inside + step
    for _ in range(40):
        middle = (inside + outside) / 2
        if gap(exp(middle)) > 0:
            inside = middle
        else:
            outside = middle
    return exp((inside + outside) / 2)
