"""Keep an answer in the diary, and find the last one kept: what turns a sum into a record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from uuid import UUID

from swardbook.book.diary import read_past, write
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.kept_facts import facts_under
from swardbook.husbandry.worked_out import WorkedOut


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer that may be kept.

    Parameters
    ----------
    about : str
        The name of the question.
    words : str
        The answer in one line.
    given : mapping of str to str
        What went in, as it was said.
    found : mapping of str to float
        What came out; each name ends in its unit. [unit in the name]
    named : mapping of str to str
        What came out in words.
    """

    about: str
    words: str
    given: Mapping[str, str] = field(default_factory=dict)
    found: Mapping[str, float] = field(default_factory=dict)
    named: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class KeptAnswer:
    """An answer that stands in the diary, and when it was worked out."""

    day: date
    answer: WorkedOut


def keep_answer(
    book: Book, answer: Answer, *, zone: str = "", when: str = "today", who: str = "",
    note: str = "", id: UUID | None = None,  # noqa: A002
) -> DiaryEntry:  # fmt: skip
    """Keep an answer in the diary, tied to a zone or to the whole site.

    Parameters
    ----------
    book : Book
        The book.
    answer : Answer
        What was worked out; what was not said is left out of `given`.
    zone : str
        The zone it holds for; none for the whole site.
    when : str
        The day it holds from.
    who, note : str
        Who worked it out, and anything else.
    id : UUID or None
        Made on the device that wrote it; None makes one.

    Returns
    -------
    DiaryEntry
        The entry; the last one about a question in a zone is the one that is used.

    Raises
    ------
    BadInputError
        If a number is not finite.
    UnknownNameError
        If the book has no such zone.
    """
    if zone:
        zone = book.ground().zone(zone).name
    what = WorkedOut(
        answer.about,
        answer.words,
        {name: words for name, words in answer.given.items() if words},
        dict(answer.found),
        dict(answer.named),
    )
    what = replace(what, rests_on=facts_under(book.ground(), zone, what))
    return write(book, what, read_past(when, book.today), zone=zone, who=who, note=note, id=id)


def last_answer(ground: Ground, about: str, zone: str = "") -> KeptAnswer | None:
    """Find the last answer kept to a question, in a zone or else for the whole site.

    The diary stands in the order in which things happened, so a later day wins, then a later entry.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
    about : str
        The name of the question.
    zone : str
        The zone; an answer kept for the whole site holds where the zone has none.
    """
    kept = [
        entry
        for entry in ground.diary
        if isinstance(entry.what, WorkedOut) and entry.what.about == about
    ]
    for place in dict.fromkeys((zone, "")):
        here = [entry for entry in kept if entry.zone == place]
        if here:
            last = here[-1]
            assert isinstance(last.what, WorkedOut)
            return KeptAnswer(last.day, last.what)
    return None


def require_answer(ground: Ground, about: str, zone: str, command: str) -> KeptAnswer:
    """Give the last answer kept to a question.

    Raises
    ------
    BadInputError
        If none is kept; says the command that keeps one.
    """
    found = last_answer(ground, about, zone)
    if found is None:
        raise BadInputError(about, "nothing kept", f"an answer kept with `{command} --keep`")
    return found
