"""Programmes of the handbook and of the book: shown, edited, and never against a never-do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from swardbook.book.opening import Book
from swardbook.book.zone_story import sown_in
from swardbook.foundation.errors import BadInputError, RefusedError, UnknownNameError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.species import find_species
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.husbandry.ground import Ground
from swardbook.model.never import Breach, Place, breaches, breaches_in
from swardbook.model.programmes import Box, Programme, programmes

KIND = "programme"
UNITS: Mapping[str, str] = {
    "cut_days": "d", "verticut_days": "d", "verticut_depth_mm": "mm", "verticut_lines_deg": "°",
    "pull_hours_week": "h a week", "nitrogen_g_m2_year": "g m⁻² a year", "feeds": "feeds a year",
    "water_mm": "mm a day", "height_of_cut_mm": "mm",
}  # fmt: skip
"""Units of the fields that have one."""
FIELDS = ("name", "says", "cut_days", "box", "verticut_days", "verticut_depth_mm",
          "verticut_lines_deg", "pull_hours_week", "refills", "nitrogen_g_m2_year", "feeds",
          "water_mm", "height_of_cut_mm")  # fmt: skip
"""Fields that a person may set."""
_MANY = ("cut_days", "verticut_lines_deg")
_WORDS: Mapping[str, Mapping[str, Any]] = {
    "box": {each.value: each for each in Box},
    "refills": {"yes": True, "no": False},
}


@dataclass(frozen=True, slots=True)
class KeptProgramme:
    """One version of a programme, as kept in the book.

    Parameters
    ----------
    programme : Programme
        The programme.
    version : int
        1 is the first; an edit makes the next, and those before stay.
    kept_on : date or None
        The day it was kept; None for one of the handbook.
    """

    programme: Programme
    version: int
    kept_on: date | None = None

    @property
    def is_own(self) -> bool:
        """Whether it was written in this book."""
        return self.kept_on is not None


@dataclass(frozen=True, slots=True)
class Edited:
    """A programme as it was, as it is now, and the zones that it may not be worked in."""

    before: KeptProgramme
    now: KeptProgramme
    not_in: Mapping[str, tuple[Breach, ...]]


def versions(book: Book) -> tuple[KeptProgramme, ...]:
    """Read every version of every programme, those of the handbook first."""
    first = [KeptProgramme(each, 1) for each in programmes().values()]
    kept = [
        from_plain(KeptProgramme, plain, f"the programme {name}")
        for name, plain in book.store.kept(KIND)
    ]
    return (*first, *kept)


def standing_programmes(book: Book) -> tuple[KeptProgramme, ...]:
    """Give the latest version of each programme, in the order first written."""
    found: dict[str, KeptProgramme] = {}
    for each in versions(book):
        found[each.programme.key] = each
    return tuple(found.values())


def own_plans(book: Book) -> tuple[Programme, ...]:
    """Give the latest version of each programme written in the book."""
    return tuple(each.programme for each in standing_programmes(book) if each.is_own)


def find_programme(book: Book, name: str) -> KeptProgramme:
    """Find the latest version of a programme by its key or its name, case-blind.

    Raises
    ------
    UnknownNameError
        If there is none; offers the nearest.
    """
    there = standing_programmes(book)
    wanted = name.strip().casefold()
    for each in there:
        key = each.programme.key
        if wanted in {key, key.replace("_", " "), each.programme.name.casefold()}:
            return each
    raise UnknownNameError("programme", name, [each.programme.name for each in there])


def place_of(ground: Ground, zone: str) -> Place:
    """Give a zone with what it allows: its mower, what grows there, the hours there are."""
    found = ground.zone(zone)
    comfort = []
    for name in sown_in(ground, found):
        kind = find_species(name)
        if kind.comfort_height_mm is not None:
            comfort.append((kind.key, kind.comfort_height_mm.low))
    return Place(found, tuple(comfort), ground.site.weekly_hours)


def edit_programme(
    book: Book, name: str, changes: Sequence[str], new_name: str = "", zone: str = ""
) -> Edited:
    """Keep a new version of a programme; the old one stays.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Which programme, by key or name.
    changes : sequence of str
        Each as ``field=value``.
    new_name : str
        Keep it as another programme under this name; empty: as a new version of the same.
    zone : str
        Zone that it must be fit for; empty: at least one zone of the ground.

    Raises
    ------
    RefusedError
        If it breaks a never-do; names it.
    BadInputError
        If a change cannot be read, or changes nothing.
    UnknownNameError
        If there is no such programme, field or zone.
    """
    before = find_programme(book, name)
    now = replace(before.programme, **dict(_read(each) for each in changes))
    if new_name:
        now = _named(book, now, new_name)
    if now == before.programme:
        raise BadInputError("programme edit", name, "at least one change, such as --set feeds=4")
    _require_own_name(book, now)
    not_in = _checked(book.ground(), now, zone)
    with book.store.together():
        number = 1 + sum(each.programme.key == now.key for each in versions(book))
        kept = KeptProgramme(now, number, book.today)
        book.store.keep(KIND, now.key, to_plain(kept))
    return Edited(before, kept, not_in)


def require_fit(plan: Programme, place: Place) -> None:
    """Refuse a programme that breaks a never-do in a zone.

    Raises
    ------
    RefusedError
        If it does; names the never-do.
    """
    found = breaches_in(plan, place)
    if found:
        raise _refused(plan, found, f" in {place.zone.name}")


def _checked(ground: Ground, plan: Programme, zone: str) -> dict[str, tuple[Breach, ...]]:
    general = breaches(plan)
    if general:
        raise _refused(plan, general)
    if zone:
        require_fit(plan, place_of(ground, zone))
    places = [place_of(ground, each.name) for each in ground.zones]
    found = {each.zone.name: breaches_in(plan, each) for each in places}
    not_in = {name: broken for name, broken in found.items() if broken}
    if places and len(not_in) == len(places):
        first = next(iter(not_in))
        raise _refused(plan, not_in[first], f" in {first}, and something in every other zone")
    return not_in


def _refused(plan: Programme, found: Sequence[Breach], where: str = "") -> RefusedError:
    told = "; ".join(str(each) for each in found)
    return RefusedError(f"{plan.name} is not taken", f"it breaks a never-do{where}: {told}.")


def _require_own_name(book: Book, plan: Programme) -> None:
    for each in standing_programmes(book):
        other = each.programme
        if other.key != plan.key and other.name.casefold() == plan.name.casefold():
            raise BadInputError("the name", plan.name, "a name that no other programme has")


def _named(book: Book, plan: Programme, name: str) -> Programme:
    key = "_".join(name.casefold().split())
    taken = {"as_recorded", *(each.programme.key for each in versions(book))}
    if not key or key in taken:
        raise BadInputError(
            "--as", name, "a name that no programme has yet", "Without --as it is a new version."
        )
    return replace(plan, key=key, name=name.strip())


def _read(change: str) -> tuple[str, Any]:
    field, equals, text = change.partition("=")
    field, text = field.strip().replace("-", "_"), text.strip()
    if not equals:
        raise BadInputError("--set", change, "field=value, such as verticut_days=14")
    if field not in FIELDS:
        raise UnknownNameError("field of a programme", field, FIELDS)
    return field, _value(field, text)


def _value(field: str, text: str) -> Any:
    if field in {"name", "says"}:
        if not text:
            raise BadInputError(field, text, "some words")
        return text
    if field in {"box", "refills"}:
        return _word(field, text, _WORDS[field])
    if field in _MANY:
        parts = [each for each in text.replace(";", ",").split(",") if each.strip()]
        return tuple(_number(field, each) for each in parts)
    if field == "height_of_cut_mm" and text.casefold() in {"", "zone", "none"}:
        return None
    number = _number(field, text)
    if field == "feeds":
        if number != int(number):
            raise BadInputError(field, text, "a whole number")
        return int(number)
    return number


def _word(field: str, text: str, known: Mapping[str, Any]) -> Any:
    if text.casefold() not in known:
        raise BadInputError(field, text, ", ".join(known))
    return known[text.casefold()]


def _number(field: str, text: str) -> float:
    found = read_number(text.strip())
    if found is None:
        raise BadInputError(field, text, f"a number in {UNITS[field]}, without the unit")
    return found
