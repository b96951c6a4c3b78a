"""Places looked at more than once: the share that holds a plant, and how often a look sees it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np
import numpy.typing as npt

from swardbook.evidence.estimates import Interval, normal_quantile
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

Array = npt.NDArray[np.float64]

_ROUNDS = 100_000
_SETTLED = 1e-12
_HALVINGS = 40


@dataclass(frozen=True, slots=True)
class Occupancy:
    """Share of places that hold a plant, with what a look misses taken into account.

    Parameters
    ----------
    noted : float
        Share of places where any look saw it. [-]
    share : float
        Share of places that hold it. [-]
    interval : Interval
        Range of that share, by profile likelihood. [-]
    detection : float
        Chance that one look sees it where it is. [-]
    log_likelihood : float
        Of the looks, in their order. [-]
    places, looks : int
        Places looked at, and looks in all.
    """

    noted: float
    share: float
    interval: Interval
    detection: float
    log_likelihood: float
    places: int
    looks: int


def occupancy(seen: Sequence[int], looks: Sequence[int], level: float = 0.95) -> Occupancy:
    """Tell places where it was missed from places where it is not.

    Parameters
    ----------
    seen : sequence of int
        At each place, looks that saw it. [-]
    looks : sequence of int
        At each place, looks. [-]
    level : float
        Level of the range. [-]

    Returns
    -------
    Occupancy
        One share and one chance for all places; plants neither come nor go between looks.

    Raises
    ------
    NotEnoughDataError
        If no place was looked at twice, or none was found anywhere.
    OutOfRangeError
        If it was seen more often than looked for.

    Notes
    -----
    MacKenzie, D. I., Nichols, J. D., Lachman, G. B., Droege, S., Royle, J. A. and Langtimm, C. A.,
    2002, Ecology 83, 2248-2255.
    """
    found, looked = np.asarray(seen, dtype=float), np.asarray(looks, dtype=float)
    if found.shape != looked.shape or ((found < 0) | (found > looked) | (looked < 1)).any():
        raise OutOfRangeError(
            "looks that saw it", float(found.max(initial=0)), "from 0 to the looks of the place", ""
        )
    again = int((looked > 1).sum())
    if not again:
        raise NotEnoughDataError("what a look misses", "places looked at twice or more", "none")
    if not found.any():
        raise NotEnoughDataError("what a look misses", "a place where it was seen", "none")
    tally = _Tally.of(found, looked)
    share, chance = tally.best()
    best = tally.height(share, chance)
    floor = best - normal_quantile(level) ** 2 / 2
    low, high = (tally.edge(floor, share, end) for end in (0.0, 1.0))
    return Occupancy(
        float((found > 0).mean()), share, Interval(low, high), chance, best, len(found),
        int(looked.sum()),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Abundance:
    """Plants to a place with those that a count misses; weak from few places.

    Parameters
    ----------
    per_place : float
        Plants to a place. [plants]
    detection : float
        Chance that one count takes in a plant that is there. [-]
    log_likelihood : float
        Of the counts. [-]
    """

    per_place: float
    detection: float
    log_likelihood: float


def abundance(counts: Sequence[Sequence[int]], most: int = 150) -> Abundance:
    """Tell few plants well seen from many badly seen, by counts repeated at the same places.

    Parameters
    ----------
    counts : sequence of sequence of int
        At each place, what each count found. [plants]
    most : int
        Most plants thought of at one place. [plants]

    Raises
    ------
    NotEnoughDataError
        If no place was counted twice, nothing was found, or the counts do not tell the two apart.
    OutOfRangeError
        If a place holds more than was thought of.

    Notes
    -----
    Royle, J. A., 2004, Biometrics 60, 108-115; plants independent, the same at every count.
    """
    from scipy.optimize import minimize

    rows = [np.asarray(row, dtype=float) for row in counts if len(row)]
    if not any(len(row) > 1 for row in rows) or not any(row.any() for row in rows):
        raise NotEnoughDataError(
            "plants missed", "places counted twice or more, with plants", f"{len(rows)} places"
        )
    highest = max(float(row.max()) for row in rows)
    if highest > most or min(float(row.min()) for row in rows) < 0:
        raise OutOfRangeError("plants at a place", highest, f"from 0 to {most}", "plants")
    fixed = _ways(rows, most)

    def below(x: Array) -> float:
        return -_mixture_height(rows, fixed, most, float(x[0]), float(x[1]))

    mean = max(0.1, float(np.mean([row.max() for row in rows])))
    tries = [
        minimize(below, [log(mean / start), log(start / (1 - start))], method="Nelder-Mead",
                 options={"xatol": 1e-8, "fatol": 1e-11, "maxiter": 4000})
        for start in (0.3, 0.7)
    ]  # fmt: skip
    best = min(tries, key=lambda each: float(each.fun))
    per_place = float(np.exp(best.x[0]))
    if per_place > most / 2:
        raise NotEnoughDataError(
            "plants missed", "counts that agree better from time to time",
            "counts that would fit any number of plants",
        )  # fmt: skip
    return Abundance(per_place, float(1 / (1 + np.exp(-best.x[1]))), -float(best.fun))


@dataclass(frozen=True, slots=True)
class _Tally:
    """All that the likelihood needs of the looks."""

    places: int
    held: int
    hits: float
    looks_of_held: float
    unseen: tuple[tuple[float, int], ...]

    @classmethod
    def of(cls, found: Array, looked: Array) -> _Tally:
        held = found > 0
        unseen = Counter(looked[~held].tolist())
        return cls(
            len(found), int(held.sum()), float(found.sum()), float(looked[held].sum()),
            tuple(sorted(unseen.items())),
        )  # fmt: skip

    def height(self, share: float, chance: float) -> float:
        """Log-likelihood of the looks, in their order."""
        misses = self.looks_of_held - self.hits
        total = self.held * log(share) + self.hits * log(chance)
        total += misses * log(1 - chance) if misses else 0.0
        for looks, places in self.unseen:
            total += places * log(share * (1 - chance) ** looks + 1 - share)
        return total

    def best(self, share: float | None = None) -> tuple[float, float]:
        """Find share and chance of highest likelihood by expectation and maximisation."""
        psi = 0.5 * (1 + self.held / self.places) if share is None else share
        chance = 0.5
        for _ in range(_ROUNDS):
            held, looks = float(self.held), self.looks_of_held
            for each, places in self.unseen:
                missed = psi * (1 - chance) ** each
                there = places * missed / (missed + 1 - psi) if missed else 0.0
                held, looks = held + there, looks + there * each
            was = (psi, chance)
            psi = held / self.places if share is None else share
            chance = min(1.0, self.hits / looks)
            if abs(psi - was[0]) + abs(chance - was[1]) < _SETTLED:
                break
        return psi, chance

    def edge(self, floor: float, inside: float, outside: float) -> float:
        """Find the share where the likelihood, highest over the chance, falls to a floor."""
        if outside == 1.0 and self.height(*self.best(1.0)) >= floor:
            return 1.0
        for _ in range(_HALVINGS):
            middle = (inside + outside) / 2
            if self.height(*self.best(middle)) >= floor:
                inside = middle
            else:
                outside = middle
        return (inside + outside) / 2


def _ways(rows: Sequence[Array], most: int) -> list[Array]:
    """Give, for each place and number of plants, the logarithm of the ways to its counts."""
    from scipy.special import gammaln

    plants = np.arange(most + 1, dtype=float)
    made = []
    for row in rows:
        left = plants[:, None] - row[None, :]
        with np.errstate(invalid="ignore"):
            ways = gammaln(plants + 1)[:, None] - gammaln(row + 1) - gammaln(left + 1)
        made.append(np.where(left >= 0, ways, -np.inf).sum(axis=1))
    return made


def _mixture_height(
    rows: Sequence[Array], fixed: Sequence[Array], most: int, log_mean: float, logit: float
) -> float:
    from scipy.special import gammaln

    plants = np.arange(most + 1, dtype=float)
    prior = plants * log_mean - np.exp(log_mean) - gammaln(plants + 1)
    seen, missed = -np.logaddexp(0, -logit), -np.logaddexp(0, logit)
    total = 0.0
    for row, ways in zip(rows, fixed, strict=True):
        found = float(row.sum())
        logs = prior + ways + found * seen + (len(row) * plants - found) * missed
        top = float(logs.max())
        total += top + log(float(np.exp(logs - top).sum()))
    return total
