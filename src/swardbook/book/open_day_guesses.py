"""Guesses of an audience: what is asked, and how many guessed what; numbers and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from swardbook.book.opening import Book
from swardbook.book.trial_kept import trial_zone
from swardbook.book.worked_out import Answer, keep_answer
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.worked_out import WorkedOut

QUESTIONS: Mapping[str, tuple[str, str]] = {
    "darkest": ("colour", "Which is the darkest?"),
    "finest": ("fineness", "Which has the finest leaves?"),
    "fewest weeds": (ANNUAL_MEADOW_GRASS, "Which has the fewest weeds?"),
}
"""What an audience guesses: the trait that answers it, and how it is asked."""
ABOUT = "open day guesses"
OTHER = "other"
_ENDING = "_guesses"


def keep_guesses(
    book: Book, zone: str, question: str, guesses: Mapping[str, int], when: str = "today"
) -> DiaryEntry:
    """Write down how many of the audience guessed each mixture; numbers alone are kept.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial; empty for the only one.
    question : str
        One of `QUESTIONS`.
    guesses : mapping of str to int
        Mixture to guesses; ``other`` for the rest.
    when : str
        The day.

    Raises
    ------
    UnknownNameError
        If a mixture or the question is unknown.
    BadInputError
        If there is no guess, or fewer than none.
    """
    checked = check_guesses(book, zone, question, guesses)
    key = question_of(question)
    found = {f"{mixture}{_ENDING}": float(number) for mixture, number in checked.items()}
    words = f"{key}: {sum(checked.values())} guesses"
    answer = Answer(ABOUT, words, {}, found, {"question": key})
    return keep_answer(book, answer, zone=trial_zone(book, zone), when=when)


def check_guesses(
    book: Book, zone: str, question: str, guesses: Mapping[str, int]
) -> dict[str, int]:
    """Call each guessed mixture as the book does.

    Raises
    ------
    UnknownNameError
        If a mixture or the question is unknown.
    BadInputError
        If there is no guess, or fewer than none.
    """
    name, _ = trial_zone(book, zone), question_of(question)
    found: dict[str, int] = {}
    for typed, number in guesses.items():
        if number < 0:
            raise BadInputError("guesses", f"{typed}={number}", "a number from 0 up")
        mixture = _mixture(book, name, typed)
        found[mixture] = found.get(mixture, 0) + number
    if not sum(found.values()):
        raise BadInputError("guesses", "none", "at least one, such as Gatepost=31")
    return found


def question_of(word: str) -> str:
    """Read which question is meant.

    Raises
    ------
    UnknownNameError
        If there is no such question.
    """
    key = word.strip().casefold()
    if key not in QUESTIONS:
        raise UnknownNameError("question", word, list(QUESTIONS))
    return key


def mixtures_of(book: Book, zone: str) -> tuple[str, ...]:
    """List what stands in a trial, by the alphabet."""
    return tuple(sorted({plot.mixture for plot in book.ground().plots if plot.zone == zone}))


def _mixture(book: Book, zone: str, typed: str) -> str:
    names = (*mixtures_of(book, zone), OTHER)
    for name in names:
        if name.casefold() == typed.strip().casefold():
            return name
    raise UnknownNameError("mixture", typed, list(names))


def guesses_kept(book: Book, zone: str, key: str) -> tuple[date | None, dict[str, int]]:
    """Give the last guesses written down to a question, and their day."""
    for entry in reversed(book.ground().entries(zone)):
        what = entry.what
        if isinstance(what, WorkedOut) and what.about == ABOUT and what.named["question"] == key:
            held = {name.removesuffix(_ENDING): round(n) for name, n in what.found.items()}
            return entry.day, held
    return None, {}
