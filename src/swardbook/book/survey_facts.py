"""What one look or measurement of a survey says, and how it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from swardbook.book.diary import read_past, write
from swardbook.book.opening import Book
from swardbook.book.worked_out import Answer, keep_answer, last_answer
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Reading

AREA, SHADE, SLOPE, JAR, WEAR = "area", "shade", "slope", "jar texture", "wear"
TAP = "tap"
"""Names of the questions that a survey keeps an answer to."""
_WHERE = {"at", "by", "in", "near", "on", "through", "under", "along", "beside", "behind"}


@dataclass(frozen=True, slots=True)
class SurveyFact:
    """What one look or measurement says.

    Parameters
    ----------
    about : str
        The name of the question.
    words : str
        The answer in one line.
    notes : tuple of str
        How far to trust it, and what is odd.
    given : mapping of str to str
        What went in, as it was said.
    found : mapping of str to float
        What came out; each name ends in its unit. [unit in the name]
    named : mapping of str to str
        What came out in words.
    readings : tuple of Reading
        What was measured, one by one, so that a history exists.
    place : str
        Where in the zone; stands with each reading.
    rows : tuple of mapping
        A table, where there is one.
    """

    about: str
    words: str
    notes: tuple[str, ...] = ()
    given: Mapping[str, str] = field(default_factory=dict)
    found: Mapping[str, float] = field(default_factory=dict)
    named: Mapping[str, str] = field(default_factory=dict)
    readings: tuple[Reading, ...] = ()
    place: str = ""
    rows: tuple[Mapping[str, Any], ...] = ()

    @property
    def answer(self) -> Answer:
        """The answer as the diary keeps it."""
        return Answer(self.about, self.words, self.given, self.found, self.named)


def at_place(place: str) -> str:
    """Say where in a zone, behind a word: `` at the south end``, `` by the old wall``."""
    words = place.strip()
    if not words:
        return ""
    return f" {words}" if words.split()[0].casefold() in _WHERE else f" at the {words}"


@dataclass(frozen=True, slots=True)
class FactKept:
    """What became of a fact that was kept.

    Parameters
    ----------
    entries : tuple of DiaryEntry
        Each reading, and last the answer.
    changed : tuple of str
        What the plan goes by from now on, in words; empty if nothing changed.
    """

    entries: tuple[DiaryEntry, ...]
    changed: tuple[str, ...]


def keep_fact(
    book: Book, fact: SurveyFact, *, zone: str = "", when: str = "today", who: str = "",
    note: str = "",
) -> FactKept:  # fmt: skip
    """Keep what was measured in the diary: each reading, and the answer drawn from them.

    Hours of sun and water at the tap replace what was told when the zone or site was added, so that
    the plan goes by them; the old figure stays in the diary. An area or a texture that differs is
    only asked about: both change far more.

    Parameters
    ----------
    book : Book
        The opened book.
    fact : SurveyFact
        What was found.
    zone : str
        The zone; empty for the whole site.
    when : str
        The day it was measured.
    who, note : str
        Who measured, and anything else.

    Returns
    -------
    FactKept
        The entries, all written or none, and what changed for the plan.
    """
    name = book.ground().zone(zone).name if zone else ""
    day = read_past(when, book.today)
    said = ". ".join(part.strip().rstrip(".") for part in (fact.place, note) if part.strip())
    with book.store.together():
        kept = [
            write(book, each, day, zone=name, who=who, note=f"{said}." if said else "")
            for each in fact.readings
        ]
        kept.append(keep_answer(book, fact.answer, zone=name, when=when, who=who, note=note))
        last = last_answer(book.ground(), fact.about, name)
        is_latest = last is not None and last.answer.words == fact.words
        changed = _for_the_plan(book, fact, name, day.day, who) if is_latest else ()
    return FactKept(tuple(kept), changed)


def _for_the_plan(book: Book, fact: SurveyFact, zone: str, day: date, who: str) -> tuple[str, ...]:
    ground = book.ground()
    about = {"on": day, "who": who, "reason": "Survey."}
    if fact.about == SHADE and zone:
        held, hours = ground.zone(zone), round(fact.found["sun_hours"], 1)
        if held.sun_hours == hours:
            return ()
        book.store.save_zone(replace(held, sun_hours=hours), **about)
        return (f"The plan goes by {hours:g} h of sun in {held.name} from now on.",)
    if fact.about == TAP:
        rate = round(fact.found["tap_l_min"], 2)
        if ground.site.hose_l_min == rate:
            return ()
        book.store.save_site(replace(ground.site, hose_l_min=rate), **about)
        return (f"The plan goes by {rate:g} L/min at the tap from now on.",)
    return ()
