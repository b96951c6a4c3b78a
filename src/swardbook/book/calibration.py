"""How the guesses have done: how many ranges held, and how far off each guesser was."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import fmean

from swardbook.book.guesses import LEVEL, Settled
from swardbook.book.opening import Book
from swardbook.book.sealed import NEVER, GuessShown, guesses
from swardbook.evidence.estimates import Interval
from swardbook.evidence.proportions import wilson
from swardbook.handbook.parameters import value

NOT_ENOUGH = "not enough data"
LEVELS = (0.5, LEVEL, 0.9)
"""Shares of ranges that should hold, at which guesses are looked at. [-]"""
TOGETHER = "Guesses at one count are right or wrong together, so this range is too narrow."
Key = tuple[str, str, str, date]


@dataclass(frozen=True, slots=True)
class Held:
    """How many settled ranges of one level held what was found.

    Parameters
    ----------
    ranges, held : int
        Settled ranges, and those that held.
    share : Interval or None
        95 % range of the share that holds; None where there are too few. [-]
    level : float
        Share of them that should hold. [-]
    """

    ranges: int
    held: int
    share: Interval | None
    level: float = LEVEL

    @property
    def verdict(self) -> str:
        """``not enough data``; else whether about four in five held."""
        if self.share is None:
            return NOT_ENOUGH
        if self.share.high < self.level:
            return "too narrow"
        if self.share.low > self.level:
            return "too wide"
        return "agrees with four in five" if self.level == LEVEL else "agrees with what was stated"


@dataclass(frozen=True, slots=True)
class Tally:
    """What one guesser has sealed, in one unit, and how far off the settled ones were.

    Parameters
    ----------
    who, unit : str
        A person or the look-ahead; ``%`` or ``plants/m2``.
    sealed, settled, never : int
        Guesses sealed, those settled, and those whose count never came.
    held : Held
        How many of the ranges held.
    mean_crps : float or None
        Mean score of the settled ones, 0 is perfect; None where there are none. [`unit`]
    """

    who: str
    unit: str
    sealed: int
    settled: int
    never: int
    held: Held
    mean_crps: float | None


@dataclass(frozen=True, slots=True)
class SideBySide:
    """A person and the look-ahead on the counts that both guessed.

    Parameters
    ----------
    who, unit : str
        The person; ``%`` or ``plants/m2``.
    counts : int
        How many such counts.
    theirs, look_ahead : float
        Mean scores, 0 is perfect. [`unit`]
    """

    who: str
    unit: str
    counts: int
    theirs: float
    look_ahead: float


@dataclass(frozen=True, slots=True)
class Calibration:
    """How all guesses have done: all ranges, each guesser, and people beside the look-ahead.

    Parameters
    ----------
    held : Held
        Of the 80 % ranges.
    tallies : tuple of Tally
        Each guesser in each unit.
    beside : tuple of SideBySide
        People beside the look-ahead.
    caution : str
        What has to be said beside it.
    levels : tuple of Held
        The same guesses by ranges of 50, 80 and 90 %, as their distributions have them.
    """

    held: Held
    tallies: tuple[Tally, ...]
    beside: tuple[SideBySide, ...]
    caution: str = ""
    levels: tuple[Held, ...] = ()


def calibration(book: Book) -> Calibration:
    """Say how the guesses of a book have done, none left out.

    Parameters
    ----------
    book : Book
        The opened book.
    """
    return calibrate(guesses(book))


def calibrate(shown: Sequence[GuessShown]) -> Calibration:
    """Say how guesses have done.

    Parameters
    ----------
    shown : sequence of GuessShown
        Every guess, settled or not.
    """
    parts: dict[tuple[bool, str, str], list[GuessShown]] = defaultdict(list)
    for each in shown:
        parts[each.guess.is_own, each.guess.who.casefold(), each.guess.unit].append(each)
    ordered = [parts[key] for key in sorted(parts)]
    held = _held(shown)
    return Calibration(
        held=held,
        tallies=tuple(_tally(each) for each in ordered),
        beside=tuple(_beside(ordered)),
        caution=TOGETHER if held.share is not None else "",
        levels=tuple(_held(shown, level) for level in LEVELS),
    )


def _tally(shown: Sequence[GuessShown]) -> Tally:
    scores = [each.settled.crps for each in shown if each.settled is not None]
    return Tally(
        who=shown[0].guess.who,
        unit=shown[0].guess.unit,
        sealed=len(shown),
        settled=len(scores),
        never=sum(each.state == NEVER for each in shown),
        held=_held(shown),
        mean_crps=fmean(scores) if scores else None,
    )


def _held(shown: Iterable[GuessShown], level: float = LEVEL) -> Held:
    inside = [
        _is_inside(each.settled, level)
        for each in shown
        if each.settled is not None and each.settled.inside is not None
    ]
    enough = len(inside) >= value("sealed.ranges_least")
    share = wilson(sum(inside), len(inside)) if enough else None
    return Held(len(inside), sum(inside), share, level)


def _is_inside(made: Settled, level: float) -> bool:
    """Tell whether a range held: the one given, or another level of the same distribution."""
    if level == LEVEL or made.place is None:
        return bool(made.inside)
    return abs(made.place - 0.5) <= level / 2


def _beside(parts: Sequence[Sequence[GuessShown]]) -> Iterable[SideBySide]:
    scored = [(part[0].guess, _by_count(part)) for part in parts]
    for guess, theirs in scored:
        for other, tool in scored:
            shared = sorted(set(theirs) & set(tool))
            if guess.is_own and not other.is_own and other.unit == guess.unit and shared:
                yield SideBySide(
                    guess.who,
                    guess.unit,
                    len(shared),
                    fmean(theirs[key] for key in shared),
                    fmean(tool[key] for key in shared),
                )


def _by_count(shown: Sequence[GuessShown]) -> dict[Key, float]:
    """Mean score of each count, where one guesser guessed it several times."""
    scores: dict[Key, list[float]] = defaultdict(list)
    for each in shown:
        if each.settled is not None:
            guess = each.guess
            key = (guess.zone, guess.kind, guess.method.value, each.settled.counted_on)
            scores[key].append(each.settled.crps)
    return {key: fmean(found) for key, found in scores.items()}
