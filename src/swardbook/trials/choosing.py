"""Choose over several traits with one's own weights, and see how firmly the choice stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import BadInputError, NotEnoughDataError, OutOfRangeError
from swardbook.trials.chances import root_of
from swardbook.trials.least_squares import Term, fit, mean_rows
from swardbook.trials.plots import Array, Factor


@dataclass(frozen=True, slots=True)
class Wish:
    """What is wanted of one trait.

    Parameters
    ----------
    trait : str
        Its name.
    weight : float
        How much it counts, 0 or more. [-]
    worst, best : float
        Figures that are worth nothing, and all that can be wished for. [unit of the trait]
    """

    trait: str
    weight: float
    worst: float
    best: float

    def __post_init__(self) -> None:
        if not self.weight >= 0:
            raise OutOfRangeError(f"weight of {self.trait}", self.weight, "0 or more", "-")
        if self.worst == self.best:
            raise BadInputError(
                f"what is wished of {self.trait}", f"{self.worst:g} and {self.best:g}",
                "two figures apart: worth nothing, and all one could wish",
            )  # fmt: skip

    def worth(self, figures: Array) -> Array:
        """Put figures on a scale from 0 to 1 [-]."""
        return np.asarray(np.clip((figures - self.worst) / (self.best - self.worst), 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class Weighed:
    """The mixtures under one set of weights.

    Parameters
    ----------
    told : str
        Which weights.
    weights : tuple of float
        They, adding up to 1. [-]
    first : tuple of float
        Share of draws in which each mixture comes first. [-]
    """

    told: str
    weights: tuple[float, ...]
    first: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """A choice over several traits.

    Parameters
    ----------
    names : tuple of str
        The mixtures.
    worth : tuple of float
        Each at its means, from 0 to 1: the weighted geometric mean over the traits. [-]
    under : tuple of Weighed
        Under the weights as given, then with each trait half and twice as heavy, then alike.
    """

    names: tuple[str, ...]
    worth: tuple[float, ...]
    under: tuple[Weighed, ...]

    @property
    def ever_first(self) -> tuple[str, ...]:
        """Mixtures that come first most often under some of the weights, by name."""
        found = {self.names[int(np.argmax(each.first))] for each in self.under}
        return tuple(sorted(found))

    @property
    def is_stable(self) -> bool:
        """Whether one mixture comes first most often under every set of weights."""
        return len(self.ever_first) == 1


def choose(
    names: Sequence[str], means: Array, mixtures_by: Array, traits_by: Array,
    wishes: Sequence[Wish], draws: int = 20_000, seed: int = 1,
) -> Choice:  # fmt: skip
    """Weigh several traits, with the uncertainty that they share.

    Parameters
    ----------
    names : sequence of str
        The mixtures.
    means : array
        Adjusted means, a row a mixture, a column a trait. [a unit a trait]
    mixtures_by : array
        Covariance of the mixtures' means, in units of the error. [-]
    traits_by : array
        Error covariance of the traits on one plot. [units multiplied]
    wishes : sequence of Wish
        One a trait, in the order of the columns.
    draws, seed : int
        Draws of the true means, and their seed.

    Raises
    ------
    NotEnoughDataError
        If nothing has a weight, or there is one mixture.

    Notes
    -----
    Derringer, G. and Suich, R., 1980, Journal of Quality Technology 12, 214-219.
    """
    if len(names) < 2:
        raise NotEnoughDataError("a choice", "at least two mixtures", str(len(names)))
    weights = np.array([wish.weight for wish in wishes], dtype=np.float64)
    if not weights.sum() > 0:
        raise NotEnoughDataError("a choice", "a trait with some weight", "none")
    logs = draw_worth(means, mixtures_by, traits_by, wishes, draws, seed)
    at_means = [wish.worth(means[:, at]) for at, wish in enumerate(wishes)]
    own = weights / weights.sum()
    worth = np.prod([each**w for each, w in zip(at_means, own, strict=True)], axis=0)
    return Choice(
        tuple(names), tuple(float(each) for each in worth),
        tuple(_weighed(told, w, logs) for told, w in _shaken(weights, wishes)),
    )  # fmt: skip


def means_together(
    figures: Array, entry: Factor, block: Factor | None
) -> tuple[Array, Array, Array]:
    """Give adjusted means of several traits of the same plots, and how they vary together.

    Parameters
    ----------
    figures : array
        A row a plot, a column a trait, without holes. [a unit a trait]
    entry, block : Factor
        What stands where.

    Returns
    -------
    means : array
        A row a mixture, a column a trait. [a unit a trait]
    mixtures_by : array
        Covariance of the mixtures' means, in units of the error. [-]
    traits_by : array
        Error covariance of the traits on one plot. [units multiplied]

    Raises
    ------
    NotEnoughDataError
        If nothing is left over for error.
    """
    terms: list[Term] = [(entry,)] if block is None else [(block,), (entry,)]
    fitted = fit(figures, terms)
    if fitted.df < 1:
        raise NotEnoughDataError("a choice", "repeats of the mixtures", "none")
    _, rows = mean_rows(terms, [entry])
    left = figures - fitted.design @ fitted.effects
    return fitted.estimate(rows), fitted.spread(rows), left.T @ left / fitted.df


def draw_worth(
    means: Array, mixtures_by: Array, traits_by: Array, wishes: Sequence[Wish], draws: int,
    seed: int,
) -> Array:  # fmt: skip
    """Draw the logarithm of what each trait of each mixture may be worth: draw, mixture, trait [-].

    Traits of one plot go together, so they are drawn together.
    """
    source = np.random.Generator(np.random.Philox(key=seed))
    plain = source.standard_normal((draws, *means.shape))
    drawn = means + np.einsum(
        "mi,dij,tj->dmt", root_of(mixtures_by), plain, root_of(traits_by), optimize=True
    )
    worth = np.stack([wish.worth(drawn[:, :, at]) for at, wish in enumerate(wishes)], axis=2)
    return np.log(np.maximum(worth, 1e-12))


def share_first(logs: Array, weights: Array) -> Array:
    """Give the share of draws in which each mixture comes first; ties share alike [-]."""
    total = logs @ weights
    first = total >= total.max(axis=1, keepdims=True) - 1e-12
    return np.asarray((first / first.sum(axis=1, keepdims=True)).mean(axis=0))


def _weighed(told: str, weights: Array, logs: Array) -> Weighed:
    own = weights / weights.sum()
    first = share_first(logs, own)
    return Weighed(told, tuple(own.tolist()), tuple(first.tolist()))


def _shaken(weights: Array, wishes: Sequence[Wish]) -> list[tuple[str, Array]]:
    found = [("as given", weights)]
    if np.count_nonzero(weights) < 2:
        return found
    for at, wish in enumerate(wishes):
        if weights[at] > 0:
            for words, times in (("half", 0.5), ("twice", 2.0)):
                moved = weights.copy()
                moved[at] *= times
                found.append((f"{wish.trait} {words} as heavy", moved))
    return [*found, ("all alike", np.ones(len(weights)) * (weights > 0))]
