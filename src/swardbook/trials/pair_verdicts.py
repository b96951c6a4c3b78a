"""The six verdicts on every pair of a trial's means."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.evidence import Interval, Spread, Verdict, verdict
from swardbook.handbook.parameters import value
from swardbook.trials.means import Means
from swardbook.trials.pairs import all_pairs


@dataclass(frozen=True, slots=True)
class PairSaid:
    """Two mixtures side by side.

    Parameters
    ----------
    first, second : str
        The two; the first is the better of them as found.
    difference : float
        First less second. [unit, or log ratio]
    spread : Spread
        Its ranges, allowing for all pairs. [same unit]
    planned : Interval
        Its 95 % range had the pair been named beforehand. [same unit]
    needed, needed_planned : float
        Gap that it had to pass, picked after looking and planned. [same unit]
    verdict : Verdict
        What may be said of it, picked after looking.
    planned_verdict : Verdict
        What may be said had it been named beforehand.
    """

    first: str
    second: str
    difference: float
    spread: Spread
    planned: Interval
    needed: float
    needed_planned: float
    verdict: Verdict
    planned_verdict: Verdict

    @property
    def is_only_just(self) -> bool:
        """Whether it is clear and could easily have fallen the other way."""
        return self.verdict is Verdict.CLEAR and abs(self.difference) < self.needed * value(
            "trial.only_just"
        )

    def names(self) -> frozenset[str]:
        """Give the two, whichever is first."""
        return frozenset((self.first, self.second))


def pairs_said(means: Means, lower_first: bool, smallest: float) -> tuple[PairSaid, ...]:
    """Give the verdict on every pair of means, allowing for how many there are.

    Parameters
    ----------
    means : Means
        The adjusted means.
    lower_first : bool
        Whether less is better.
    smallest : float
        Smallest difference worth acting on. [unit of the means]
    """
    pairs = all_pairs(means)
    order = means.ordered(lower_first)
    needed = {level: pairs.needed_by_all(level) for level in (0.95, 0.90, 0.80)}
    found = []
    for place, one in enumerate(order):
        for two in order[place + 1 :]:
            own = means.difference(one, two)
            spread = Spread(*(_about(own.value, float(n[one, two])) for n in needed.values()))
            planned = Spread.of(own.interval)
            found.append(
                PairSaid(
                    own.first, own.second, own.value, spread, planned.at95,
                    float(needed[0.95][one, two]), own.needed(),
                    verdict(own.value, spread, smallest),
                    verdict(own.value, planned, smallest),
                )
            )  # fmt: skip
    return tuple(found)


def _about(middle: float, half: float) -> Interval:
    return Interval(middle - half, middle + half)
