"""Strips or squares, treated and not, set out so that the ground tells what a job does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from swardbook.evidence import places_to_show
from swardbook.evidence.telling_apart import numbers_to_tell_apart
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value

ALONG, ACROSS, SQUARES = "strips along the long side", "strips across it", "squares"
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Piece:
    """One strip or square of a trial.

    Parameters
    ----------
    name : str
        Its name, which does not say whether it is treated.
    pair : int
        Its pair, from 1.
    is_treated : bool
        Whether it is treated.
    corner_m, size_m : tuple of float
        Near corner and size, along the long side and across it. [m]
    """

    name: str
    pair: int
    is_treated: bool
    corner_m: tuple[float, float]
    size_m: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Shows:
    """What a set-out can show.

    Parameters
    ----------
    pairs : int
        Pairs there are.
    difference, spread : float
        Difference of cover that it is set out for, and the spread within pairs that was taken.
        [points]
    pairs_wanted : int
        Pairs that would usually show it.
    tufts : int
        Tufts to flag on each side, were they to be told apart by their share with heads.
    tufts_a_piece : int
        The same on each strip or square.
    share_untreated, share_treated : float
        Shares of tufts with heads that it is reckoned for. [-]
    """

    pairs: int
    difference: float
    spread: float
    pairs_wanted: int
    tufts: int
    tufts_a_piece: int
    share_untreated: float
    share_treated: float

    @property
    def is_enough(self) -> bool:
        """Whether the pairs would usually show the difference."""
        return self.pairs >= self.pairs_wanted


@dataclass(frozen=True, slots=True)
class SetOut:
    """A trial set out on an oblong.

    Parameters
    ----------
    way : str
        Strips along or across, or squares.
    pieces : tuple of Piece
        The strips or squares, pair by pair.
    sides_m : tuple of float
        Long and short side of the oblong. [m]
    width_m : float
        Width of a strip, or side of a square. [m]
    fits : int
        Pairs there would be room for.
    """

    way: str
    pieces: tuple[Piece, ...]
    sides_m: tuple[float, float]
    width_m: float
    fits: int

    @property
    def treated(self) -> tuple[str, ...]:
        """Names of the treated ones, pair by pair."""
        return tuple(each.name for each in self.pieces if each.is_treated)

    @property
    def untreated(self) -> tuple[str, ...]:
        """Names of the others, pair by pair."""
        return tuple(each.name for each in self.pieces if not each.is_treated)


def set_out(
    sides_m: tuple[float, float], width_m: float, overlap_m: float, coins: Sequence[bool],
    way: str = "", letter: str = "S",
) -> SetOut:  # fmt: skip
    """Set out pairs of treated and untreated strips, or squares where lines have to cross.

    Parameters
    ----------
    sides_m : tuple of float
        Long and short side of the ground. [m]
    width_m, overlap_m : float
        Width that the machine works, and its overlap. [m]
    coins : sequence of bool
        One toss a pair: whether its first piece is the treated one.
    way : str
        Strips along, strips across or squares; empty takes the first that has room.
    letter : str
        What names begin with.

    Raises
    ------
    BadInputError
        If there is no room, or no such way.
    """
    ways = (ALONG, ACROSS, SQUARES)
    if way and way not in ways:
        raise BadInputError("the set-out", way, ", ".join(ways))
    passes = value("verticut.trial_strip_passes")
    strip = passes * width_m - (passes - 1) * overlap_m
    rooms = {each: _room(each, sides_m, strip) for each in ((way,) if way else ways)}
    chosen = next((each for each in rooms if rooms[each] >= len(coins)), "")
    if not chosen:
        best = max(rooms, key=lambda each: rooms[each])
        raise BadInputError(
            "the pairs", len(coins), f"at most {rooms[best]} here ({best})",
            "Take fewer pairs, or a part of ground that has more room.",
        )  # fmt: skip
    size = value("strip_square_side") if chosen == SQUARES else strip
    pieces = [
        Piece(f"{letter}{pair}{'ab'[n]}", pair, coin == (n == 0), *_place(chosen, sides_m, size,
              2 * (pair - 1) + n))
        for pair, coin in enumerate(coins, 1) for n in (0, 1)
    ]  # fmt: skip
    return SetOut(chosen, tuple(pieces), sides_m, size, rooms[chosen])


def laid_again(
    way: str, sides_m: tuple[float, float], width_m: float, pairs: int, treated: Sequence[str]
) -> tuple[Piece, ...]:
    """Lay the pieces of a kept set-out again.

    Parameters
    ----------
    way : str
        As kept.
    sides_m : tuple of float
        Long and short side of the ground. [m]
    width_m : float
        Width of a strip, or side of a square. [m]
    pairs : int
        How many pairs.
    treated : sequence of str
        Names of the treated ones, pair by pair.
    """
    letter = treated[0].rstrip("ab").rstrip("0123456789") if treated else "S"
    names = [(f"{letter}{pair}{'ab'[n]}", pair, 2 * (pair - 1) + n)
             for pair in range(1, pairs + 1) for n in (0, 1)]  # fmt: skip
    return tuple(
        Piece(name, pair, name in treated, *_place(way, sides_m, width_m, number))
        for name, pair, number in names
    )


def what_it_shows(
    pairs: int, difference: float, spread: float | None, shares: tuple[float, float]
) -> Shows:
    """Tell what so many pairs can show, and how many tufts to flag.

    Parameters
    ----------
    pairs : int
        Pairs of strips or squares.
    difference : float
        Difference of cover to be shown. [points]
    spread : float or None
        Standard deviation of the differences within pairs; None takes the usual. [points]
    shares : tuple of float
        Shares of tufts with heads, untreated and treated, that are to be told apart. [-]
    """
    require("difference", difference, 0.1, 100, "points")
    usual = value("verticut.trial_spread")
    spread = require("spread", usual if spread is None else spread, 0.1, 100, "points")
    power = value("verticut.trial_power")
    tufts = numbers_to_tell_apart(*shares, power=power)
    wanted = max(
        places_to_show(spread, difference, power=power), round(value("compare_strips_least"))
    )
    return Shows(pairs, difference, spread, wanted, tufts, -(-tufts // pairs), *shares)


def _room(way: str, sides: tuple[float, float], strip: float) -> int:
    """Pairs there is room for; strips too short to turn on their ends count for none."""
    long, short = sides
    if way == SQUARES:
        side = value("strip_square_side")
        return floor(long / side + _SLACK) * floor(short / side + _SLACK) // 2
    length, across = (long, short) if way == ALONG else (short, long)
    if length < value("verticut.trial_strip_least_m"):
        return 0
    return floor(across / strip + _SLACK) // 2


def _place(
    way: str, sides: tuple[float, float], size: float, number: int
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Corner and size of a piece; squares are counted to and fro, so that pairs are neighbours."""
    long, short = sides
    if way == ALONG:
        return (0.0, number * size), (long, size)
    if way == ACROSS:
        return (number * size, 0.0), (size, short)
    columns = floor(long / size + _SLACK)
    row, column = divmod(number, columns)
    column = column if row % 2 == 0 else columns - 1 - column
    return (column * size, row * size), (size, size)
