"""What draws say: ranges, differences on the same draws, and the unknowns that turn an order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from swardbook.evidence.estimates import Interval
from swardbook.evidence.ranks import ranks
from swardbook.evidence.verdicts import LOG_RATIO, POINTS, Spread, Verdict, log_of, verdict
from swardbook.handbook.parameters import value
from swardbook.model.chance import Array

LEAST_DENSITY = 0.01
"""Added to both densities before their ratio, so that none left is no division by nothing. [m⁻²]"""
SURE = 2.0
"""Standard errors beyond which a tercile's mean difference has a sign."""


@dataclass(frozen=True, slots=True)
class Range:
    """A figure over all draws: the middle one, and the range of four in five."""

    median: float
    at80: Interval

    @classmethod
    def of(cls, values: Array) -> Range:
        """Take the middle and the 80 % range of values that count the same."""
        low, middle, high = np.quantile(values, (0.1, 0.5, 0.9))
        return cls(float(middle), Interval(float(low), float(high)))

    def over(self, parts: float) -> Range:
        """Spread a figure evenly over a number of parts, such as weeks.

        Parameters
        ----------
        parts : float
            How many. [-]
        """
        return Range(self.median / parts, Interval(self.at80.low / parts, self.at80.high / parts))


@dataclass(frozen=True, slots=True)
class Contrast:
    """One programme against another on the same draws and the same weather.

    Parameters
    ----------
    programme, against : str
        Keys of the two; the difference is the first less the second.
    difference : float
        The middle difference. [`unit`]
    spread : Spread
        Its ranges. [`unit`]
    unit : str
        ``points`` of ground cover, or ``log ratio``.
    verdict : Verdict
        What may be said.
    share_less : float
        Share of the draws in which the first ends with less. [-]
    smallest : float
        The smallest difference worth acting on. [`unit`]
    """

    programme: str
    against: str
    difference: float
    spread: Spread
    unit: str
    verdict: Verdict
    share_less: float
    smallest: float


@dataclass(frozen=True, slots=True)
class Turn:
    """An unknown whose range turns the order of two programmes.

    Parameters
    ----------
    unknown : str
        Name of the parameter.
    low, high : str
        The programme that does better where the unknown is in its lowest and highest third.
    low_gain, high_gain : float
        By how much it then does better. [points, or log ratio]
    """

    unknown: str
    low: str
    high: str
    low_gain: float
    high_gain: float


@dataclass(frozen=True, slots=True)
class Lean:
    """How strongly the difference of the two best programmes goes with one unknown.

    `correlation` is by ranks, over the draws. [-]
    """

    unknown: str
    correlation: float


@dataclass(frozen=True, slots=True)
class Moved:
    """What the counts did to one unknown.

    Parameters
    ----------
    unknown : str
        Name of the parameter.
    before, after : Range
        Before and after the counts. [unit of the parameter]
    shift : float
        How far its middle moved, in standard deviations of before. [-]
    narrowing : float
        Part of its spread that went. [-]
    """

    unknown: str
    before: Range
    after: Range
    shift: float
    narrowing: float


def contrast(
    programme: str, values: Array, against: str, others: Array, *, is_density: bool
) -> Contrast:
    """Compare two programmes draw by draw.

    Parameters
    ----------
    programme, against : str
        Their keys.
    values, others : array
        What each ends with, one value a draw: a density [m⁻²] or a share of ground. [-]
    is_density : bool
        Whether the difference is a log ratio; else points of cover.
    """
    gaps = differences(values, others, is_density=is_density)
    worth = log_of(value("compare_count_ratio")) if is_density else _points_worth()

    def interval_at(level: float) -> Interval:
        low, high = np.quantile(gaps, ((1 - level) / 2, (1 + level) / 2))
        return Interval(float(low), float(high))

    spread = Spread.of(interval_at)
    middle = float(np.median(gaps))
    said = verdict(middle, spread, worth)
    unit = LOG_RATIO if is_density else POINTS
    return Contrast(programme, against, middle, spread, unit, said, float(np.mean(gaps < 0)), worth)


def differences(values: Array, others: Array, *, is_density: bool) -> Array:
    """Give the difference of each draw: log ratio, or points of cover [points or log ratio]."""
    if is_density:
        ratio = (values + LEAST_DENSITY) / (others + LEAST_DENSITY)
        return np.asarray(np.log(ratio), dtype=np.float64)
    return np.asarray(100.0 * (values - others), dtype=np.float64)


def order(outcomes: Mapping[str, Array]) -> list[str]:
    """Put programmes in order of their mean outcome, the least first; ties by key."""
    return sorted(outcomes, key=lambda key: (float(np.mean(outcomes[key])), key))


def turns(
    outcomes: Mapping[str, Array], unknowns: Mapping[str, Array], *, is_density: bool
) -> tuple[Turn, ...]:
    """Find unknowns whose lowest and highest third of draws put two programmes in another order.

    Parameters
    ----------
    outcomes : mapping of str to array
        What each programme ends with, one value a draw. [m⁻² or -]
    unknowns : mapping of str to array
        The draws of each unknown. [unit of each]
    is_density : bool
        Whether outcomes are densities; else shares of ground.

    Returns
    -------
    tuple of Turn
        Those between the two best first, then the strongest; only beyond chance.
    """
    ranked = order(outcomes)
    found: list[Turn] = []
    for first, second in pairwise(ranked):
        gaps = differences(outcomes[first], outcomes[second], is_density=is_density)
        for name, draws in unknowns.items():
            turn = _turn(name, draws, gaps, first, second)
            if turn is not None:
                found.append(turn)
    best = set(ranked[:2])
    return tuple(
        sorted(
            found,
            key=lambda each: ({each.low, each.high} != best, -min(each.low_gain, each.high_gain)),
        )
    )


def leans(
    outcomes: Mapping[str, Array], unknowns: Mapping[str, Array], *, is_density: bool
) -> tuple[Lean, ...]:
    """Say which unknowns the difference of the two best programmes goes with, strongest first."""
    ranked = order(outcomes)
    if len(ranked) < 2:
        return ()
    gaps = differences(outcomes[ranked[0]], outcomes[ranked[1]], is_density=is_density)
    if np.ptp(gaps) == 0:
        return ()
    places = ranks(gaps)
    found = [
        Lean(name, float(np.corrcoef(places, ranks(draws))[0, 1]))
        for name, draws in unknowns.items()
        if np.ptp(draws) > 0
    ]
    return tuple(sorted(found, key=lambda each: (-abs(each.correlation), each.unknown)))


def moved(
    before: Mapping[str, Array], after: Mapping[str, Array], names: Sequence[str], least: float
) -> tuple[Moved, ...]:
    """Say which unknowns the counts moved or narrowed by more than a least part.

    Parameters
    ----------
    before, after : mapping of str to array
        Draws of each unknown, before and after the counts. [unit of each]
    names : sequence of str
        Which unknowns.
    least : float
        Least shift or narrowing that is told. [-]
    """
    found = []
    for name in names:
        spread = float(np.std(before[name]))
        if spread == 0:
            continue
        shift = float(np.median(after[name]) - np.median(before[name])) / spread
        narrowing = 1 - float(np.std(after[name])) / spread
        if max(abs(shift), narrowing) >= least:
            ranges = Range.of(before[name]), Range.of(after[name])
            found.append(Moved(name, *ranges, shift, narrowing))
    return tuple(sorted(found, key=lambda each: (-abs(each.shift) - each.narrowing, each.unknown)))


def _points_worth() -> float:
    return value("compare_cover_points")


def _turn(name: str, draws: Array, gaps: Array, first: str, second: str) -> Turn | None:
    if np.ptp(draws) == 0:
        return None
    low, high = np.quantile(draws, (1 / 3, 2 / 3))
    below, above = gaps[draws <= low], gaps[draws >= high]
    signs = _sure_sign(below), _sure_sign(above)
    if signs[0] * signs[1] != -1:
        return None
    best = {-1: first, 1: second}
    gains = abs(float(np.mean(below))), abs(float(np.mean(above)))
    return Turn(name, best[signs[0]], best[signs[1]], *gains)


def _sure_sign(gaps: Array) -> int:
    error = float(np.std(gaps)) / np.sqrt(len(gaps))
    mean = float(np.mean(gaps))
    return 0 if abs(mean) <= SURE * error else int(np.sign(mean))
