"""Guesses of an audience: what is asked, and how many guessed what; numbers and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from uuid import UUID

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
SENT_AS = "guesses"
"""The kind under which a phone sends them."""
QUESTION = "question"
OTHER = "other"
_MOST_DIGITS = 6
_ENDING = "_guesses"


def keep_guesses(
    book: Book, zone: str, question: str, guesses: Mapping[str, int], when: str = "today",
    id: UUID | None = None,  # noqa: A002
) -> DiaryEntry:  # fmt: skip
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
    id : UUID or None
        Made on the device that wrote it; None makes one.

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
    return keep_answer(book, answer, zone=trial_zone(book, zone), when=when, id=id)


def keep_sent_guesses(
    book: Book, zone: str, fields: Mapping[str, str], when: str, made: UUID,
    there: DiaryEntry | None,
) -> DiaryEntry:  # fmt: skip
    """Write down guesses that were counted without signal; those that came before stay as they are.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial; empty for the only one.
    fields : mapping of str to str
        The question, and under each mixture's name how many guessed it.
    when : str
        The day.
    made : UUID
        Made on the device that wrote it.
    there : DiaryEntry or None
        What came under that id before.

    Raises
    ------
    UnknownNameError
        If a mixture or the question is unknown.
    BadInputError
        If a number is none, or there is no guess.
    """
    typed = dict(fields)
    key = question_of(typed.pop(QUESTION, ""))
    found = check_guesses(book, zone, key, {name: _count(name, n) for name, n in typed.items()})
    if there is not None and _guesses_in(there, key) == found:
        return there
    return keep_guesses(book, zone, key, found, when, made)


def _count(name: str, typed: str) -> int:
    if not typed.strip().isdecimal() or len(typed) > _MOST_DIGITS:
        raise BadInputError(name, typed, "a number of guesses, from 0 up")
    return int(typed)


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
        if held := _guesses_in(entry, key):
            return entry.day, held
    return None, {}


def _guesses_in(entry: DiaryEntry, key: str) -> dict[str, int]:
    what = entry.what
    if isinstance(what, WorkedOut) and what.about == ABOUT and what.named["question"] == key:
        return {name.removesuffix(_ENDING): round(n) for name, n in what.found.items()}
    return {}
