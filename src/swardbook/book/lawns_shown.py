"""The list of all lawns, narrowed down and parted into pages."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from math import ceil

from swardbook.book.all_lawns import AllLawns, Lawn

PER_PAGE = 50
NOTHING_DUE, NOBODY = "nothing due", "nobody"


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that the list can be narrowed to, and how many lawns it leaves."""

    word: str
    lawns: int


@dataclass(frozen=True, slots=True)
class ShownLawns:
    """A page of lawns, that which most needs a look first.

    Parameters
    ----------
    lawns : tuple of Lawn
        Those on the page.
    found, of : int
        How many fit, and how many there are.
    page, pages : int
        Which page of how many, from 1.
    stages, people, dues : tuple of Choice
        What the list can be narrowed to.
    """

    lawns: tuple[Lawn, ...]
    found: int
    of: int
    page: int
    pages: int
    stages: tuple[Choice, ...]
    people: tuple[Choice, ...]
    dues: tuple[Choice, ...]

    @property
    def first(self) -> int:
        """The place of the first lawn shown, from 1; 0 where none is."""
        return (self.page - 1) * PER_PAGE + 1 if self.lawns else 0

    @property
    def last(self) -> int:
        """The place of the last lawn shown."""
        return self.first + len(self.lawns) - 1 if self.lawns else 0


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What the list is narrowed to; empty is everything.

    Parameters
    ----------
    word : str
        A word of name, stage, person or next thing.
    stage, who, due : str
        A stage, who comes, and the next thing due.
    """

    word: str = ""
    stage: str = ""
    who: str = ""
    due: str = ""


def shown_lawns(
    found: AllLawns, narrowed: Narrowed, page: int = 1, among: Collection[str] | None = None
) -> ShownLawns:
    """Narrow all lawns down and give one page of them; the order stays.

    Parameters
    ----------
    found : AllLawns
        All lawns, in order.
    narrowed : Narrowed
        What is wanted.
    page : int
        Which page; one beyond the last gives the last.
    among : collection of str or None
        Those that whoever asks may see, by short name; None: all.
    """
    mine = [each for each in found.lawns if among is None or each.slug in among]
    fitting = [each for each in mine if _fits(each, narrowed)]
    pages = max(ceil(len(fitting) / PER_PAGE), 1)
    page = min(max(page, 1), pages)
    part = tuple(fitting[(page - 1) * PER_PAGE : page * PER_PAGE])
    return ShownLawns(
        part, len(fitting), len(mine), page, pages,
        _choices(mine, lambda each: each.stages),
        _choices(mine, lambda each: (each.who or NOBODY,)),
        _choices(mine, lambda each: (each.next_due or NOTHING_DUE,)),
    )  # fmt: skip


def _fits(lawn: Lawn, narrowed: Narrowed) -> bool:
    word = narrowed.word.strip().casefold()
    told = f"{lawn.name} {lawn.slug} {' '.join(lawn.stages)} {lawn.who} {lawn.next_due}".casefold()
    wanted = (
        (narrowed.stage, lawn.stages),
        (narrowed.who, (lawn.who or NOBODY,)),
        (narrowed.due, (lawn.next_due or NOTHING_DUE,)),
    )
    return word in told and all(
        not said or said.casefold() in {each.casefold() for each in there} for said, there in wanted
    )


def _choices(lawns: Sequence[Lawn], words: Callable[[Lawn], tuple[str, ...]]) -> tuple[Choice, ...]:
    counted = Counter(word for each in lawns for word in words(each))
    ordered = sorted(counted.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(Choice(word, many) for word, many in ordered)
