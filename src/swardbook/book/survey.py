"""A zone's survey in one page: what is known of it, and what is missing, most telling first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from shlex import quote
from typing import Any

from swardbook.book.ground import default_tolerance
from swardbook.book.opening import Book
from swardbook.book.survey_known import LOOKS, Known
from swardbook.foundation.tables import read_toml_table
from swardbook.husbandry.ground import Zone

ROUTE = "mend or start again"


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing not known, and what it would change.

    Parameters
    ----------
    fact : str
        Key of the fact.
    name : str
        What it is.
    why : str
        Why it counts as missing, where something of it is known; else empty.
    changes : tuple of str
        Decisions that hang on it.
    how : str
        How to find it out.
    command : str
        The command that takes it in.
    """

    fact: str
    name: str
    why: str
    changes: tuple[str, ...]
    how: str
    command: str


@dataclass(frozen=True, slots=True)
class ZoneSurvey:
    """The survey of one zone.

    Parameters
    ----------
    zone : Zone
        The zone.
    use_words : str
        What it is for and what is fine there.
    sentence : str
        The ground in one sentence; says so where nothing was measured.
    known : tuple of Known
        What is known.
    missing : tuple of Missing
        What is not, most telling first.
    """

    zone: Zone
    use_words: str
    sentence: str
    known: tuple[Known, ...]
    missing: tuple[Missing, ...]


def survey_of(book: Book, zone: str) -> ZoneSurvey:
    """Bring the survey of a zone together.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.

    Returns
    -------
    ZoneSurvey
        What is known, and what is missing by what it would change.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    found = ground.zone(zone)
    looked = {fact: look(ground, found, book.today) for fact, look in LOOKS.items()}
    known = tuple(each for each in looked.values() if each is not None)
    doubts = {fact: each.doubt if each else "" for fact, each in looked.items()}
    lacking = [fact for fact, each in looked.items() if each is None or each.doubt]
    return ZoneSurvey(
        found, _use(found), _sentence(known), known,
        tuple(_missing(found, fact, doubts[fact]) for fact in sorted(lacking, key=_telling)),
    )  # fmt: skip


def _use(zone: Zone) -> str:
    fine = zone.tolerance
    clumps = f"{fine.clumps} clump{'' if fine.clumps == 1 else 's'}"
    told = (
        f"{zone.use.value[0].upper()}{zone.use.value[1:]}, cut at {zone.height_of_cut_mm:g} mm."
        f" Fine there: annual meadow-grass up to {100 * fine.annual_meadow_grass:.0f} %, bare"
        f" ground up to {100 * fine.bare:.0f} %, {clumps}"
    )
    if fine == default_tolerance(zone.use):
        return f"{told}: what is usual for this use; agree it with the owner."
    return f"{told}."


def _sentence(known: Sequence[Known]) -> str:
    parts = [each.short for each in known if each.short and each.fact != "keepers" and not
             each.doubt.startswith("as told")]  # fmt: skip
    if not parts:
        return "Nothing of the ground has been measured yet."
    told = "; ".join(parts)
    return f"{told}." if told.startswith("pH") else f"{told[0].upper()}{told[1:]}."


def _missing(zone: Zone, fact: str, why: str) -> Missing:
    held = _facts()[fact]
    keep = " --keep" if held["command"].startswith("swardbook survey ") else ""
    command = f"{held['command']} --zone {quote(zone.name)}{keep}"
    return Missing(fact, held["name"], why, tuple(held["changes"]), held["how"], command)


def _telling(fact: str) -> tuple[bool, int, int]:
    changes = _facts()[fact]["changes"]
    return ROUTE not in changes, -len(changes), list(_facts()).index(fact)


@cache
def _facts() -> Mapping[str, Any]:
    return read_toml_table(files("swardbook.handbook") / "data" / "survey_facts.toml")
