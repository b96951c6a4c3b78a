"""What is wrong in a zone: causes in order, grubs against their number, and what was found kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.book.diary import read_past, write
from swardbook.book.opening import Book
from swardbook.book.worked_out import Answer, keep_answer
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.cautions import Caution, cautions_for
from swardbook.handbook.troubles import fed_and_starved, signs
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Disease
from swardbook.planning.checks_sward import WHAT_IS_WRONG
from swardbook.planning.fit import fit_today
from swardbook.planning.situation import Situation, situation
from swardbook.planning.states import State
from swardbook.planning.troubles import (
    GRUBS,
    LIKELY,
    POSSIBLE,
    Cause,
    Diagnosis,
    Grubs,
    count_grubs,
    diagnose,
    read_signs,
)

ABOUT = WHAT_IS_WRONG
GRUB_SIGNS = {"leatherjackets": "legless grubs", "chafers": "curved grubs"}
"""What a count of grubs says as a sign."""


@dataclass(frozen=True, slots=True)
class TroubleAnswer:
    """What may be wrong in a zone.

    Parameters
    ----------
    zone : str
        The zone.
    diagnosis : Diagnosis
        Causes in order.
    grubs : Grubs or None
        A count of grubs, if one was given.
    cautions : tuple of Caution
        What to mind.
    hold_feed : str
        Why a feed that would help waits; empty where none is named, or nothing speaks against it.
    """

    zone: str
    diagnosis: Diagnosis
    grubs: Grubs | None
    cautions: tuple[Caution, ...]
    hold_feed: str = ""

    def waits_with_feed(self, cause: Cause) -> str:
        """Say why the feed that helps against a cause waits; empty where it does not."""
        return self.hold_feed if cause.trouble.key in fed_and_starved()[0] else ""


def what_is_wrong(
    book: Book, zone: str, seen: Sequence[str], not_seen: Sequence[str] = (), grubs: str = "",
    found: int | None = None, squares: int = 4, side_mm: float = 150.0,
) -> TroubleAnswer:  # fmt: skip
    """Order what may be wrong in a zone, from signs and the book's weather.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    seen, not_seen : sequence of str
        Signs that are there, and those looked for in vain.
    grubs : str
        ``leatherjackets`` or ``chafers``, where squares were cut; empty if not.
    found : int or None
        Grubs in all squares together.
    squares : int
        Squares cut.
    side_mm : float
        Side of a square. [mm]

    Raises
    ------
    UnknownNameError
        If there is no such zone or sign.
    BadInputError
        If a sign is both seen and not seen, or a count cannot be right.
    """
    if bool(grubs) != (found is not None):
        raise BadInputError(
            "the grubs", grubs or found, "a kind and a number together",
            "Such as --grubs leatherjackets --found 7.",
        )  # fmt: skip
    sit = situation(book.ground(), zone, book.weather(), book.today)
    counted = None if found is None else count_grubs(grubs, found, squares, side_mm)
    if counted is not None:
        sign = GRUB_SIGNS[grubs]
        seen, not_seen = ([*seen, sign], not_seen) if found else (seen, [*not_seen, sign])
    diagnosis = diagnose(sit, read_signs(seen, not_seen))
    kinds = {each.trouble.kind for each in diagnosis.causes} & {"disease", "pest"}
    have_grubs = counted is not None or diagnosis.causes[0].trouble.key in GRUBS
    circumstances = {"grubs"} if have_grubs else set()
    jobs = [{"disease": "disease", "pest": "pests"}[kind] for kind in sorted(kinds)]
    keys = {each.trouble.key for each in diagnosis.causes}
    jobs += [job for key, job in (("birds", "birds"), ("worm_casts", "worms")) if key in keys]
    mind = dict.fromkeys(each for job in jobs for each in cautions_for(job, circumstances))
    hold = _hold_feed(sit, diagnosis)
    return TroubleAnswer(sit.zone.name, diagnosis, counted, tuple(mind), hold)


def _hold_feed(sit: Situation, diagnosis: Diagnosis) -> str:
    """Say what speaks against a feed: another cause that it makes worse, or the day."""
    starved = fed_and_starved()[1]
    for each in diagnosis.causes:
        if each.trouble.key in starved and each.likelihood in {LIKELY, POSSIBLE}:
            return f"No feed before {each.trouble.english} is ruled out."
    fit = fit_today(sit, "feed")
    against = [each for each in fit.conditions if each.state is State.NOT_MET]
    return f"No feed today: {against[0].name}, {against[0].because}." if against else ""


def keep_trouble(
    book: Book, answer: TroubleAnswer, when: str = "today", who: str = "", note: str = ""
) -> DiaryEntry:
    """Keep what was found: a likely disease or pest as seen and active, anything else as words.

    Parameters
    ----------
    book : Book
        The opened book.
    answer : TroubleAnswer
        What was found.
    when, who, note : str
        The day, who looked, and anything else.

    Raises
    ------
    BadInputError
        If no sign was seen.
    """
    looked, first = answer.diagnosis.signs, answer.diagnosis.causes[0]
    if not looked.seen:
        raise BadInputError("what to keep", "no sign seen", "at least one sign seen")
    told = f"signs: {', '.join(looked.seen)}"
    if first.likelihood == LIKELY and first.trouble.kind in {"disease", "pest"}:
        what = Disease(first.trouble.english, active=True)
        day = read_past(when, book.today)
        return write(book, what, day, zone=answer.zone, who=who, note=f"{told}. {note}".strip())
    given = {"seen": ", ".join(looked.seen), "not seen": ", ".join(looked.not_seen)}
    found = {"share_percent": round(100 * first.share, 1)}
    named = {"likeliest": first.trouble.english, "likelihood": first.likelihood}
    kept = Answer(ABOUT, answer.diagnosis.sentence, given, found, named)
    return keep_answer(book, kept, zone=answer.zone, when=when, who=who, note=note)


def known_signs() -> tuple[tuple[str, str], ...]:
    """List every sign with its words."""
    return tuple(signs().items())
