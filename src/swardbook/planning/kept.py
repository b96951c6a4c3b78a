"""Kept answers of a zone: which are in use, which have aged or are done with, and what they say."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from swardbook.handbook.kept_answers import KeptQuestion, kept_questions
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.kept_facts import changed_facts, facts_then, facts_under
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.feed_year import feed_year, what_is_due
from swardbook.planning.feeding import PLAN as FEED_PLAN
from swardbook.planning.feeding import feed_year_start
from swardbook.planning.kept_route import next_job
from swardbook.planning.situation import Situation
from swardbook.planning.sowing import Answer

WHEN_TO_SOW, WATER_PLAN, NEXT_CUT, ROUTE = "when to sow", "water plan", "next cut", "route"
VERTICUT_PLAN = "verticut plan"


class KeptState(StrEnum):
    """How a kept answer stands."""

    IN_USE = "in use"
    AGED = "aged"
    PAST = "past"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class Kept:
    """The last kept answer to one question in a zone.

    Parameters
    ----------
    question : KeptQuestion
        The question, and what its answer is used for.
    entry : DiaryEntry
        The diary entry.
    what : WorkedOut
        The answer.
    state : KeptState
        How it stands.
    changed : tuple of str
        Facts it rests on that changed since, in words.
    ended : str
        What ended it: the work done since, or its days that are over.
    """

    question: KeptQuestion
    entry: DiaryEntry
    what: WorkedOut
    state: KeptState
    changed: tuple[str, ...] = ()
    ended: str = ""

    @property
    def day(self) -> date:
        """The day it was kept for."""
        return self.entry.day

    @property
    def is_in_use(self) -> bool:
        """Whether the plan goes by it."""
        return self.state is KeptState.IN_USE

    @property
    def kept_on(self) -> str:
        """When it was kept, in words."""
        return f"kept on {short_day(self.day)}"

    @property
    def again(self) -> str:
        """The command that works it out again."""
        zone = f" --zone {shlex.quote(self.entry.zone)}" if self.entry.zone else ""
        return f"swardbook {self.question.command}{zone} --keep"


def short_day(day: date) -> str:
    """Write a day and its month, as said aloud."""
    return f"{day.day} {day:%B}"


def kept_answers(sit: Situation) -> tuple[Kept, ...]:
    """List the last kept answer to each question of a zone, the zone's own before the site's.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    """
    last: dict[str, DiaryEntry] = {}
    for entry in sit.ground.entries(sit.zone.name):
        if isinstance(entry.what, WorkedOut) and entry.what.about in kept_questions():
            held = last.get(entry.what.about)
            if held is None or entry.zone or not held.zone:
                last[entry.what.about] = entry
    return tuple(_judged(sit, entry) for entry in last.values())


def kept_answer(sit: Situation, about: str) -> Kept | None:
    """Find the last kept answer to one question of a zone; None where there is none."""
    return next((each for each in kept_answers(sit) if each.what.about == about), None)


def kept_words(sit: Situation, kept: Kept) -> str:
    """Say what a kept answer tells the plan today; that it has aged, with what changed.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    kept : Kept
        The answer.
    """
    if kept.state is KeptState.AGED:
        about = kept.what.about
        return (
            f"{about[0].upper()}{about[1:]} {kept.kept_on} has aged: {'; '.join(kept.changed)}."
            f" Again: {kept.again}"
        )
    words = _WORDS.get(kept.what.about)
    if words is not None:
        return words(sit, kept)
    about, told = kept.what.about, kept.what.words.rstrip(".")
    return f"{about[0].upper()}{about[1:]}: {told}; {kept.kept_on}."


def sowing_span(kept: Kept) -> tuple[date, date] | None:
    """Give the first and last day of the sowings that a kept answer says to go with."""
    days = sorted(
        day for text, answer in kept.what.named.items()
        if answer == Answer.GO.value and (day := _iso(text)) is not None
    )  # fmt: skip
    return (days[0], days[-1]) if days else None


def watering_days(kept: Kept) -> tuple[tuple[date, str], ...]:
    """Give the days of a kept plan of watering, each with what is given."""
    found = [(day, told) for text, told in kept.what.named.items() if (day := _iso(text))]
    return tuple(sorted(found))


def cut_day(kept: Kept) -> date | None:
    """Give the day of a kept plan of a cut; None where it asked for none yet."""
    return _iso(kept.what.named.get("cut on", ""))


def span_words(first: date, last: date) -> str:
    """Say a span of days, the month once where it is one."""
    if first == last:
        return f"on {short_day(first)}"
    begin = f"{first.day}" if first.month == last.month else short_day(first)
    return f"from {begin} to {short_day(last)}"


def _judged(sit: Situation, entry: DiaryEntry) -> Kept:
    what = entry.what
    assert isinstance(what, WorkedOut)
    question = kept_questions()[what.about]
    if ended := _done(sit, entry, question):
        return Kept(question, entry, what, KeptState.DONE, (), ended)
    plain = Kept(question, entry, what, KeptState.IN_USE)
    if ended := _past(sit, plain):
        return Kept(question, entry, what, KeptState.PAST, (), ended)
    now = facts_under(sit.ground, entry.zone, what)
    changed = changed_facts(facts_then(sit.ground, entry.zone, entry), now)
    if not changed and question.rests_on and sit.age(entry.day) > value("kept_most_days"):
        changed = (f"{sit.age(entry.day)} days have passed",)
    if changed:
        return Kept(question, entry, what, KeptState.AGED, changed)
    return plain


def _done(sit: Situation, entry: DiaryEntry, question: KeptQuestion) -> str:
    later = sit.ground.diary[sit.ground.diary.index(entry) + 1 :]
    for each in later:
        same = not each.zone or each.zone.casefold() == sit.zone.name.casefold()
        if same and each.what.kind in question.done_by and each.when.first >= entry.day:
            return f"{each.what.kind} of {short_day(each.day)}"
    return ""


def _past(sit: Situation, kept: Kept) -> str:
    """Say whose days are over, or whose jobs are done; empty while they are not."""
    about = kept.what.about
    if about == ROUTE and next_job(sit, kept.what.named, kept.day) is None:
        return "every job of it is in the diary"
    if about == WHEN_TO_SOW and (span := sowing_span(kept)) and span[1] < sit.today:
        return f"its days are over: {span_words(*span)}"
    if about == WATER_PLAN:
        until = _iso(kept.what.named.get("until", ""))
        if until is not None and until < sit.today:
            return f"it went to {short_day(until)}"
    if about == FEED_PLAN and kept.day < feed_year_start(sit):
        return "it was for another year of feed"
    return ""


def _iso(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _sow_words(_: Situation, kept: Kept) -> str:
    span = sowing_span(kept)
    if span is None:
        return f"No day of those looked at was fit to sow: {kept.kept_on}. Again: {kept.again}"
    return f"Sow {span_words(*span)}: {kept.kept_on}."


def _water_words(sit: Situation, kept: Kept) -> str:
    ahead = [each for each in watering_days(kept) if each[0] >= sit.today]
    if not ahead:
        return f"No water wanted to its end: water plan {kept.kept_on}."
    day, told = ahead[0]
    on = "today" if day == sit.today else f"on {short_day(day)}"
    return f"Water {on}, {told}, less rain that falls: {kept.kept_on}."


def _cut_words(sit: Situation, kept: Kept) -> str:
    found, day = kept.what.found, cut_day(kept)
    line = f", line {found['line_deg']:+.0f}°" if found.get("line_deg") is not None else ""
    at = f" at {found['cut_mm']:g} mm" if "cut_mm" in found else ""
    if day is None:
        return f"No cut asked for yet: {kept.kept_on}."
    late = " That day is over" if day < sit.today else ""
    return f"Cut by {short_day(day)}{at}{line}: {kept.kept_on}.{late and late + '.'}"


def _verticut_words(_: Situation, kept: Kept) -> str:
    found = kept.what.found
    depth = f"{found['depth_mm']:g} mm {kept.what.named.get('datum', '')}".strip()
    line = f", line {found['line_deg']:+.0f}°" if "line_deg" in found else ""
    passes = kept.what.given.get("passes", "1")
    more = f", {passes} passes" if passes != "1" else ""
    return f"Verticut {depth}{line}{more}: {kept.kept_on}."


def _feed_words(sit: Situation, kept: Kept) -> str:
    year = feed_year(sit, kept.what.found.get("year_g_m2"))
    return (
        f"{year.year_g_m2:g} g N/m² for the year, {year.given:.1f} given, {max(year.left, 0):.1f}"
        f" left: {kept.kept_on}. {what_is_due(year)}"
    )


def _route_words(sit: Situation, kept: Kept) -> str:
    found, first = next_job(sit, kept.what.named, kept.day), kept.what.named.get("first", "")
    if found is None:
        return f"Every job of the {kept.what.named.get('route', 'route')} is done."
    then = f" Then: {', '.join(found.then)}." if found.then else ""
    before = f" Before all: {first.replace(', ', ' and ')} put right." if first else ""
    name = found.route.value
    return f"{name[0].upper()}{name[1:]}, next: {found.name}; {kept.kept_on}.{then}{before}"


_WORDS: Mapping[str, Callable[[Situation, Kept], str]] = {
    WHEN_TO_SOW: _sow_words, WATER_PLAN: _water_words, NEXT_CUT: _cut_words,
    VERTICUT_PLAN: _verticut_words, FEED_PLAN: _feed_words, ROUTE: _route_words,
}  # fmt: skip
