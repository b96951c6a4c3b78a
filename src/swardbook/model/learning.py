"""Learning from a lawn's own counts: a particle filter that carries the parameters along.

Each draw is a guess at the state of the sward together with the parameters it grew by. A count
weighs the draws by how likely each makes it; when too few carry the weight they are drawn again
in proportion to it. Parameters drawn again are shrunk to their mean and spread again, so that
their mean and covariance stay (Liu & West, 2001); or, where the whole story can be lived through
again, copies are parted by moves that leave the answer as it is (Gilks & Berzuini, 2001).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from swardbook.model.chance import Array, Chance

Advance = Callable[["Cloud"], "Cloud"]
Likelihood = Callable[["Cloud"], Array]
Refresh = Callable[["Cloud", int, float], "Cloud"]
"""Moves draws just drawn again.

It is told how many occasions they have behind them, and what share of the last count's weight.
"""


@dataclass(frozen=True, slots=True)
class Cloud:
    """The draws as they stand: one column each.

    Parameters
    ----------
    states : array
        State of the sward, a row a quantity. [units of the rows]
    unbounded : array
        Parameters on a scale without bounds, a row a parameter. [-]
    log_weights : array
        Logarithm of each draw's share of the weight; the shares sum to 1. [-]
    """

    states: Array
    unbounded: Array
    log_weights: Array

    @classmethod
    def of_equals(cls, states: Array, unbounded: Array) -> Cloud:
        """Build a cloud in which every draw counts the same."""
        draws = states.shape[1]
        return cls(states, unbounded, np.full(draws, -np.log(draws)))

    @property
    def draws(self) -> int:
        """How many draws there are."""
        return len(self.log_weights)

    @property
    def weights(self) -> Array:
        """Share of the weight that each draw has [-]."""
        return np.exp(self.log_weights)


@dataclass(frozen=True, slots=True)
class Occasion:
    """One step of the story: how the draws get there, and what was then counted.

    `log_likelihood` is None where nothing was counted.
    """

    name: str
    advance: Advance
    log_likelihood: Likelihood | None = None


@dataclass(frozen=True, slots=True)
class Weighing:
    """What one count did to the draws.

    Parameters
    ----------
    name : str
        The occasion.
    effective_draws : float
        Draws of equal weight that would know as much, the fewest after any step. [-]
    log_evidence : float
        Logarithm of the chance that the draws gave to the count beforehand. [-]
    drawn_again : bool
        Whether the draws were drawn again.
    steps : int
        In how many steps it was brought in.
    """

    name: str
    effective_draws: float
    log_evidence: float
    drawn_again: bool
    steps: int = 1


@dataclass(frozen=True, slots=True)
class Learned:
    """The draws after all counts, or why they could not be used.

    `refusal` is empty when the draws may be used; else it is the reason, in a sentence.
    """

    cloud: Cloud
    weighings: tuple[Weighing, ...] = ()
    refusal: str = ""

    @property
    def log_evidence(self) -> float:
        """Logarithm of the chance given to all counts together [-]."""
        return sum(step.log_evidence for step in self.weighings)

    @property
    def effective_draws(self) -> float:
        """The fewest effective draws that any count left [-]."""
        return min((step.effective_draws for step in self.weighings), default=self.cloud.draws)


def learn(
    cloud: Cloud,
    occasions: Iterable[Occasion],
    chance: Chance,
    *,
    shrink: float,
    least_share: float = 0.0,
    draw_again_below: float = 0.5,
    refresh: Refresh | None = None,
    most_steps: int = 1,
) -> Learned:
    """Take the draws through the occasions, weighing them at each count.

    Parameters
    ----------
    cloud : Cloud
        The draws at the start.
    occasions : iterable of Occasion
        The story in order.
    chance : Chance
        Where the random numbers come from.
    shrink : float
        Part of its distance to the mean that a parameter keeps when drawn again. [-]
    least_share : float
        Effective draws, as a share of all, below which the answer is refused. [-]
    draw_again_below : float
        Effective draws, as a share of all, below which the draws are drawn again. [-]
    refresh : callable, optional
        Parts the copies after drawing again; without it only `shrink` does.
    most_steps : int
        Steps in which one count may be brought in, a part of its weight at a time; more than one
        needs `refresh`, which must part copies that a part of a count has made.

    Returns
    -------
    Learned
        The draws, what each count did, and the refusal if there is one.
    """
    rules = _Rules(shrink, least_share, draw_again_below, refresh, most_steps)
    weighings: list[Weighing] = []
    for number, occasion in enumerate(occasions):
        cloud = occasion.advance(cloud)
        if occasion.log_likelihood is None:
            continue
        cloud, weighing, refusal = _bring_in(cloud, occasion, number, chance, rules)
        if weighing is not None:
            weighings.append(weighing)
        if refusal:
            return Learned(cloud, tuple(weighings), refusal)
    return Learned(cloud, tuple(weighings))


@dataclass(frozen=True, slots=True)
class _Rules:
    shrink: float
    least_share: float
    draw_again_below: float
    refresh: Refresh | None
    most_steps: int


def _bring_in(
    cloud: Cloud, occasion: Occasion, number: int, chance: Chance, rules: _Rules
) -> tuple[Cloud, Weighing | None, str]:
    """Weigh the draws by one count, in as many steps as keep enough of them speaking."""
    assert occasion.log_likelihood is not None
    done, evidence, fewest, again = 0.0, 0.0, float(cloud.draws), False
    for step in range(1, rules.most_steps + 1):
        likelihood = occasion.log_likelihood(cloud)
        last = step == rules.most_steps
        share = 1.0 if last else _share_in(cloud, likelihood, done, rules.draw_again_below)
        weighed = weigh(cloud, (share - done) * likelihood)
        if weighed is None:
            return cloud, None, _impossible(occasion.name)
        cloud, part = weighed
        evidence, left = evidence + part, effective_draws(cloud.log_weights)
        done, fewest = share, min(fewest, left)
        told = Weighing(occasion.name, fewest, evidence, again, step)
        if left < rules.least_share * cloud.draws:
            return cloud, told, _too_few(occasion.name, left, cloud.draws, step)
        if done < 1 or left < rules.draw_again_below * cloud.draws:
            again = True
            cloud = draw_again(cloud, chance.under(str(number), str(step)), rules.shrink)
            cloud = rules.refresh(cloud, number + 1, done) if rules.refresh else cloud
        if done == 1:
            break
    return cloud, Weighing(occasion.name, fewest, evidence, again, step), ""


def _share_in(cloud: Cloud, log_likelihood: Array, done: float, keep: float) -> float:
    """Find how much of a count's weight can be in before too few draws speak (by halving)."""

    def left(share: float) -> float:
        weighed = weigh(cloud, (share - done) * log_likelihood)
        return 0.0 if weighed is None else effective_draws(weighed[0].log_weights) / cloud.draws

    if left(1.0) >= keep:
        return 1.0
    low, high = done, 1.0
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (middle, high) if left(middle) >= keep else (low, middle)
    return high


def weigh(cloud: Cloud, log_likelihood: Array) -> tuple[Cloud, float] | None:
    """Weigh the draws by how likely each makes a count.

    Parameters
    ----------
    cloud : Cloud
        The draws before the count.
    log_likelihood : array
        Logarithm of the chance of the count under each draw. [-]

    Returns
    -------
    tuple of Cloud and float, or None
        The weighed draws and the logarithm of the chance of the count [-]; None where no draw
        makes it possible.
    """
    joint = cloud.log_weights + np.where(np.isnan(log_likelihood), -np.inf, log_likelihood)
    top = float(np.max(joint))
    if not np.isfinite(top):
        return None
    evidence = top + float(np.log(np.sum(np.exp(joint - top))))
    return replace(cloud, log_weights=joint - evidence), evidence


def effective_draws(log_weights: Array) -> float:
    """Count the draws of equal weight that would know as much (Kong, Liu & Wong, 1994) [-]."""
    weights = np.exp(log_weights - np.max(log_weights))
    return float(np.sum(weights) ** 2 / np.sum(weights**2))


def systematic(log_weights: Array, start: float) -> NDArray[np.int64]:
    """Draw as many places as there are weights, evenly spaced through their running sum.

    Parameters
    ----------
    log_weights : array
        Logarithm of the weights. [-]
    start : float
        Where in the first space to begin, between 0 and 1. [-]
    """
    draws = len(log_weights)
    running = np.cumsum(np.exp(log_weights - np.max(log_weights)))
    ticks = (np.arange(draws) + start) / draws * running[-1]
    places = np.searchsorted(running, ticks, side="right")
    return np.asarray(np.minimum(places, draws - 1), dtype=np.int64)


def draw_again(cloud: Cloud, chance: Chance, shrink: float) -> Cloud:
    """Draw the cloud again in proportion to its weights, and loosen its parameters.

    Parameters
    ----------
    cloud : Cloud
        Weighed draws.
    chance : Chance
        Where the random numbers come from.
    shrink : float
        Part of its distance to the mean that a parameter keeps; 1 leaves the parameters. [-]
    """
    picked = systematic(cloud.log_weights, float(chance.uniforms("start", 1)[0]))
    # Copies would lie side by side, and with them one weather; a keyed shuffle parts them.
    picked = picked[np.argsort(chance.uniforms("order", cloud.draws), kind="stable")]
    loosened = _loosen(cloud, picked, chance, shrink)
    return Cloud.of_equals(cloud.states[:, picked], loosened)


def weighted_quantiles(values: Array, weights: Array, shares: tuple[float, ...]) -> Array:
    """Find quantiles of weighed values, between the middles of the steps.

    Parameters
    ----------
    values : array
        One value a draw. [any unit]
    weights : array
        Their weights. [-]
    shares : tuple of float
        Which quantiles. [-]

    Returns
    -------
    array
        The quantiles. [unit of `values`]
    """
    order = np.argsort(values, kind="stable")
    heavy = weights[order]
    middles = (np.cumsum(heavy) - heavy / 2) / np.sum(heavy)
    return np.asarray(np.interp(shares, middles, values[order]), dtype=np.float64)


def _loosen(cloud: Cloud, picked: NDArray[np.int64], chance: Chance, shrink: float) -> Array:
    rows = len(cloud.unbounded)
    if rows == 0 or shrink >= 1:
        return cloud.unbounded[:, picked]
    weights = cloud.weights
    mean = cloud.unbounded @ weights
    away = cloud.unbounded - mean[:, None]
    covariance = (away * weights) @ away.T
    # Eigenvalues, because fewer effective draws than parameters leave no full rank.
    sizes, axes = np.linalg.eigh(covariance)
    noise = chance.normal_rows("loosen", rows, cloud.draws)
    spread = (axes * np.sqrt(np.maximum(sizes, 0.0) * (1 - shrink**2))) @ noise
    return np.asarray(mean[:, None] + shrink * away[:, picked] + spread)


def _impossible(name: str) -> str:
    return (
        f"Every draw makes the count of {name} impossible, so nothing was learned from it."
        " Look at that count first: the frame's size, the unit, the zone."
    )


def _too_few(name: str, left: float, draws: int, steps: int) -> str:
    slowly = f", brought in in {steps} steps," if steps > 1 else ""
    return (
        f"After the count of {name}{slowly} only {left:.0f} of {draws} draws still speak: it lies"
        " where the model hardly reaches. The forecast is refused; compare the programmes on"
        " general knowledge, and look at that count and at what was done before it."
    )
