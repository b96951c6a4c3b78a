"""Sealed guesses: what people and the look-ahead think a count will find, settled when it comes.

Nothing is taken back. A guess is kept as it was sealed, what became of it is kept beside it, and
one that missed stands in every list like one that did not.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from swardbook.book.compiled import kernel_of
from swardbook.book.count_sheet import read_kind
from swardbook.book.foretelling import FORETELLS, LEVELS, NOTHING_SEALED, OWN_GUESS, foretell
from swardbook.book.guesses import (
    LOOK_AHEAD,
    ONE_FIGURE,
    RANGE_MEANS,
    Guess,
    Opened,
    Settled,
    diary_head,
    keep_guess,
    keep_opened,
    keep_settled,
    read_guesses,
    read_opened,
    read_settled,
    require_whole,
    sealed,
)
from swardbook.book.opening import Book
from swardbook.book.settling import settled_by_count, window
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    RefusedError,
    UnknownNameError,
)
from swardbook.husbandry.ground import Ground
from swardbook.model.ahead import horizons
from swardbook.model.compiling import Kernel
from swardbook.model.past import MEADOW_GRASS
from swardbook.observations.counts import Method
from swardbook.observations.occasions import methods_used, place_figures
from swardbook.review.records import occasions_of, treated

HORIZONS = ("spring", "autumn", "far")
WAITING, READY, NEVER, DONE = "sealed", "can be settled", "no count came", "settled"
Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class GuessShown:
    """A guess with what became of it.

    Parameters
    ----------
    guess : Guess
        The guess as sealed.
    state : str
        ``sealed``, ``can be settled``, ``no count came`` or ``settled``.
    waits : str
        What it waits for, in words; empty where it is or can be settled.
    settled : Settled or None
        What became of it.
    opened : tuple of Opened
        When it was opened before its day.
    """

    guess: Guess
    state: str
    waits: str
    settled: Settled | None
    opened: tuple[Opened, ...]

    @property
    def is_open(self) -> bool:
        """Whether its figures may be seen in a list."""
        return self.settled is not None or bool(self.opened)


@dataclass(frozen=True, slots=True)
class Unsealed:
    """A guess opened; `days_early` is 0 from its first day of settling on."""

    shown: GuessShown
    days_early: int


@dataclass(frozen=True, slots=True)
class SettledNow:
    """What settling came to: those settled now, and all others that were asked for."""

    now: tuple[GuessShown, ...]
    others: tuple[GuessShown, ...]


def seal(
    book: Book,
    zone: str,
    horizon: str = "autumn",
    programme: str = "",
    draws: int | None = None,
    *,
    kind: str = MEADOW_GRASS,
    kernel: Kernel | None = None,
    tell: Tell = lambda _: None,
) -> tuple[Guess, bool]:
    """Seal what the look-ahead foretells of a count; gives the guess, and whether it is new.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    horizon : str
        ``spring``, ``autumn`` or ``far``.
    programme : str
        The way of working it is for; empty: the way recorded so far.
    draws : int, optional
        How many draws, a multiple of 64; the setting if not given.
    kind : str
        What is counted; only annual meadow-grass is learned from counts.
    kernel : Kernel, optional
        The compiled model; loaded if not given.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    RefusedError
        Where the look-ahead may not be spoken of as next year.
    """
    _require_today(book)
    _require_horizon(horizon)
    if read_kind(kind) != MEADOW_GRASS:
        reason = f"the look-ahead of {read_kind(kind)} is general knowledge only."
        raise RefusedError(NOTHING_SEALED, reason, OWN_GUESS)
    place = book.ground().zone(zone).name
    compiled = kernel or kernel_of(book.settings, tell)
    told = foretell(book, place, horizon, programme, draws or book.settings.draws, compiled, tell)
    entries, head = diary_head(book)
    low, high = told.at80
    guess = sealed(
        Guess(
            LOOK_AHEAD, book.today, place, MEADOW_GRASS, horizon, told.horizon.day,
            told.frames.method, told.frames.places, told.frames.counter, FORETELLS,
            "a distribution given by its quantiles, straight between them", told.middle, low, high,
            LEVELS, told.quantiles, entries, head, basis=told.basis,
        )
    )  # fmt: skip
    return guess, keep_guess(book, guess)


def seal_own(
    book: Book,
    zone: str,
    who: str,
    said: tuple[float, float],
    *,
    by_plants: bool = False,
    horizon: str = "autumn",
    kind: str = MEADOW_GRASS,
) -> tuple[Guess, bool]:
    """Seal a person's own guess; it may always be sealed.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    who : str
        Who guesses.
    said : tuple of float
        Low and high end of a range that should hold the count four times in five; twice the same
        for one figure. [% or plants m⁻²]
    by_plants : bool
        Whether it is in plants; else in cover.
    horizon : str
        ``spring``, ``autumn`` or ``far``.
    kind : str
        What is counted.

    Raises
    ------
    BadInputError
        If nobody is named, or the ends are no range.
    UnknownNameError
        If there is no such zone or kind.
    """
    _require_today(book)
    _require_horizon(horizon)
    name = " ".join(who.split())
    if not name or name.casefold() == LOOK_AHEAD:
        raise BadInputError("--who", who, "the name of the person who guesses")
    low, high = _checked(said, by_plants)
    ground, wanted = book.ground(), read_kind(kind)
    place = ground.zone(zone).name
    method, places, counter = _as_counted(ground, place, wanted, by_plants)
    days = {each.key: each.day for each in horizons(book.today, ground.site.latitude)}
    entries, head = diary_head(book)
    one = low == high
    guess = sealed(
        Guess(
            name, book.today, place, wanted, horizon, days[horizon], method, places, counter,
            "the mean of the count", ONE_FIGURE if one else RANGE_MEANS, low if one else None,
            None if one else low, None if one else high, (), (), entries, head,
        )
    )  # fmt: skip
    return guess, keep_guess(book, guess)


def unseal(book: Book, name: str) -> Unsealed:
    """Open a guess; before its day that is kept.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        The beginning of its id.

    Raises
    ------
    UnknownNameError
        If no guess, or more than one, begins so.
    DamagedBookError
        If the guess is not what was sealed.
    """
    guess = _named(book, name)
    require_whole(book, {guess.id})
    early = max((window(guess)[0] - _now(book)).days, 0)
    if guess.id in read_settled(book):
        early = 0
    if early:
        keep_opened(book, Opened(guess.id, _now(book), early))
    return Unsealed(next(each for each in _shown(book) if each.guess == guess), early)


def settle(book: Book, name: str = "") -> SettledNow:
    """Settle every guess whose count has come.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        A zone, or the beginning of a guess's id; empty: all.

    Raises
    ------
    NotEnoughDataError
        If nothing was sealed.
    UnknownNameError
        If there is neither such a zone nor such a guess.
    DamagedBookError
        If a guess is not what was sealed.
    """
    ids = {each.id for each in _chosen(book, name)}
    if not ids:
        where = f" in {name}" if name else ""
        raise NotEnoughDataError("settling", f"a sealed guess{where}", "none")
    require_whole(book, ids)
    ground, (_, head) = book.ground(), diary_head(book)
    done, now = read_settled(book), set()
    for guess in _chosen(book, name):
        if guess.id not in done:
            made = settled_by_count(ground, guess, book.today, head)
            if isinstance(made, Settled) and keep_settled(book, made):
                now.add(guess.id)
    shown = [each for each in _shown(book) if each.guess.id in ids]
    return SettledNow(
        tuple(each for each in shown if each.guess.id in now),
        tuple(each for each in shown if each.guess.id not in now),
    )


def guesses(book: Book, name: str = "") -> tuple[GuessShown, ...]:
    """List every guess sealed up to the book's today, in the order sealed."""
    ids = {each.id for each in _chosen(book, name)}
    return tuple(each for each in _shown(book) if each.guess.id in ids)


def _shown(book: Book) -> tuple[GuessShown, ...]:
    ground = book.ground()
    done = {key: made for key, made in read_settled(book).items() if made.settled_on <= book.today}
    opened = read_opened(book)
    return tuple(
        _one_shown(book, ground, guess, done, opened)
        for guess in read_guesses(book)
        if guess.sealed_on <= book.today
    )


def _one_shown(
    book: Book, ground: Ground, guess: Guess, done: Mapping[str, Settled],
    opened: tuple[Opened, ...],
) -> GuessShown:  # fmt: skip
    early = tuple(
        each for each in opened if each.guess == guess.id and each.opened_on <= _now(book)
    )
    if guess.id in done:
        return GuessShown(guess, DONE, "", done[guess.id], early)
    made = settled_by_count(ground, guess, book.today, "")
    if isinstance(made, Settled):
        return GuessShown(guess, READY, "", None, early)
    state = NEVER if book.today > window(guess)[1] else WAITING
    return GuessShown(guess, state, made, None, early)


def _chosen(book: Book, name: str) -> tuple[Guess, ...]:
    """Take the guesses of a zone, or the one whose id begins so."""
    known = tuple(each for each in read_guesses(book) if each.sealed_on <= book.today)
    if not name:
        return known
    try:
        zone = book.ground().zone(name).name
    except UnknownNameError:
        if any(each.id.startswith(name.strip().casefold()) for each in known):
            return (_named(book, name),)
        raise
    return tuple(each for each in known if each.zone == zone)


def _named(book: Book, name: str) -> Guess:
    """Find a guess by the beginning of its id."""
    known = [each for each in read_guesses(book) if each.sealed_on <= book.today]
    wanted = name.strip().casefold()
    found = [each for each in known if wanted and each.id.startswith(wanted)]
    if len(found) != 1:
        raise UnknownNameError("sealed guess", name, [each.id[:8] for each in found or known])
    return found[0]


def _now(book: Book) -> date:
    """Give the day it really is: a made-up book has its own."""
    return book.today if book.is_made_up else book.written_on


def _require_today(book: Book) -> None:
    if book.today != _now(book):
        raise BadInputError(
            "--on", book.today.isoformat(), "no other day: a guess is sealed on the day it is made"
        )


def _require_horizon(horizon: str) -> None:
    if horizon not in HORIZONS:
        raise BadInputError("--for", horizon, ", ".join(HORIZONS))


def _checked(said: tuple[float, float], by_plants: bool) -> tuple[float, float]:
    low, high = said
    most = float("inf") if by_plants else 100.0
    if not 0 <= low <= high <= most or high == float("inf"):
        allowed = "plants a m², 0 or more" if by_plants else "percent, 0 to 100"
        raise BadInputError("the guess", f"{low:g} to {high:g}", f"{allowed}, the lower end first")
    return low, high


def _as_counted(
    ground: Ground, zone: str, kind: str, by_plants: bool
) -> tuple[Method, tuple[str, ...], str]:
    """Find how the kind was last counted in that unit: method, places, and who counted most."""
    fits = (Method.PLANTS,) if by_plants else (Method.POINTS, Method.BY_EYE)
    for occasion in reversed(occasions_of(ground, zone)):
        counted = treated(ground, zone, occasion)
        for method in methods_used(counted.places, kind):
            if method in fits:
                figures = place_figures(counted.places, kind, method)
                who = [each.counter for each in figures.values()]
                return method, tuple(figures), max(sorted(set(who)), key=who.count)
    return fits[0], (), ""
