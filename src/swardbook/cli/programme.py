"""``swardbook programme``: ways of working, shown, edited, compared, searched for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.programmes import KeptProgramme
    from swardbook.book.searching import ZoneSearch
    from swardbook.figures.picture import Picture
    from swardbook.model.prospects import Contrast, Range
    from swardbook.model.search import Point


@click.group()
def command() -> None:
    """Ways of working through a season: show them, write your own, search for the best."""


@command.command("list", short_help="All programmes, yours among them.")
@click.option("--versions", is_flag=True, help="Every version, not only the latest.")
@click.option("--zone", "-z", default="", help="Zone of the picture; none: the first that fits.")
@picture_option("the hours that each takes in a year, by kind of work")
@door_options
def list_(door: Door, versions: bool, zone: str, picture: Path | None) -> None:
    """List the programmes that a look-ahead can compare."""
    from swardbook.book import programmes
    from swardbook.cli.programme_words import list_lines

    check_places(picture)
    book = door.book()
    found = programmes.versions(book) if versions else programmes.standing_programmes(book)

    def draw() -> Picture:
        from swardbook.book.programme_year import draw_programmes

        return draw_programmes(book, found, zone)

    plain = {"programmes": [_plain(each) for each in found]}
    door.show(*with_picture(picture, draw, plain, list_lines(found)), book)


@command.command(short_help="One programme with every field and its unit.")
@click.argument("name")
@click.option("--zone", "-z", default="", help="Zone of the picture; none: the first that fits.")
@picture_option("its year: cuts, verticuts, pulling, refills, feeds, water and their hours")
@door_options
def show(door: Door, name: str, zone: str, picture: Path | None) -> None:
    """Show one programme, by name or key."""
    from swardbook.book.programmes import find_programme
    from swardbook.cli.programme_words import show_lines

    check_places(picture)
    book = door.book()
    found = find_programme(book, name)

    def draw() -> Picture:
        from swardbook.book.programme_year import draw_programme

        return draw_programme(book, found.programme, zone)

    told = with_picture(picture, draw, {"programme": _plain(found)}, show_lines(found))
    door.show(*told, book)


@command.command(short_help="Change a programme; the version before is kept.")
@click.argument("name")
@click.option("--set", "changes", multiple=True, required=True, metavar="FIELD=VALUE",
              help="A field and its value, such as verticut_days=14; again for more.")  # fmt: skip
@click.option("--as", "new_name", default="", metavar="NAME", help="Keep it under a new name.")
@click.option("--zone", "-z", default="", help="Zone that it must be fit for; none: any.")
@picture_option("its year before and after the change")
@door_options
def edit(
    door: Door, name: str, changes: tuple[str, ...], new_name: str, zone: str, picture: Path | None
) -> None:
    """Keep a new version of a programme, unless it breaks a never-do.

    Lists are given with commas: cut_days=3,5 is fine turf, then lawns.
    """
    from swardbook.book.programmes import edit_programme
    from swardbook.cli.programme_words import edited_lines

    check_places(picture)
    book = door.book()
    made = edit_programme(book, name, changes, new_name, zone)
    payload = {
        "programme": _plain(made.now),
        "before": _plain(made.before),
        "not_in_zones": {
            name: [{"never": each.never, "found": each.found} for each in broken]
            for name, broken in made.not_in.items()
        },
    }

    def draw() -> Picture:
        from swardbook.book.programme_year import draw_edit

        return draw_edit(book, made, zone)

    door.show(*with_picture(picture, draw, payload, edited_lines(made)), book)


@command.command(short_help="The best programme for the hours there are, and the curve.")
@click.option("--zone", "-z", required=True, help="Zone, by name.")
@click.option("--hours", type=float, default=None,
              help="Hours a week for this zone, in season; the site's if not said.")  # fmt: skip
@click.option("--draws", type=click.IntRange(min=64), default=1024, show_default=True,
              help="Draws, a multiple of 64.")  # fmt: skip
@picture_option("hours a week against what they leave, and of what each step buys")
@door_options
def search(door: Door, zone: str, hours: float | None, draws: int, picture: Path | None) -> None:
    """Search for the programme that leaves least annual meadow-grass by next October.

    It moves cuts, box, verticut, pulling, refills and feed, within the never-dos of the zone.
    """
    from swardbook.book.searching import search_programme
    from swardbook.cli.programme_words import search_lines
    from swardbook.cli.progressing import progress

    check_places(picture)
    book = door.book()
    found = search_programme(book, zone, hours, draws, progress())

    def draw() -> Picture:
        from swardbook.book.trade_off import draw_search

        return draw_search(book, found)

    door.show(*with_picture(picture, draw, _searched(found), search_lines(found)), book)


def _plain(kept: KeptProgramme) -> dict[str, Any]:
    plan = kept.programme
    return {
        "key": plan.key,
        "name": plan.name,
        "says": plan.says,
        "version": kept.version,
        "is_own": kept.is_own,
        "kept_on": kept.kept_on.isoformat() if kept.kept_on else None,
        "cut_every_days_fine_turf_and_lawn": list(plan.cut_days),
        "box": plan.box.value,
        "verticut_every_days": plan.verticut_days,
        "verticut_depth_mm": plan.verticut_depth_mm,
        "verticut_lines_deg": list(plan.verticut_lines_deg),
        "pull_hours_a_week": plan.pull_hours_week,
        "refills": plan.refills,
        "nitrogen_g_m2_a_year": plan.nitrogen_g_m2_year,
        "feeds_a_year": plan.feeds,
        "water_on_refills_mm_a_day": plan.water_mm,
        "height_of_cut_mm": plan.height_of_cut_mm,
    }


def _searched(found: ZoneSearch) -> dict[str, Any]:
    curve = found.curve
    return {
        "zone": found.zone,
        "label": found.label,
        "draws": found.draws,
        "chosen_and_told_on_the_same_draws": True,
        "programmes_tried": curve.tried,
        "weed_told_in": "plants_per_m2" if found.by_plants else "cover_percent",
        "hours_asked_about_a_week": found.hours,
        "best": _point(found.asked) if found.asked else None,
        "as_recorded": {
            "left": _range(found.recorded),
            "hours_a_week": _short(found.recorded_hours),
        } if found.recorded is not None and found.recorded_hours is not None else None,
        "best_against_as_recorded": _contrast(found.against_recorded),
        "curve": [_point(each) for each in curve.points],
        "fine_there_percent": _short(100 * found.tolerance),
        "hours_at_which_the_range_is_inside_what_is_fine": curve.enough_hours,
        "least_hours_of_any_programme_a_week": _short(curve.least_hours),
        "notes": list(found.notes),
    }  # fmt: skip


def _point(point: Point) -> dict[str, Any]:
    from swardbook.book.programmes import KeptProgramme

    told = _plain(KeptProgramme(point.best.plan, 1))
    for name in ("key", "name", "says", "version", "is_own", "kept_on"):
        del told[name]
    return {
        "hours_a_week_at_most": point.hours,
        "hours_a_week": _short(point.best.hours_week),
        "programme": told,
        "left": _range(point.left),
        "annual_meadow_grass_cover_percent": _range(point.cover_percent),
        "bare_percent": _range(point.bare_percent),
        "share_of_draws_inside_what_is_fine": _short(point.inside),
        "against_fewer_hours": _contrast(point.against_fewer),
    }


def _range(found: Range) -> dict[str, Any]:
    low, high = found.at80
    return {"middle": _short(found.median), "at_80_percent": [_short(low), _short(high)]}


def _contrast(made: Contrast | None) -> dict[str, Any] | None:
    if made is None:
        return None
    low, high = made.spread.at80
    return {
        "difference": _short(made.difference),
        "unit": made.unit,
        "at_80_percent": [_short(low), _short(high)],
        "verdict": made.verdict.value,
    }


def _short(number: float) -> float:
    return float(f"{number:.4g}") + 0.0
