"""What would change the choice of a programme, and the cheapest measurement that would settle it.

The choice is the programme that leaves least annual meadow-grass by next October on average over
the draws, with hours at their price where the user gives one. Knowing something is worth what it
spares by another choice where another is better.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.evidence.knowing import (
    Knowing,
    Places,
    best_of,
    standard_error,
    worth_of_everything,
    worth_of_knowing,
)
from swardbook.handbook.parameters import value
from swardbook.model.chance import Array
from swardbook.model.day_heads import grown_up
from swardbook.model.measuring import size_of
from swardbook.model.state import SwardState

_TIED = 2.0
"""Standard errors within which two worths cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What knowing one thing is worth before a programme is chosen.

    Parameters
    ----------
    key : str
        Key of the unknown or the measurement.
    spared : float
        Weed grass spared on average next October, with hours at their price. [plants m⁻², or
        points]
    error : float
        Its standard error over the draws. [plants m⁻², or points]
    changes : float
        Share of the draws in which another programme is chosen. [-]
    shows : bool
        Whether it is beyond what chance in the draws would make.
    """

    key: str
    spared: float
    error: float
    changes: float
    shows: bool


@dataclass(frozen=True, slots=True)
class Flip:
    """An unknown that flips the choice.

    Parameters
    ----------
    worth : Worth
        What knowing it fully is worth.
    other : str
        The programme that is then chosen instead, most often.
    where_high : bool
        Whether that is so where the unknown is high; else where it is low.
    """

    worth: Worth
    other: str
    where_high: bool


@dataclass(frozen=True, slots=True)
class Measured:
    """What a measurement is worth, and what it takes.

    Parameters
    ----------
    worth : Worth
        What knowing its result is worth.
    hours : float
        Work. [h]
    weeks : float
        Time until the result is known. [weeks]
    net : float
        Spared less the price of its hours. [plants m⁻², or points]
    """

    worth: Worth
    hours: float
    weeks: float
    net: float


@dataclass(frozen=True, slots=True)
class Turning:
    """The least price of an hour a week at which another programme is chosen.

    Parameters
    ----------
    price : float
        Weed grass one would leave for an hour a week less. [plants m⁻² h⁻¹ week, or points]
    other : str
        The programme chosen from there on.
    """

    price: float
    other: str


@dataclass(frozen=True, slots=True)
class Advice:
    """What would change the choice of a programme.

    Parameters
    ----------
    choice : str
        The programme chosen as things are known.
    left : float
        What it leaves on average, with hours at their price. [plants m⁻², or points]
    everything : Worth
        What knowing everything would be worth, next year's weather too: a bound for all others.
    flips : tuple of Flip
        Unknowns that flip the choice beyond chance, the one worth most first.
    measured : tuple of Measured
        Each measurement, the one worth most first.
    first : str
        The quickest measurement with most of the greatest worth; empty where none shows any.
    tied : tuple of str
        Measurements whose worth cannot be told from that of the first.
    turning : Turning or None
        Where a higher price of hours would change the choice; None if none would.
    """

    choice: str
    left: float
    everything: Worth
    flips: tuple[Flip, ...]
    measured: tuple[Measured, ...]
    first: str
    tied: tuple[str, ...]
    turning: Turning | None = None


@dataclass(frozen=True, slots=True)
class Bill:
    """What the programmes lead to, and what hours are to weigh.

    Parameters
    ----------
    left : mapping of str to array
        Weed grass that each programme ends with, one value a draw. [plants m⁻², or points]
    hours : mapping of str to array
        Hours a week in season that each takes, one value a draw. [h week⁻¹]
    price : float
        Weed grass one would leave for an hour a week less. [plants m⁻² h⁻¹ week, or points]
    weeks : float
        Weeks of the season. [weeks]
    groups : array of int
        Which draws meet the same weather. [-]
    """

    left: Mapping[str, Array]
    hours: Mapping[str, Array]
    price: float
    weeks: float
    groups: Places

    @property
    def losses(self) -> Array:
        """What each programme comes to, a row each [plants m⁻², or points]."""
        return np.stack([self.left[key] + self.price * self.hours[key] for key in self.left])


def advise(
    bill: Bill, unknowns: Mapping[str, Array], measurements: Iterable[str],
    show: Callable[[str], Array],
) -> Advice | None:  # fmt: skip
    """Say what would change the choice, and what to measure first.

    Parameters
    ----------
    bill : Bill
        What the programmes lead to.
    unknowns : mapping of str to array
        The draws of each unknown. [unit of each]
    measurements : iterable of str
        Keys of the measurements there are.
    show : callable
        Gives what a measurement would show, a row each fact, a column a draw.

    Returns
    -------
    Advice or None
        None where there is only one programme, or too few draws to say what anything is worth.
    """
    losses, names, groups = bill.losses, list(bill.left), bill.groups
    if len(losses) < 2 or losses.shape[1] < value("measuring.draws_least"):
        return None
    everything = worth_of_everything(losses, groups)
    told: dict[str, Knowing] = {}
    found = dict.fromkeys(measurements, everything)
    if everything.worth:  # else one is the best in every draw, and nothing can be worth anything
        asked = strongest(losses, unknowns)
        told = {key: worth_of_knowing(losses, unknowns[key][None], groups) for key in asked}
        found = {key: worth_of_knowing(losses, show(key), groups) for key in found}
    measured = [_measured(key, known, bill.price / bill.weeks) for key, known in found.items()]
    measured.sort(key=lambda each: (-each.worth.spared, each.worth.key))
    first = _first(measured)
    return Advice(
        choice=names[best_of(losses)],
        left=float(np.min(np.mean(losses, axis=1))),
        everything=_worth("everything", everything),
        flips=_flips(told, unknowns, names, best_of(losses)),
        measured=tuple(measured),
        first=first,
        tied=_tied(first, measured, found, groups),
        turning=turning_of(bill),
    )


def turning_of(bill: Bill) -> Turning | None:
    """Find the least price of an hour a week, above the one given, that changes the choice."""
    names = list(bill.left)
    left = np.array([np.mean(bill.left[key]) for key in names])
    hours = np.array([np.mean(bill.hours[key]) for key in names])
    base = best_of(bill.losses)
    quicker = np.flatnonzero(hours < hours[base])
    if not len(quicker):
        return None
    prices = (left[quicker] - left[base]) / (hours[base] - hours[quicker])
    least = int(np.argmin(prices))
    return Turning(float(prices[least]), names[quicker[least]])


def unknowns_of(
    keys: Sequence[str], scores: Array, state: SwardState, weeds: Iterable[str]
) -> dict[str, Array]:
    """Gather the unknowns whose worth is asked: handbook numbers, and the sward of today.

    Parameters
    ----------
    keys : sequence of str
        Handbook numbers that are drawn, in the order of their scores.
    scores : array
        The scores of the draws, a row each; more rows than keys are passed over. [-]
    state : SwardState
        The sward tonight.
    weeds : iterable of str
        Its weed grasses, in order.
    """
    found = dict(zip(keys, scores, strict=False))
    for weed, now in zip(weeds, state.weeds, strict=True):
        found[f"today.{weed}.cover"] = np.asarray(now.cover)
        found[f"today.{weed}.plants"] = np.asarray(grown_up(now))
        found[f"today.{weed}.seed_in_ground"] = np.asarray(now.dormant + now.ready + now.buried)
    found["today.bare"] = np.asarray(state.zone.gap)
    return found


def strongest(losses: Array, unknowns: Mapping[str, Array]) -> list[str]:
    """Give the unknowns that the differences between programmes go with most.

    Parameters
    ----------
    losses : array
        What each programme leads to, a row each, a column a draw. [any one unit]
    unknowns : mapping of str to array
        The draws of each unknown. [unit of each]
    """
    gaps = _standard(losses - losses[best_of(losses)])
    keys = [key for key, draws in unknowns.items() if np.ptp(draws) > 0]
    rows = _standard(np.array([unknowns[key] for key in keys]))
    bent = _standard(rows**2)
    squares = (rows @ gaps.T) ** 2 + (bent @ gaps.T) ** 2
    order = np.argsort(-np.max(squares, axis=1), kind="stable")
    return [keys[place] for place in order[: round(value("measuring.flips_looked_at"))]]


def _standard(rows: Array) -> Array:
    apart = rows - np.mean(rows, axis=1)[:, None]
    spread = np.std(rows, axis=1)[:, None]
    return np.asarray(apart / np.where(spread > 0, spread, 1.0))


def _worth(key: str, known: Knowing) -> Worth:
    shows = known.worth > value("measuring.sure") * known.error
    return Worth(key, known.worth, known.error, known.changes, shows)


def _measured(key: str, known: Knowing, price: float) -> Measured:
    hours = size_of(key, "hours")
    return Measured(
        _worth(key, known), hours, size_of(key, "weeks"), known.worth - price * hours
    )  # fmt: skip


def _first(measured: Sequence[Measured]) -> str:
    """Choose the quickest of those with most of the greatest worth, net of their hours."""
    shown = [each for each in measured if each.worth.shows and each.net > 0]
    most = value("measuring.most_of") * max((each.net for each in shown), default=0.0)
    quick = sorted(
        (each for each in shown if each.net >= most),
        key=lambda each: (each.hours, each.weeks, -each.net, each.worth.key),
    )
    return quick[0].worth.key if quick else ""


def _tied(
    first: str, measured: Sequence[Measured], found: Mapping[str, Knowing], groups: Places
) -> tuple[str, ...]:
    if not first:
        return ()
    mine = found[first].gains
    alike = []
    for each in measured:
        key = each.worth.key
        apart = found[key].gains - mine
        error = standard_error(apart, groups)
        if key != first and each.worth.shows and abs(float(np.mean(apart))) <= _TIED * error:
            alike.append(key)
    return tuple(alike)


def _flips(
    told: Mapping[str, Knowing], unknowns: Mapping[str, Array], names: Sequence[str], base: int
) -> tuple[Flip, ...]:
    found = []
    for key, known in told.items():
        worth = _worth(key, known)
        if worth.shows:
            turned = known.chosen != base
            other = int(np.argmax(np.bincount(known.chosen[turned])))
            where = np.median(unknowns[key][known.chosen == other])
            found.append(Flip(worth, names[other], bool(where > np.median(unknowns[key]))))
    return tuple(sorted(found, key=lambda each: (-each.worth.spared, each.worth.key)))
