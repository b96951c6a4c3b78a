"""Templates for new lawns, kept by the firm: zones, what is fine there, programmes, places."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from swardbook.book.fields import quantity
from swardbook.book.firm import rows_seen, yard_of
from swardbook.book.opening import Book, Clock, at_ground
from swardbook.book.programmes import KIND as PROGRAMME
from swardbook.book.programmes import KeptProgramme, standing_programmes
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.husbandry.ground import HonestSquare, Peg, Site, Zone
from swardbook.records.filling import filled_store

TEMPLATE = "lawn template"
NOT_PLACED = "not placed yet"
MOST_PLACES = 60


@dataclass(frozen=True, slots=True)
class ZoneTemplate:
    """One zone of a template.

    Parameters
    ----------
    zone : Zone
        The zone; its area is that of the lawn it was taken from.
    pegs, squares : int
        Fixed places to count at, and honest squares.
    """

    zone: Zone
    pegs: int
    squares: int


@dataclass(frozen=True, slots=True)
class LawnTemplate:
    """What a new lawn begins with.

    Parameters
    ----------
    name : str
        What it is called.
    zones : tuple of ZoneTemplate
        Zones with use, tolerance, height of cut, mower and soil.
    programmes : tuple of KeptProgramme
        Programmes of the firm's own.
    weekly_hours : float or None
        Hours of work there are in a week. [h]
    taken_from : str
        The lawn it was taken from.
    kept_on : date
        The day.
    """

    name: str
    zones: tuple[ZoneTemplate, ...]
    programmes: tuple[KeptProgramme, ...]
    weekly_hours: float | None
    taken_from: str
    kept_on: date


@dataclass(frozen=True, slots=True)
class Begun:
    """What came of beginning a lawn from a template: its short name, and how much is in it."""

    slug: str
    name: str
    zones: int
    places: int
    programmes: int
    left_out: tuple[str, ...]


def templates(book: Book) -> tuple[LawnTemplate, ...]:
    """Read the templates that the firm keeps at its yard, by name; the last of a name counts."""
    yard = yard_of(book.store.lawns(book.today))
    kept = book.store.at(yard.slug).kept(TEMPLATE) if yard else ()
    found = {name.casefold(): from_plain(LawnTemplate, plain, f"the template {name}")
             for name, plain in kept}  # fmt: skip
    return tuple(found[name] for name in sorted(found))


def find_template(book: Book, name: str) -> LawnTemplate:
    """Find a template by name.

    Raises
    ------
    UnknownNameError
        If there is none.
    """
    there = templates(book)
    for each in there:
        if each.name.casefold() == name.strip().casefold():
            return each
    raise UnknownNameError("template", name, [each.name for each in there])


def keep_template(book: Book, clock: Clock, name: str, ground: str) -> LawnTemplate:
    """Take a template from a lawn, and keep it at the yard.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    clock : function
        The day.
    name : str
        What it is called; the one of that name before it is kept too.
    ground : str
        Short name of the lawn.

    Raises
    ------
    BadInputError
        If there is no yard, no name, or the lawn has no zone.
    UnknownNameError
        If there is no such ground.
    """
    yard = yard_of(rows_seen(book, None))
    if yard is None:
        raise BadInputError("the yard", "none", "a yard", "Name one: swardbook firm yard GROUND")
    if not name.strip():
        raise BadInputError("the template", "nothing", "a name")
    source = at_ground(book, ground, clock, book.today)
    there = source.ground()
    if not there.zones:
        raise BadInputError("the lawn", there.site.name, "a lawn with zones")
    pegs = Counter(each.zone.casefold() for each in there.pegs)
    squares = Counter(each.zone.casefold() for each in there.squares)
    made = LawnTemplate(
        " ".join(name.split()),
        tuple(
            ZoneTemplate(_plain_zone(each), min(pegs[each.name.casefold()], MOST_PLACES),
                         min(squares[each.name.casefold()], MOST_PLACES))
            for each in there.zones
        ),
        tuple(each for each in standing_programmes(source) if each.is_own),
        there.site.weekly_hours, there.site.name, book.today,
    )  # fmt: skip
    book.store.at(yard.slug).keep(TEMPLATE, made.name, to_plain(made))
    return made


def begin_from(book: Book, site: Site, template: LawnTemplate, areas: Mapping[str, str]) -> Begun:
    """Begin a further ground from a template; it is there whole, or not at all.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    site : Site
        The site.
    template : LawnTemplate
        What it begins with.
    areas : mapping of str to str
        Area of each zone that the lawn has, as typed; the others are left out.

    Raises
    ------
    BadInputError
        If no area is said, one cannot be read, or the book has a ground of that name.
    UnknownNameError
        If the template has no zone of a name.
    """
    names = {each.zone.name.casefold(): each for each in template.zones}
    chosen = []
    for name, area in areas.items():
        found = names.get(name.strip().casefold())
        if found is None:
            raise UnknownNameError(
                "zone of the template", name, [each.zone.name for each in template.zones]
            )
        m2 = quantity(area, "m2", f"area of {found.zone.name}")
        chosen.append(replace(found, zone=replace(found.zone, area_m2=m2)))
    if not chosen:
        said = ", ".join(f"{each.zone.name}=AREA" for each in template.zones)
        raise BadInputError("areas", "none", said, "A zone without an area is left out.")
    made_up = book.store.made_up_today()
    site = replace(site, made_up_today=made_up, weekly_hours=site.weekly_hours
                   if site.weekly_hours is not None else template.weekly_hours)  # fmt: skip
    with filled_store(book.settings, site) as store:
        store.save_site(site)
        for each in chosen:
            store.save_zone(each.zone)
            for n in range(1, each.pegs + 1):
                store.save_peg(Peg(f"{each.zone.name} {n}", each.zone.name, NOT_PLACED))
            for n in range(1, each.squares + 1):
                name = f"{each.zone.name} square {n}"
                store.save_square(HonestSquare(name, each.zone.name, sketch=NOT_PLACED))
        for kept in template.programmes:
            now = replace(kept, version=1, kept_on=book.today)
            store.keep(PROGRAMME, kept.programme.key, to_plain(now))
        slug = store.slug()
    there = {each.zone.name for each in chosen}
    left = tuple(each.zone.name for each in template.zones if each.zone.name not in there)
    places = sum(each.pegs + each.squares for each in chosen)
    return Begun(slug, site.name, len(chosen), places, len(template.programmes), left)


def read_areas(texts: tuple[str, ...]) -> dict[str, str]:
    """Read areas as ``ZONE=AREA``.

    Raises
    ------
    BadInputError
        If one has no equals sign.
    """
    found = {}
    for text in texts:
        name, apart, area = text.partition("=")
        if not apart:
            raise BadInputError("--area", text, "ZONE=AREA, such as 'Front lawn=120'")
        found[name.strip()] = area.strip()
    return found


def _plain_zone(zone: Zone) -> Zone:
    """Leave out what is of one lawn alone: how it lies, its light, its notes."""
    return Zone(
        zone.name, zone.area_m2, zone.use, zone.tolerance, zone.height_of_cut_mm, zone.mower,
        zone.soil,
    )  # fmt: skip


def template_words(each: ZoneTemplate) -> str:
    """Say one zone of a template."""
    zone = each.zone
    fine = zone.tolerance
    told: list[Any] = [
        zone.use.value, f"cut at {zone.height_of_cut_mm:g} mm, {zone.mower.kind}",
        f"fine: annual meadow-grass {100 * fine.annual_meadow_grass:.0f} %,"
        f" bare {100 * fine.bare:.0f} %, {fine.clumps} clumps",
        f"{each.pegs} pegs, {each.squares} honest squares",
    ]  # fmt: skip
    return f"{zone.name}: {'; '.join(told)}"
