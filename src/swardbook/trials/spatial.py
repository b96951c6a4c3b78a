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
        Its range. [m]
    nugget : float
        Share of the spread that neighbours do not have in common. [-]
    sigma : float
        Whole spread of plots. [unit of the figures]
    log_likelihood : float
        Restricted, mixtures coded against the first. [-]
    means : Means
        Adjusted means. [unit of the figures]
    """

    fading: str
    reach: float
    nugget: float
    sigma: float
    log_likelihood: float
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
    Generalised least squares by restricted likelihood from several starts, since one start can stop
    in the wrong place: Gilmour, A. R., Cullis, B. R. and Verbyla, A. P., 1997, Journal of
    Agricultural, Biological, and Environmental Statistics 2, 269-293.
    """
    least = int(value("trial.spatial_plots"))
    if len(figures) < least:
        raise NotEnoughDataError(
            "a trend over the ground", f"at least {least} plots with places", f"{len(figures)}"
        )
    from scipy.optimize import minimize, minimize_scalar

    apart = np.hypot(x[:, None] - x, y[:, None] - y)
    fade, design = FADINGS[fading], entry.indicators
    furthest = value("trial.reach_share") * float(apart.max())
    bounds = [(np.log(0.02 * furthest), np.log(furthest)), (-8.0, 8.0)]

    def against(guess: Array) -> float:
        return _profile(figures, design, _likeness(apart, fade, *_unpacked(guess)))[0]

    # The likelihood has several tops, and one search stops at the first it meets.
    grid = np.log(furthest * np.linspace(0.04, 0.98, 16))
    inner = [
        minimize_scalar(
            lambda share, reach=reach: against(np.array([reach, share])),
            bounds=(-8.0, 8.0), method="bounded", options={"xatol": 1e-3},
        )
        for reach in grid
    ]  # fmt: skip
    at = int(np.argmin([each.fun for each in inner]))
    found = minimize(
        against, np.array([grid[at], inner[at].x]), method="Nelder-Mead", bounds=bounds,
        options={"xatol": 1e-7, "fatol": 1e-9},
    )  # fmt: skip
    reach, nugget = _unpacked(np.asarray(found.x))
    likeness = _likeness(apart, fade, reach, nugget)
    deviance, sigma2, values, covariance = _profile(figures, design, likeness)
    k, df = len(entry.levels), float(len(figures) - len(entry.levels))
    means = Means(entry.levels, values, covariance, np.full((k, k), df), entry.counts)
    return SpatialFit(fading, reach, nugget, float(np.sqrt(sigma2)), -deviance / 2, means)


def _unpacked(guess: Array) -> tuple[float, float]:
    return float(np.exp(guess[0])), float(1 / (1 + np.exp(-guess[1])))


def _likeness(apart: Array, fade: Fading, reach: float, nugget: float) -> Array:
    found = (1 - nugget) * fade(apart / reach)
    np.fill_diagonal(found, 1.0)
    return np.asarray(found)


def _profile(figures: Array, design: Array, likeness: Array) -> tuple[float, float, Array, Array]:
    """Minus twice the restricted log-likelihood, the variance, effects and their covariance."""
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
