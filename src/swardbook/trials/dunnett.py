"""Each mean against one control (Dunnett), allowing for how many there are."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial.hermite_e import hermegauss

from swardbook.evidence import Interval
from swardbook.trials.means import Means
from swardbook.trials.plots import Array
from swardbook.trials.studentised import spread_nodes


@dataclass(frozen=True, slots=True)
class AgainstControl:
    """Means against a control.

    Parameters
    ----------
    names : tuple of str
        What is set against the control.
    control : str
        The control.
    differences : array
        Each less the control. [unit of the figures]
    errors : array
        Their standard errors. [unit of the figures]
    p : array
        Chance of so large a difference in any of them if there were none. [-]
    loads : array
        Of the common factor that their correlations are taken as. [-]
    df : float
        Degrees of freedom. [-]
    """

    names: tuple[str, ...]
    control: str
    differences: Array
    errors: Array
    p: Array
    loads: Array
    df: float

    @property
    def critical(self) -> float:
        """Standard errors that a difference must pass at 95 % [-]."""
        from scipy.optimize import brentq

        def beyond(d: float) -> float:
            return 0.95 - _all_within(d, self.loads, self.df)

        return float(brentq(beyond, 0.1, 200.0, xtol=1e-9))

    def interval(self, at: int) -> Interval:
        """Give the 95 % range of one difference, in the unit of the figures."""
        half = self.critical * float(self.errors[at])
        return Interval(float(self.differences[at]) - half, float(self.differences[at]) + half)


def against_control(means: Means, control: str) -> AgainstControl:
    """Set every mean against a control.

    Parameters
    ----------
    means : Means
        The adjusted means.
    control : str
        Name of the control, such as the unsown plots or a standard mixture.

    Raises
    ------
    UnknownNameError
        If there is no such mean.

    Notes
    -----
    Dunnett, C. W., 1955, Journal of the American Statistical Association 50, 1096-1121; where
    plots are missing the correlations are taken as the nearest of one common factor: Hsu, J. C.,
    1992, Journal of Computational and Graphical Statistics 1, 151-168.
    """
    at = means.place(control)
    rest = [place for place in range(means.count) if place != at]
    contrasts = np.zeros((len(rest), means.count))
    contrasts[np.arange(len(rest)), rest] = 1.0
    contrasts[:, at] = -1.0
    spread = contrasts @ means.covariance @ contrasts.T
    own = np.sqrt(np.diag(spread))
    loads = common_loads(spread / np.outer(own, own))
    errors = means.errors[rest, at]
    df = float(np.median(means.df[at][rest]))
    differences = contrasts @ means.values
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.where(errors > 0, np.abs(differences) / errors, np.inf)
    p = np.array([1 - _all_within(each, loads, df) if np.isfinite(each) else 0.0 for each in t])

    return AgainstControl(
        tuple(means.names[place] for place in rest), means.names[at], differences, errors,
        np.clip(p, 0.0, 1.0), loads, df,
    )  # fmt: skip


def common_loads(correlation: Array) -> Array:
    """Give the loads of one common factor whose products come nearest to correlations [-]."""
    count = len(correlation)
    if count == 1:
        return np.zeros(1)
    off = correlation - np.eye(count)
    loads = np.sqrt(np.clip(off.sum(axis=1) / (count - 1), 0.0, 0.999))
    for _ in range(200):
        others = (loads**2).sum() - loads**2
        better = np.clip((off @ loads) / np.maximum(others, 1e-12), 0.0, 0.9999)
        if np.allclose(better, loads, atol=1e-13):
            break
        loads = (better + loads) / 2
    return np.asarray(loads)


def _all_within(d: float, loads: Array, df: float) -> float:
    """Chance that all of several t values of one common factor lie within plus or minus d."""
    from scipy.special import ndtr

    z, weight = hermegauss(64)
    s, spread = spread_nodes(df)
    own = np.sqrt(1 - loads**2)
    product = np.ones((len(s), len(z)))
    for load, each in zip(loads, own, strict=True):
        middle = load * z
        reach = (d * s)[:, None]
        product *= ndtr((middle + reach) / each) - ndtr((middle - reach) / each)
    inner = (product * (weight / np.sqrt(2 * np.pi))).sum(axis=1)
    return float((inner * spread).sum())
