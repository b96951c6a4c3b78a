"""Blades of a zone's mower: hours since they were ground and set, and the paper test."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Changed, Cut, Reading

BLADES = "mower blades"
"""What work on blades is noted about, with the kind of mower after it."""
PAPER = "paper test"
GRINDS = ("ground", "back-lapped", "replaced", "sharpened")
SETS = (*GRINDS, "set")
SIGNS = (
    "white or brown torn tips a day after the cut, seen with a lens",
    "seedlings or leaves plucked whole, stalks left standing",
    "paper cut in some places along the bottom blade and folded in others",
    "a sound that changes along the cylinder, or a hot bottom blade",
)
"""Signs of blades that want an edge, or want setting."""


@dataclass(frozen=True, slots=True)
class Since:
    """Work of a mower since a day.

    Parameters
    ----------
    day : date or None
        The day; None where it was never noted, and everything counts.
    what : str
        What was done then.
    hours : float
        Hours of its cuts since, as far as they are noted. [h]
    cuts, without_hours : int
        Cuts since, and those among them with no hours noted.
    """

    day: date | None
    what: str
    hours: float
    cuts: int
    without_hours: int


@dataclass(frozen=True, slots=True)
class BladeCare:
    """The blades of the mower that cuts a zone.

    Parameters
    ----------
    kind : str
        Kind of mower.
    since_edge, since_set : Since
        Work since the blades last had an edge, and since they were last set.
    paper : int or None
        Places along the bottom blade that cut paper clean, of all tried; None if not tried.
    paper_on : date or None
        The day of it.
    due : tuple of str
        What is due, each with its reason.
    """

    kind: str
    since_edge: Since
    since_set: Since
    paper: int | None
    paper_on: date | None
    due: tuple[str, ...]


def blade_thing(kind: str) -> str:
    """Give the words under which work on the blades of a kind of mower is noted."""
    return f"{BLADES}, {kind}"


def blade_care(ground: Ground, zone: Zone, today: date) -> BladeCare:
    """Look at the blades of the mower that cuts a zone.

    Parameters
    ----------
    ground : Ground
        The book; all zones cut with a mower of the same kind and width count.
    zone : Zone
        The zone.
    today : date
        The day; later entries are left out.
    """
    known = [entry for entry in ground.diary if entry.when.first <= today]
    mower = zone.mower
    mine = {each.name.casefold() for each in ground.zones
            if (each.mower.kind, each.mower.width_mm) == (mower.kind, mower.width_mm)}  # fmt: skip
    cuts = [each for each in known if isinstance(each.what, Cut)
            and (not each.zone or each.zone.casefold() in mine)]  # fmt: skip
    edge, set_ = (_since(known, cuts, mower.kind, words) for words in (GRINDS, SETS))
    paper = _paper(known, mower.kind)
    places = None if paper is None else round(_reading(paper).value)
    return BladeCare(
        mower.kind, edge, set_, places, None if paper is None else paper.day,
        _due(edge, set_, places, paper, mower.kind),
    )  # fmt: skip


def _since(
    known: list[DiaryEntry], cuts: list[DiaryEntry], kind: str, words: tuple[str, ...]
) -> Since:
    done = [
        (entry, entry.what)
        for entry in known
        if isinstance(entry.what, Changed)
        and entry.what.thing.strip().casefold() in {BLADES, blade_thing(kind)}
        and entry.what.after.strip().casefold() in words
    ]
    day = done[-1][0].day if done else None
    later = [each for each in cuts if day is None or each.day > day]
    return Since(
        day, done[-1][1].after if done else "", sum(each.hours or 0.0 for each in later),
        sum(each.number for each in later), sum(each.number for each in later if not each.hours),
    )  # fmt: skip


def _paper(known: list[DiaryEntry], kind: str) -> DiaryEntry | None:
    tried = [entry for entry in known if isinstance(entry.what, Reading)
             and entry.what.quantity.strip().casefold() in {PAPER, f"{PAPER}, {kind}"}]  # fmt: skip
    return tried[-1] if tried else None


def _reading(entry: DiaryEntry) -> Reading:
    assert isinstance(entry.what, Reading)
    return entry.what


def _due(
    edge: Since, set_: Since, places: int | None, paper: DiaryEntry | None, kind: str
) -> tuple[str, ...]:
    found, all_places = [], int(value("mowing.paper_places"))
    stale = paper is not None and set_.day is not None and paper.day < set_.day
    if places is not None and not stale and places < all_places:
        found.append(f"set or edge: paper cut clean in {places} of {all_places} places only")
    grind, check = value("mowing.grind_hours"), value("mowing.set_hours")
    if edge.hours >= grind:
        since = "all noted" if edge.day is None else f"since {edge.what}"
        found.append(f"edge: {edge.hours:.0f} h of cutting {since}, usual up to {grind:.0f}")
    tested = paper is not None and (set_.day is None or paper.day >= set_.day)
    if kind == "cylinder" and set_.hours >= check and not tested:
        found.append(
            f"paper test and setting: {set_.hours:.0f} h since they were set,"
            f" looked at every {check:.0f}"
        )
    if edge.day is None:
        found.append("note when the blades last had an edge: the hours since tell when next")
    return tuple(found)
