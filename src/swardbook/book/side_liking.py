"""What visitors chose among the mixtures of a trial: opinion, apart from what was counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from swardbook.book.open_day_guesses import OTHER, QUESTIONS, guesses_kept
from swardbook.book.opening import Book


@dataclass(frozen=True, slots=True)
class Liking:
    """What visitors chose on one day; how many of them, and nothing else.

    Parameters
    ----------
    day : date
        The day.
    question : str
        What they were asked, such as ``darkest``.
    chosen : mapping of str to int
        Mixture to how many chose it; ``other`` for the rest.
    """

    day: date
    question: str
    chosen: Mapping[str, int]

    @property
    def people(self) -> int:
        """How many chose."""
        return sum(self.chosen.values())

    @property
    def favourites(self) -> tuple[str, ...]:
        """The mixtures that most chose."""
        own = {name: number for name, number in self.chosen.items() if name != OTHER}
        most = max(own.values(), default=0)
        return tuple(sorted(name for name, number in own.items() if number == most > 0))


def likings_of(book: Book, zone: str) -> tuple[Liking, ...]:
    """Give what visitors chose in a trial, the last time each question was asked.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial.
    """
    found = []
    for key in QUESTIONS:
        day, chosen = guesses_kept(book, zone, key)
        if day is not None:
            found.append(Liking(day, key, chosen))
    return tuple(found)
