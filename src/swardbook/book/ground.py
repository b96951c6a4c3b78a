"""Begin a book, and set out its ground: zones, pegs and honest squares."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from difflib import SequenceMatcher
from typing import Any

from swardbook.book.fields import quantity, yes_or_no
from swardbook.book.opening import Book, Clock, begin_book
from swardbook.book.shapes import read_area
from swardbook.book.units import mark_word, units_word
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.handbook.soils import soil
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.stage import Stage, stage
from swardbook.settings import Settings

MOWERS = ("cylinder", "rotary")
_ALIKE = 0.88
"""Likeness of two names from which they are asked about: one letter in about eight."""


@dataclass(frozen=True, slots=True)
class ZoneShown:
    """One zone with its stage and how many places there are to come back to."""

    zone: Zone
    stage: Stage
    pegs: int
    squares: int


def begin(settings: Settings, clock: Clock, site: Site) -> Book:
    """Begin a ground for a site: in a new book, or as a further one in the book there is.

    Raises
    ------
    BadInputError
        If the book has a ground of that name, which is never written over, or is a made-up one.
    """
    return begin_book(settings, clock, site)


def read_site(
    name: str, latitude: str, elevation: str, hours_a_week: str = "", hose: str = "",
    currency: str = "GBP", units: str = "", decimal_mark: str = "",
) -> Site:  # fmt: skip
    """Read what was typed of a site.

    Raises
    ------
    BadInputError
        If something is no number.
    OutOfRangeError
        If a number lies outside what a site can have.
    """
    if not name.strip():
        raise BadInputError("--name", name, "the name of the site")
    degrees = read_number(re.sub(r"\s*°?\s*[nsNS]?$", "", latitude.strip()))
    if degrees is None:
        raise BadInputError("--latitude", latitude, "degrees, south negative, such as 52.1 or 43 S")
    is_south = latitude.strip().casefold().endswith("s")
    return Site(
        name=name.strip(),
        latitude=-abs(degrees) if is_south else degrees,
        elevation_m=quantity(elevation, "m", "--elevation") / 1000,
        weekly_hours=quantity(hours_a_week, "h", "--hours-a-week") if hours_a_week else None,
        hose_l_min=quantity(re.sub(r"\s*/\s*min$", "", hose), "l", "--hose") if hose else None,
        currency=currency,
        units=units_word(units),
        decimal_mark=mark_word(decimal_mark),
    )


def default_tolerance(use: Use) -> Tolerance:
    """Give what is fine in a zone of a use, until the owner says otherwise."""
    word = use.value.replace(" ", "_")
    return Tolerance(
        value(f"tolerance_amg_{word}"),
        value(f"tolerance_bare_{word}"),
        int(value(f"tolerance_clumps_{word}")),
    )


def read_use(text: str) -> Use:
    """Read what a zone is for.

    Raises
    ------
    UnknownNameError
        If it is none of the uses.
    """
    plain = text.strip().casefold().replace("-", " ").replace("_", " ")
    shorter = {"lawn": Use.FAMILY_LAWN, "court": Use.COURT_OR_GREEN, "green": Use.COURT_OR_GREEN}
    if plain in set(Use):
        return Use(plain)
    if plain in shorter:
        return shorter[plain]
    raise UnknownNameError("use of a zone", text, list(Use))


def add_zone(book: Book, zone: Zone) -> str:
    """Add a zone; gives a question if its name is like one there is, or its height odd.

    Raises
    ------
    BadInputError
        If there is a zone of that name, or it has no name.
    UnknownNameError
        If the soil or the mower is unknown.
    """
    _check(zone)
    names = [each.name for each in book.store.ground().zones]
    if zone.name.casefold() in {name.casefold() for name in names}:
        raise BadInputError(
            "the name of the zone", zone.name, "a new name",
            "There is one. Change it with `swardbook zone set`.",
        )  # fmt: skip
    book.store.save_zone(zone)
    alike = [name for name in names if _likeness(name, zone.name) >= _ALIKE]
    told = f"{' and '.join([*alike, zone.name])} are alike. One lawn?" if alike else ""
    if zone.height_of_cut_mm > value("look_meadow_height_mm"):
        high = f"{zone.height_of_cut_mm / 10:g}"
        told = f"{told} {high} cm is meadow height. {high} mm?".strip()
    return told


def set_zone(
    book: Book, name: str, typed: Mapping[str, str], *, who: str = "", reason: str = ""
) -> Zone:
    """Change what is known of a zone; the old value is kept in the diary.

    Raises
    ------
    UnknownNameError
        If there is no such zone, soil or mower.
    BadInputError
        If something cannot be read, or nothing is changed.
    """
    old = book.store.ground().zone(name)
    zone = with_typed(old, typed)
    if zone == old:
        raise BadInputError("zone set", name, "at least one change, such as --height-of-cut 8")
    _check(zone)
    book.store.save_zone(zone, on=book.today, who=who, reason=reason)
    return zone


def with_typed(zone: Zone, typed: Mapping[str, str]) -> Zone:
    """Give a zone with some values as typed; empty texts change nothing.

    Raises
    ------
    BadInputError
        If one cannot be read.
    """
    given = {name: text for name, text in typed.items() if text}
    changes: dict[str, Any] = {}
    for name, text in given.items():
        if name in _ZONE_READERS:
            field, read = _ZONE_READERS[name]
            changes[field] = read(text)
    if "area" in given or "sides" in given:
        changes["area_m2"] = round(read_area(given.get("area", ""), given.get("sides", "")), 4)
        changes["sides"] = given.get("sides", "").strip()
    changes["tolerance"] = replace(zone.tolerance, **_read(_TOLERANCE_READERS, given))
    changes["mower"] = replace(zone.mower, **_read(_MOWER_READERS, given))
    return replace(zone, **changes)


def show_zones(book: Book, name: str = "") -> tuple[ZoneShown, ...]:
    """Give the zones with their stages, or one of them."""
    ground = book.ground()
    chosen = (ground.zone(name),) if name else ground.zones
    return tuple(
        ZoneShown(
            zone,
            stage(ground, zone, book.today),
            sum(each.zone == zone.name for each in ground.pegs),
            sum(each.zone == zone.name for each in ground.squares),
        )
        for zone in chosen
    )


def add_pegs(book: Book, names: Sequence[str], zone: str, sketch: str = "") -> tuple[Peg, ...]:
    """Put in several pegs, all or none; see `add_peg`."""
    with book.store.together():
        return tuple(add_peg(book, name, zone, sketch) for name in names)


def add_peg(book: Book, name: str, zone: str, sketch: str = "") -> Peg:
    """Put in a peg.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    BadInputError
        If there is a place of that name.
    """
    ground = book.store.ground()
    peg = Peg(name.strip(), ground.zone(zone).name, sketch)
    if not peg.name or peg.name.casefold() in _places(ground):
        raise BadInputError("the name of the peg", name, "a new name; there is one called that")
    book.store.save_peg(peg)
    return peg


def add_squares(
    book: Book, zone: str, squares: int = 8, area_m2: float = 1.0,
    since: date | None = None, heads_boxed: bool = True, sketch: str = "",
) -> tuple[HonestSquare, ...]:  # fmt: skip
    """Leave scattered squares untreated, to compare with; they are named S1, S2 ...

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    squares : int
        How many; six to eight scattered ones beat one strip at the edge.
    area_m2 : float
        Area of each. [m²]
    since : date or None
        From when they are left alone; None is the book's today.
    heads_boxed : bool
        Whether heads are still boxed off them.
    sketch : str
        How to find them.
    """
    ground = book.store.ground()
    found = ground.zone(zone)
    taken = _places(ground)
    numbers = (n for n in range(1, 10_000) if f"s{n}" not in taken)
    made = tuple(
        HonestSquare(f"S{next(numbers)}", found.name, area_m2, since or book.today, heads_boxed,
                     sketch)
        for _ in range(squares)
    )  # fmt: skip
    if sum(each.area_m2 for each in made) >= found.area_m2:
        raise BadInputError(
            "the honest squares", f"{squares} of {area_m2:g} m²",
            f"less than the zone's {found.area_m2:g} m²",
        )  # fmt: skip
    with book.store.together():
        for square in made:
            book.store.save_square(square)
    return made


def read_share(text: str) -> float:
    """Read a percentage as typed, with or without its sign.

    Returns
    -------
    float
        The share. [-]

    Raises
    ------
    BadInputError
        If it is no number from 0 to 100.
    """
    number = read_number(text.strip().removesuffix("%").strip())
    if number is None or not 0 <= number <= 100:
        raise BadInputError("the share", text, "a percentage from 0 to 100")
    return number / 100


def _check(zone: Zone) -> None:
    if not zone.name.strip():
        raise BadInputError("the name of the zone", zone.name, "a name")
    soil(zone.soil)
    if zone.mower.kind not in MOWERS:
        raise UnknownNameError("kind of mower", zone.mower.kind, MOWERS)


def _read(table: Mapping[str, tuple[str, Any]], given: Mapping[str, str]) -> dict[str, Any]:
    return {table[name][0]: table[name][1](text) for name, text in given.items() if name in table}


def _length(name: str) -> Any:
    return lambda text: quantity(text, "mm", name)


def _whole(text: str) -> int:
    if not text.isdigit():
        raise BadInputError("the clumps", text, "a whole number")
    return int(text)


def _likeness(one: str, other: str) -> float:
    first, second = ("".join(filter(str.isalnum, name.casefold())) for name in (one, other))
    if re.sub(r"\D", "", first) != re.sub(r"\D", "", second):
        return 0.0
    return SequenceMatcher(None, first, second).ratio()


def _places(ground: Ground) -> set[str]:
    pegs = {each.name.casefold() for each in ground.pegs}
    return pegs | {each.name.casefold() for each in ground.squares}


_ZONE_READERS: dict[str, tuple[str, Any]] = {
    "use": ("use", read_use),
    "height_of_cut": ("height_of_cut_mm", _length("--height-of-cut")),
    "soil": ("soil", lambda text: text.strip().casefold()),
    "sun_hours": ("sun_hours", lambda text: quantity(text, "h", "--sun-hours")),
    "iron_stains_near": ("iron_stains_near", lambda text: yes_or_no(text, "--iron-stains-near")),
    "note": ("note", str),
}
_TOLERANCE_READERS: dict[str, tuple[str, Any]] = {
    "amg": ("annual_meadow_grass", read_share), "bare": ("bare", read_share),
    "clumps": ("clumps", _whole),
}  # fmt: skip
_MOWER_READERS: dict[str, tuple[str, Any]] = {
    "mower": ("kind", lambda text: text.strip().casefold()),
    "mower_width": ("width_mm", _length("--mower-width")),
    "mower_lowest": ("lowest_mm", _length("--mower-lowest")),
    "box": ("has_box", lambda text: yes_or_no(text, "--box")),
}
