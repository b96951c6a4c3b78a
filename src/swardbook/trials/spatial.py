"""How far neighbouring plots are alike, and mixtures compared with that taken into account."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import log, pi

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.trials.means import Means
from swardbook.trials.plots import Array, Factor

Fading = Callable[[Array], Array]


def spherical(far: Array) -> Array:
    """Fade to nothing at a distance of one range [-]."""
    return np.asarray(np.where(far < 1, 1 - 1.5 * far + 0.5 * far**3, 0.0))


def rational(far: Array) -> Array:
    """Fade slowly, with distance squared [-]."""
    return np.asarray(1 / (1 + far**2))


def exponential(far: Array) -> Array:
    """Fade by the same share at each step: first-order, along and across [-]."""
    return np.asarray(np.exp(-far))


FADINGS: dict[str, Fading] = {
    "spherical": spherical, "rational quadratic": rational, "exponential": exponential,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SpatialFit:
    """Mixtures compared with neighbours taken into account.

    Parameters
    ----------
    fading : str
        How likeness fades with distance.
    reach : float
        Its likeliest range. [m]
    nugget : float
        Likeliest share of the spread that neighbours do not have in common. [-]
    sigma : float
        Whole spread of plots at these. [unit of the figures]
    log_likelihood : float
        Restricted, at these, mixtures coded against the first. [-]
    likeliest : Means
        Adjusted means at these, as if range and nugget were known. [unit of the figures]
    means : Means
        Adjusted means over all ranges and nuggets, each by its likelihood: what is told. [unit of
        the figures]
    """

    fading: str
    reach: float
    nugget: float
    sigma: float
    log_likelihood: float
    likeliest: Means
    means: Means


def spatial_fit(
    figures: Array, entry: Factor, x: Array, y: Array, fading: str = "spherical"
) -> SpatialFit:
    """Compare mixtures where plots near each other are alike.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    entry : Factor
        What stands where.
    x, y : array
        Where plots lie. [m]
    fading : str
        A key of `FADINGS`.

    Raises
    ------
    NotEnoughDataError
        If there are too few plots to tell a trend from luck.

    Notes
    -----
    Generalised least squares by restricted likelihood: Gilmour, A. R., Cullis, B. R. and Verbyla,
    A. P., 1997, Journal of Agricultural, Biological, and Environmental Statistics 2, 269-293. Range
    and nugget are themselves guessed from the plots, and standard errors that take them for known
    are too small (Kackar, R. N. and Harville, D. A., 1984, Journal of the American Statistical
    Association 79, 853-862). So means and errors are taken over a grid of both, each point by its
    likelihood: Handcock, M. S. and Stein, M. L., 1993, Technometrics 35, 403-410.
    """
    ground = _Ground.of(figures, entry, x, y, fading)
    tried = ground.tried()
    reach, nugget = _likeliest(ground, tried)
    deviance, sigma2, values, covariance = ground.at(reach, nugget)
    return SpatialFit(
        fading, reach, nugget, float(np.sqrt(sigma2)), -deviance / 2,
        _means(entry, values, covariance), _means(entry, *_averaged(tried)),
    )  # fmt: skip


def spatial_means(
    figures: Array, entry: Factor, x: Array, y: Array, fading: str = "spherical"
) -> Means:
    """Give the `means` of `spatial_fit` alone, without the search for the likeliest range.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    entry : Factor
        What stands where.
    x, y : array
        Where plots lie. [m]
    fading : str
        A key of `FADINGS`.

    Raises
    ------
    NotEnoughDataError
        If there are too few plots to tell a trend from luck.
    """
    return _means(entry, *_averaged(_Ground.of(figures, entry, x, y, fading).tried()))


Told = tuple[float, float, Array, Array]
"""Minus twice the restricted log-likelihood, the variance, effects and their covariance."""
_REACHES = np.geomspace(0.06, 1.0, 10)
"""Ranges that are weighed, as shares of the furthest that can be told from a slope."""
_NUGGETS = np.linspace(0.02, 0.98, 9)
_STARTS = 4


@dataclass(frozen=True, slots=True)
class _Ground:
    """The plots where they lie, and how far likeness may reach [m]."""

    figures: Array
    design: Array
    apart: Array
    fade: Fading
    furthest: float

    @classmethod
    def of(cls, figures: Array, entry: Factor, x: Array, y: Array, fading: str) -> _Ground:
        least = int(value("trial.spatial_plots"))
        if len(figures) < least:
            raise NotEnoughDataError(
                "a trend over the ground", f"at least {least} plots with places", f"{len(figures)}"
            )
        apart = np.hypot(x[:, None] - x, y[:, None] - y)
        furthest = value("trial.reach_share") * float(apart.max())
        return cls(figures, entry.indicators, apart, FADINGS[fading], furthest)

    @property
    def grid(self) -> list[tuple[float, float]]:
        return [(self.furthest * far, own) for far in _REACHES for own in _NUGGETS]

    def at(self, reach: float, nugget: float) -> Told:
        likeness = _likeness(self.apart, self.fade, reach, nugget)
        return _profile(self.figures, self.design, likeness)

    def tried(self) -> list[Told]:
        return [self.at(*each) for each in self.grid]


def _likeliest(ground: _Ground, tried: list[Told]) -> tuple[float, float]:
    """Search on from the best points of the grid: the likelihood has several tops."""
    from scipy.optimize import minimize

    best: dict[float, tuple[float, float]] = {}
    for place in np.argsort([each[0] for each in tried]).tolist():
        best.setdefault(ground.grid[place][0], ground.grid[place])

    def against(guess: Array) -> float:
        return ground.at(*_unpacked(guess))[0]

    def searched(start: Array, within: float) -> tuple[float, Array]:
        furthest = log(ground.furthest)
        found = minimize(
            against, start, method="Nelder-Mead",
            bounds=[(furthest + log(0.02), furthest), (-8.0, 8.0)],
            options={"xatol": within, "fatol": within / 100},
        )  # fmt: skip
        return float(found.fun), np.asarray(found.x)

    starts = [np.array([log(reach), log(own / (1 - own))]) for reach, own in best.values()]
    rough = min((searched(start, 0.01) for start in starts[:_STARTS]), key=lambda each: each[0])
    return _unpacked(searched(rough[1], 1e-7)[1])


def _averaged(tried: list[Told]) -> tuple[Array, Array]:
    """Give means and covariance over ranges and nuggets, all alike likely before looking."""
    deviances = np.array([each[0] for each in tried])
    weights = np.exp(-(deviances - deviances.min()) / 2)
    weights /= weights.sum()
    values = np.array([each[2] for each in tried])
    middle = weights @ values
    off = values - middle
    within = np.tensordot(weights, np.array([each[3] for each in tried]), axes=1)
    return middle, np.asarray(within + (weights * off.T) @ off)


def _means(entry: Factor, values: Array, covariance: Array) -> Means:
    k = len(entry.levels)
    df = float(len(entry.codes) - k)
    return Means(entry.levels, values, covariance, np.full((k, k), df), entry.counts)


def _unpacked(guess: Array) -> tuple[float, float]:
    return float(np.exp(guess[0])), float(1 / (1 + np.exp(-guess[1])))


def _likeness(apart: Array, fade: Fading, reach: float, nugget: float) -> Array:
    found = (1 - nugget) * fade(apart / reach)
    np.fill_diagonal(found, 1.0)
    return np.asarray(found)


def _profile(figures: Array, design: Array, likeness: Array) -> Told:
    from scipy.linalg import solve_triangular

    try:
        root = np.linalg.cholesky(likeness)
    except np.linalg.LinAlgError:
        return 1e12, 1.0, np.zeros(design.shape[1]), np.eye(design.shape[1])
    x = solve_triangular(root, design, lower=True)
    y = solve_triangular(root, figures, lower=True)
    back = np.linalg.inv(x.T @ x)
    effects = back @ (x.T @ y)
    left = y - x @ effects
    df = len(figures) - design.shape[1]
    sigma2 = float(left @ left) / df
    logs = 2 * float(np.log(np.diag(root)).sum()) - float(np.linalg.slogdet(back)[1])
    return df * (log(2 * pi * sigma2) + 1) + logs, sigma2, effects, sigma2 * back
