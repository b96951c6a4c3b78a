"""Sealed guesses as values, and how they are kept: each once, as it was, for ever."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from math import isfinite, nan
from typing import Any

from swardbook import __version__
from swardbook.book.opening import Book
from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import BadInputError, DamagedBookError
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.observations.counts import Method
from swardbook.observations.estimating import UNITS
from swardbook.records.chain import FIRST, canonical
from swardbook.records.guard import REMEDY

GUESS = "sealed guess"
SETTLED = "settled guess"
OPENED = "guess opened early"
LOOK_AHEAD = "the look-ahead"
"""Who guesses, where it is no person."""
LEVEL = 0.8
"""Share of ranges that should hold what is found. [-]"""
RANGE_MEANS = (
    "a normal distribution with a tenth below the range and a tenth above it; below 0 counts as 0"
)
ONE_FIGURE = "one figure; its score is how far off it was"


@dataclass(frozen=True, slots=True)
class Basis:
    """What a guess of the look-ahead rests on.

    Parameters
    ----------
    label : str
        The look-ahead's own label.
    programme : mapping of str to str
        Key, name and numbers of the way of working it is for.
    draws : int
        How many draws.
    effective_draws : float
        Fewest effective draws that the counts left. [-]
    kernel : str
        Fingerprint of model and machine.
    weather_name : str
        Name of the weather in use.
    weather_first, weather_last : date
        Its first day, and the last that was read.
    weather_fingerprint : str
        Checksum of what was read.
    past_years : tuple of int
        Past years that stand for the weather ahead.
    placements : tuple of str
        Frames of the count that is foretold: place and size of each.
    """

    label: str
    programme: Mapping[str, str]
    draws: int
    effective_draws: float
    kernel: str
    weather_name: str
    weather_first: date
    weather_last: date
    weather_fingerprint: str
    past_years: tuple[int, ...]
    placements: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Guess:
    """One sealed guess of what a count will find.

    Parameters
    ----------
    who : str
        A person, or the look-ahead.
    sealed_on : date
        The day it was sealed.
    zone, kind : str
        Where, and what.
    horizon : str
        ``spring``, ``autumn`` or ``far``.
    day : date
        The day it is for; a count of the same season settles it.
    method : Method
        How it is to be counted.
    places : tuple of str
        Places that are to be counted again; empty where none were counted yet.
    counter : str
        Who counted last.
    foretells : str
        What is foretold, in words.
    means : str
        What distribution the guess stands for.
    middle, low, high : float or None
        The figure, and the ends of the 80 % range, where given. [% or plants m⁻²]
    levels, quantiles : tuple of float
        The distribution, straight between quantiles; empty for a person's. [-], [unit of `middle`]
    diary_entries : int
        Entries in the diary when it was sealed.
    diary_head : str
        Checksum of the last of them, which covers all before it.
    version : str
        Version of swardbook.
    basis : Basis or None
        What it rests on; None for a person's.
    id : str
        Checksum of all the rest.
    """

    who: str
    sealed_on: date
    zone: str
    kind: str
    horizon: str
    day: date
    method: Method
    places: tuple[str, ...]
    counter: str
    foretells: str
    means: str
    middle: float | None
    low: float | None
    high: float | None
    levels: tuple[float, ...]
    quantiles: tuple[float, ...]
    diary_entries: int
    diary_head: str
    version: str = __version__
    basis: Basis | None = None
    id: str = ""

    @property
    def is_own(self) -> bool:
        """Whether a person guessed, not the look-ahead."""
        return self.who != LOOK_AHEAD

    @property
    def unit(self) -> str:
        """``%`` or ``plants/m2``."""
        return UNITS[self.method]

    @property
    def range80(self) -> Interval | None:
        """The 80 % range; None where one figure was given."""
        if self.low is None or self.high is None:
            return None
        return Interval(self.low, self.high)


@dataclass(frozen=True, slots=True)
class Settled:
    """What became of a guess; kept beside it, never in its place.

    Parameters
    ----------
    guess : str
        Id of the guess.
    settled_on, counted_on : date
        The day it was settled, and the day of the count.
    found : float
        Mean over the places. [unit of the guess]
    places : int
        How many places.
    counters : tuple of str
        Who counted.
    inside : bool or None
        Whether it lay in the 80 % range; None where one figure was given.
    crps : float
        Continuous ranked probability score: how far off, 0 is perfect. [unit of the guess]
    interval_score : float or None
        Score of the range; None where there is none. [unit of the guess]
    place : float or None
        Share of the distribution below what was found; None where one figure was given. [-]
    diary_head : str
        Checksum of the diary's last entry then.
    beside : tuple of str
        What has to be said beside it.
    """

    guess: str
    settled_on: date
    counted_on: date
    found: float
    places: int
    counters: tuple[str, ...]
    inside: bool | None
    crps: float
    interval_score: float | None
    place: float | None
    diary_head: str
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Opened:
    """A guess that was opened before its day."""

    guess: str
    opened_on: date
    days_early: int


def read_said(option: str, text: str) -> tuple[float, float]:
    """Read a range such as ``8-14`` or ``8 to 14 %``, or one figure, as its two ends.

    Raises
    ------
    BadInputError
        If it is neither.
    """
    plain = text.strip().removesuffix("%").strip()
    ends = [each.strip().removesuffix("%").strip() for each in re.split(r"-|–|\bto\b", plain)]
    try:
        low, high = (float(ends[0]), float(ends[-1])) if len(ends) in (1, 2) else (nan, nan)
    except ValueError:
        low = high = nan
    if not isfinite(low + high):
        raise BadInputError(option, text, "a range such as 8-14, or one figure such as 12")
    return low, high


def sealed(guess: Guess) -> Guess:
    """Give a guess its id: the checksum of all that it says."""
    return replace(guess, id=_id_of(to_plain(guess)))


def _id_of(plain: Mapping[str, Any]) -> str:
    said = {key: held for key, held in plain.items() if key != "id"}
    return sha256(canonical(said).encode()).hexdigest()[:16]


def require_whole(book: Book, ids: Collection[str]) -> None:
    """Require that guesses are what was sealed: their ids and the book's checksums hold.

    Raises
    ------
    DamagedBookError
        If one is not; names it.
    """
    found = {damage.entry: damage.found for damage in book.store.check()}
    altered = "its id and what it says do not agree"
    found |= {name: altered for name, plain in book.store.kept(GUESS) if _id_of(plain) != name}
    for name in sorted(set(ids) & set(found)):
        raise DamagedBookError(f"The sealed guess {name}", found[name], REMEDY)


def keep_guess(book: Book, guess: Guess) -> bool:
    """Keep a guess; tells whether it is new, for the same one is kept once."""
    with book.store.together():
        if any(name == guess.id for name, _ in book.store.kept(GUESS)):
            return False
        book.store.keep(GUESS, guess.id, to_plain(guess))
    return True


def keep_settled(book: Book, made: Settled) -> bool:
    """Keep what became of a guess; tells whether it is new, for a guess is settled once."""
    with book.store.together():
        if any(name == made.guess for name, _ in book.store.kept(SETTLED)):
            return False
        book.store.keep(SETTLED, made.guess, to_plain(made))
    return True


def keep_opened(book: Book, opened: Opened) -> None:
    """Keep that a guess was opened before its day; once for each day."""
    with book.store.together():
        if opened not in read_opened(book):
            book.store.keep(OPENED, opened.guess, to_plain(opened))


def read_guesses(book: Book) -> tuple[Guess, ...]:
    """Read every guess ever sealed, in the order sealed."""
    kept = book.store.kept(GUESS)
    return tuple(from_plain(Guess, plain, f"the sealed guess {name}") for name, plain in kept)


def read_settled(book: Book) -> Mapping[str, Settled]:
    """Read what became of guesses, by the guess's id."""
    kept = book.store.kept(SETTLED)
    return {name: from_plain(Settled, plain, f"the settled guess {name}") for name, plain in kept}


def read_opened(book: Book) -> tuple[Opened, ...]:
    """Read which guesses were opened before their day."""
    kept = book.store.kept(OPENED)
    return tuple(from_plain(Opened, plain, f"an opening of {name}") for name, plain in kept)


def diary_head(book: Book) -> tuple[int, str]:
    """Give how many entries the diary has, and the checksum of the last."""
    chain = book.store.chain()
    return len(chain), chain[-1].checksum if chain else FIRST
