"""Pictures of sealed guesses: what is still sealed keeps its figures to itself."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swardbook.book.calibration import Calibration, calibration
from swardbook.book.counts import show_counts
from swardbook.book.guesses import LOOK_AHEAD, Guess
from swardbook.book.opening import Book
from swardbook.book.pictures import named, note_of
from swardbook.book.sealed import NEVER, GuessShown, guesses
from swardbook.book.settling import window
from swardbook.evidence.estimates import Interval, normal_quantile
from swardbook.figures.counts_over_time import ZONE
from swardbook.figures.guess_rows import Found, GuessedCount, GuessRow
from swardbook.figures.picture import Picture
from swardbook.figures.sealed_guess import SealedGuess, SoFar, picture_of_guess
from swardbook.figures.settled_guesses import LevelHeld, SettledGuesses, picture_of_guesses
from swardbook.foundation.errors import NotEnoughDataError, UnknownNameError
from swardbook.handbook.parameters import value


def draw_guess(book: Book, guess: Guess, *, is_told: bool = False) -> Picture:
    """Draw one guess among the counts so far and the other guesses of the same count.

    Parameters
    ----------
    book : Book
        The opened book.
    guess : Guess
        The guess.
    is_told : bool
        Whether the answer tells its figures anyway: one's own, or one just opened.
    """
    shown = guesses(book)
    same = [each for each in shown if _same_count(each.guess, guess)]
    at = next(n for n, each in enumerate(same) if each.guess.id == guess.id)
    count = _count(same, guess.id if is_told else "")
    return picture_of_guess(
        SealedGuess(count, at, _so_far(book, guess), _rests_on(guess)), note_of(book)
    )


def draw_guesses(book: Book, shown: Sequence[GuessShown]) -> Picture:
    """Draw guesses beside what was found, and how all guesses of the book have done.

    Parameters
    ----------
    book : Book
        The opened book.
    shown : sequence of GuessShown
        The guesses that were asked for.

    Raises
    ------
    NotEnoughDataError
        If there is none.
    """
    if not shown:
        raise NotEnoughDataError("a picture of guesses", "a sealed guess", "none")
    groups: list[list[GuessShown]] = []
    for each in sorted(shown, key=lambda one: (one.guess.day, one.guess.zone.casefold())):
        for group in groups:
            if _same_count(group[0].guess, each.guess) and _found(group[0]) == _found(each):
                group.append(each)
                break
        else:
            groups.append([each])
    done = calibration(book)
    return picture_of_guesses(
        _settled(tuple(_count(group) for group in groups), done), note_of(book)
    )


def _settled(counts: tuple[GuessedCount, ...], done: Calibration) -> SettledGuesses:
    return SettledGuesses(
        counts=counts,
        levels=tuple(
            LevelHeld(each.level, each.ranges, each.held, each.share, each.verdict)
            for each in done.levels
        ),
        sealed=sum(each.sealed for each in done.tallies),
        settled=sum(each.settled for each in done.tallies),
        never=sum(each.never for each in done.tallies),
        needed=round(value("sealed.ranges_least")),
        caution=done.caution,
    )


def _same_count(one: Guess, other: Guess) -> bool:
    """Tell whether two guesses are of one count: same place, kind, unit and overlapping days."""
    same = (one.zone, one.kind, one.unit) == (other.zone, other.kind, other.unit)
    (first, last), (start, end) = window(one), window(other)
    return same and first <= end and start <= last


def _count(shown: Sequence[GuessShown], told: str = "") -> GuessedCount:
    first = shown[0].guess
    days = [window(each.guess) for each in shown]
    return GuessedCount(
        zone=first.zone,
        kind=named(first.kind),
        unit=first.unit,
        first=max(low for low, _ in days),
        last=min(high for _, high in days),
        rows=tuple(_row(each, is_told=each.guess.id == told) for each in shown),
        found=next((found for each in shown if (found := _found(each)) is not None), None),
    )


def _found(shown: GuessShown) -> Found | None:
    made = shown.settled
    if made is None:
        return None
    return Found(made.counted_on, made.found, made.places, made.counters)


def _row(shown: GuessShown, *, is_told: bool) -> GuessRow:
    guess, made = shown.guess, shown.settled
    beside = shown.state if shown.state == NEVER else ""
    early = max((each.days_early for each in shown.opened), default=0)
    if early:
        beside = f"opened {early} days before its count was due"
    who = "The look-ahead" if guess.who == LOOK_AHEAD else guess.who
    if not (shown.is_open or is_told):
        return GuessRow(who, guess.sealed_on, False, beside=beside)
    return GuessRow(
        who, guess.sealed_on, True, guess.middle, guess.range80, _half(guess),
        made.inside if made else None, made.crps if made else None, beside,
    )  # fmt: skip


def _half(guess: Guess) -> Interval | None:
    """Give the range that holds half of the guess's distribution; None for one figure."""
    said = guess.range80
    if guess.levels:
        low, high = np.interp((0.25, 0.75), guess.levels, guess.quantiles)
        return Interval(float(low), float(high))
    if said is None:
        return None
    middle = (said.low + said.high) / 2
    part = said.half_width * normal_quantile(0.5) / normal_quantile(0.8)
    return Interval(middle - part, middle + part)


def _so_far(book: Book, guess: Guess) -> tuple[SoFar, ...]:
    """Give the zone's counts of the same kind and in the same way, up to the sealing."""
    try:
        shown = show_counts(book, guess.zone, guess.kind)
    except (NotEnoughDataError, UnknownNameError):
        return ()
    return tuple(
        SoFar(each.day, made.estimate.value)
        for each in shown if each.where == ZONE and each.day <= guess.sealed_on
        for made in each.estimates
        if made.method is guess.method and made.estimate is not None
    )  # fmt: skip


def _rests_on(guess: Guess) -> str:
    basis = guess.basis
    if basis is None:
        return "A person's own guess."
    return (
        f"{basis.label[0].upper()}{basis.label[1:]}; {basis.draws:,} draws; way of working:"
        f" {basis.programme['name'].lower()}."
    )
