"""``swardbook survey``: what a zone is, what lies under it, and what is still to be looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.minding import with_cautions
from swardbook.cli.results import keep_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.opening import Book
    from swardbook.book.survey import ZoneSurvey
    from swardbook.book.survey_facts import SurveyFact
    from swardbook.husbandry.ground import Zone


@click.group()
def command() -> None:
    """Survey a zone: its use, area, light, water, soil and thatch, and what is missing.

    Each look can be kept with --keep; `survey show` brings a zone together on a page.
    """


@command.command()
@click.argument("zone", default="")
@click.option("--zone", "-z", "by_option", default="", help="Zone, by name; none: all zones.")
@door_options
def show(door: Door, zone: str, by_option: str) -> None:
    """Show what is known of a zone, or of all, and what is missing, most telling first."""
    from swardbook.book.survey import survey_of
    from swardbook.foundation.errors import BadInputError

    book = door.book()
    zone = zone or by_option
    names = [zone] if zone else [each.name for each in book.ground().zones]
    if not names:
        raise BadInputError("the zones", "none", "a zone; add one with `swardbook zone add`")
    found = [survey_of(book, name) for name in names]
    lines = [line for each in found for line in (*_page(each), "")]
    door.show({"zones": [_told(each) for each in found]}, lines[:-1], book)


@command.command()
@click.option("--sides", default="", help="32x25.6, 12x9x8, '8 across', '0, 4.2, 0 every 2'.")
@click.option("--corners", default="", help="Corners in order, metres: '0,0 12,0 12,5 0,5'.")
@click.option("--file", "path", default="", help="GeoJSON, GPX or CSV with positions.")
@click.option("--accuracy", default="", help="How near the positions are, if known: '3 m'.")
@keep_options
@door_options
def area(
    door: Door, sides: str, corners: str, path: str, accuracy: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Measure an area by tape, corners or phone, each with its honest error."""
    from pathlib import Path

    from swardbook.book.survey_area import AreaAsked, survey_area

    file: Path | None = Path(path) if path else None
    book, place = _where(door, zone)
    fact = survey_area(AreaAsked(sides, corners, file, accuracy), place)
    _show(door, book, fact, zone, keeping)


@command.command()
@click.option("--seen", "-s", multiple=True, metavar="GLANCE", help="'9:00 sun', '15:30 shade'.")
@click.option("--hours", default="", help="Hours of sun on a clear day, instead.")
@click.option("--by-month", default="", help="Hours by month, instead: 'apr 2.5, jul 4'.")
@click.option("--noon", default="12:00", show_default=True,
              help="Clock time of the shortest shadow; about 13:00 in summer time.")  # fmt: skip
@click.option("--sky", default="", help="Share of the sky seen from there, such as 60%.")
@keep_options
@door_options
def shade(
    door: Door, seen: tuple[str, ...], hours: str, by_month: str, noon: str, sky: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Turn glances at the shadow into hours of sun, and those into light for grass."""
    from swardbook.book.ground import read_share
    from swardbook.book.survey_light import survey_shade

    book = door.book()
    share = read_share(sky) if sky else None
    fact = survey_shade(book, seen=seen, hours=hours, by_month=by_month, noon=noon, sky=share)
    _show(door, book, fact, zone, keeping)


@command.command()
@click.option("--fall", required=True, help="How much lower the one end is: 0.36, '14 in'.")
@click.option("--run", required=True, help="How far away, measured level: 32, '35 yd'.")
@keep_options
@door_options
def slope(door: Door, fall: str, run: str, zone: str, keeping: dict[str, str] | None) -> None:
    """Take the fall of the ground over its run; bare numbers are metres."""
    from swardbook.book.survey_ground import survey_slope

    book, _ = _where(door, zone)
    _show(door, book, survey_slope(fall, run), zone, keeping)


@command.command()
@click.argument("rings", nargs=-1, required=True)
@click.option("--place", default="", help="Where in the zone, such as 'south end'.")
@click.option("--dry", is_flag=True, help="The ground was not wetted first.")
@keep_options
@door_options
def rings(
    door: Door, rings: tuple[str, ...], place: str, dry: bool, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Take ring tests of one place: how fast water sinks in.

    RINGS are one for each, such as '25 mm in 22 min', or mm an hour.
    """
    from swardbook.book.survey_ground import survey_rings

    book, _ = _where(door, zone)
    _show(door, book, survey_rings(rings, place, wetted=not dry), zone, keeping, "core")


@command.command()
@click.argument("depths", nargs=-1, required=True)
@click.option("--what", default="thatch", show_default=True, help="thatch, or rooting.")
@click.option("--place", default="", help="Where in the zone.")
@keep_options
@door_options
def cores(
    door: Door, depths: tuple[str, ...], what: str, place: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Take thatch, or how deep roots go, from at least five cores; bare numbers are mm."""
    from swardbook.book.survey_ground import survey_cores

    book, _ = _where(door, zone)
    _show(door, book, survey_cores(depths, what, place), zone, keeping, "core")


@command.command()
@click.argument("sand")
@click.argument("silt")
@click.argument("clay")
@keep_options
@door_options
def jar(
    door: Door, sand: str, silt: str, clay: str, zone: str, keeping: dict[str, str] | None
) -> None:
    """Name the soil from the layers in a jar, from the bottom up; bare numbers are mm."""
    from swardbook.book.survey_ground import survey_jar

    book, place = _where(door, zone)
    _show(door, book, survey_jar(sand, silt, clay, place), zone, keeping)


@command.command()
@click.argument("value")
@click.option("--place", default="", help="Where in the zone.")
@keep_options
@door_options
def ph(door: Door, value: str, place: str, zone: str, keeping: dict[str, str] | None) -> None:
    """Take a pH and say which grasses it suits."""
    from swardbook.book.survey_ground import survey_ph

    book, _ = _where(door, zone)
    _show(door, book, survey_ph(value, place), zone, keeping)


@command.command("soil-test")
@click.argument("nutrients", nargs=-1, required=True)
@click.option("--nitrogen", required=True, help="Nitrogen meant for the year: 10, '2 lb/1000ft2'.")
@click.option("--depth", default="", help="Depth sampled; bare is mm.  [default: 100 mm]")
@keep_options
@door_options
def soil_test(
    door: Door, nutrients: tuple[str, ...], nitrogen: str, depth: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Read a laboratory sheet: what a year's feed has to add.

    NUTRIENTS are mg a kg by Mehlich-3 extract, such as K=45 P=12.
    """
    from swardbook.book.fields import read_pairs
    from swardbook.book.survey_ground import survey_soil_test

    book, place = _where(door, zone)
    fact = survey_soil_test(read_pairs(nutrients, "NUTRIENTS", "K=45"), nitrogen, depth, place)
    _show(door, book, fact, zone, keeping)


@command.command()
@click.argument("wear")
@click.option("--place", default="", help="Where most.")
@keep_options
@door_options
def wear(door: Door, wear: str, place: str, zone: str, keeping: dict[str, str] | None) -> None:
    """Say how much a zone is walked and played on: none, light, moderate or heavy."""
    from swardbook.book.survey_ground import survey_wear

    book, _ = _where(door, zone)
    _show(door, book, survey_wear(wear, place), zone, keeping)


@command.command()
@click.option("--bucket", default="10 l", show_default=True, help="What the bucket holds.")
@click.option("--seconds", type=float, required=True, help="How long it took to fill.")
@click.option("--mm", default="2 mm", show_default=True, help="A watering to reckon with.")
@keep_options
@door_options
def tap(
    door: Door, bucket: str, seconds: float, mm: str, zone: str, keeping: dict[str, str] | None
) -> None:
    """Take the water at the tap from a bucket and a watch, and what a watering takes."""
    from swardbook.book.survey_ground import survey_tap

    book, place = _where(door, zone, always=True)
    hose = book.ground().site.hose_l_min if book is not None else None
    _show(door, book, survey_tap(bucket, seconds, mm, place, hose), zone, keeping)


def _where(door: Door, zone: str, *, always: bool = False) -> tuple[Book | None, Zone | None]:
    """Open the book where a zone is named; a look without one needs no book."""
    if not (zone or always):
        return None, None
    from swardbook.foundation.errors import SwardbookError

    try:
        book = door.book()
    except SwardbookError:
        if zone:
            raise
        return None, None
    return book, book.ground().zone(zone) if zone else None


def _show(
    door: Door, book: Book | None, fact: SurveyFact, zone: str, keeping: dict[str, str] | None,
    *jobs: str,
) -> None:  # fmt: skip
    payload: dict[str, Any] = {
        "about": fact.about, "words": fact.words, "notes": list(fact.notes), **fact.found,
        **fact.named,
    }  # fmt: skip
    if fact.rows:
        payload["rows"] = [dict(row) for row in fact.rows]
    lines = [*under("", f"{fact.words}.", 0)]
    for note in fact.notes:
        lines += under("-", note)
    if keeping is not None:
        from swardbook.book.survey_facts import keep_fact
        from swardbook.cli.telling import short_id

        book = book or door.book()
        kept = keep_fact(book, fact, zone=zone, **keeping)
        entries = kept.entries
        payload["kept_as"] = [short_id(entry) for entry in entries]
        payload["changed"] = list(kept.changed)
        where = entries[-1].zone or "whole site"
        lines += ["", *under("", f"Kept {', '.join(payload['kept_as'])}: {where}.", 0)]
        lines += kept.changed
        lines += [f"Needs a look: {each.needs_a_look}" for each in entries if each.needs_a_look]
    if jobs:
        payload, lines = with_cautions(payload, lines, *jobs)
    door.show(payload, lines, book)


def _page(found: ZoneSurvey) -> list[str]:
    lines = [*under("", f"{found.zone.name}. {found.use_words}", 0), "",
             *under("", found.sentence, 0)]  # fmt: skip
    if found.known:
        lines += ["", "Known:"]
        for each in found.known:
            lines += under("-", f"{each.words}.")
    if found.missing:
        lines += ["", "Missing, most telling first:"]
        for number, lack in enumerate(found.missing, 1):
            why = f" ({lack.why})" if lack.why else ""
            lines += under(
                f"{number}.", f"{lack.name}{why}. Changes: {', '.join(lack.changes)}."
                f" How: {lack.how}.",
            )  # fmt: skip
            lines.append(f"     {lack.command}")
    return lines


def _told(found: ZoneSurvey) -> dict[str, Any]:
    fine = found.zone.tolerance
    return {
        "zone": found.zone.name, "area_m2": found.zone.area_m2, "use": found.zone.use.value,
        "height_of_cut_mm": found.zone.height_of_cut_mm,
        "annual_meadow_grass_fine_percent": 100 * fine.annual_meadow_grass,
        "bare_fine_percent": 100 * fine.bare, "clumps_fine": fine.clumps,
        "use_words": found.use_words,
        "sentence": found.sentence,
        "known": [
            {"fact": each.fact, "words": each.words, "day": each.day and each.day.isoformat(),
             "doubt": each.doubt}
            for each in found.known
        ],
        "missing": [
            {"fact": each.fact, "name": each.name, "why": each.why, "changes": list(each.changes),
             "how": each.how, "command": each.command}
            for each in found.missing
        ],
    }  # fmt: skip
