"""Plan and record counts, and see the estimates."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.count_plan import plan, presence
from swardbook.cli.doors import Door, door_options, entry_options
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.count_sheet import Understood
    from swardbook.book.counts import OccasionShown
    from swardbook.book.opening import Book
    from swardbook.figures.picture import Picture
    from swardbook.observations.estimating import KindEstimate


@click.group()
def command() -> None:
    """Plan and record counts of weeds, sown grass and bare ground; see what they say."""


command.add_command(plan)
command.add_command(presence)


@command.command()
@click.option("--place", default="", help="Peg, plot or honest square that was counted.")
@click.option(
    "--found",
    multiple=True,
    metavar="KIND=NUMBER",
    help="What was found; repeat it. 0 is looked and none; blank is not counted.",
)
@click.option(
    "--file",
    "sheet",
    type=click.Path(dir_okay=False, path_type=Path),
    default=None,
    help="A CSV sheet with a row for each place and a column for each kind.",
)
@click.option("--method", default="", help="points, plants or by-eye.")
@click.option(
    "--points",
    type=click.IntRange(1, 1000),
    default=None,
    help="Crossings of the frame; 25 if not said.",
)
@click.option(
    "--placement",
    type=click.IntRange(1),
    default=1,
    show_default=True,
    help="Which of several frames at this place.",
)
@click.option("--area", "area_m2", type=float, default=None, help="Area of the frame in m2.")
@click.option("--counter", default="", help="Who counted; --who if not said.")
@click.option("--occasion", default="", help="What this count is called.")
@entry_options
@door_options
def add(
    door: Door, place: str, found: tuple[str, ...], sheet: Path | None, method: str,
    points: int | None, placement: int, area_m2: float | None, counter: str, occasion: str,
    **said: Any,
) -> None:  # fmt: skip
    """Record a count of one place, or of many from a sheet."""
    from swardbook.book.count_sheet import choose_frame, read_sheet, typed_place
    from swardbook.book.counts import record_count
    from swardbook.book.fields import read_money
    from swardbook.cli.keeping import answer
    from swardbook.cli.parked import parked_lines, parked_payload
    from swardbook.foundation.errors import BadInputError

    if (sheet is None) == (not place):
        raise BadInputError(
            "the count",
            "both" if place else "neither a place nor a sheet",
            "either --place with --found, or --file",
            "One frame is: --place P1 --points 25 --found sown=15 --found bare=2",
        )
    frame = choose_frame(method, points, area_m2)
    who = counter or said["who"]
    if sheet is not None:
        understood: Sequence[Understood] = read_sheet(sheet, frame, who)
    else:
        understood = [typed_place(place, frame, found, who, placement)]
    book = door.book()
    about = {**said, "money": read_money(said["money"])}
    when = about.pop("when")
    kept = record_count(book, understood, when, occasion, about)
    rows = [f"  {row.where}: {'; '.join(row.words)}" for row in understood]
    rows += parked_lines(kept.parked)
    if kept.already:
        rows.append(f"In the diary already, not added again: {', '.join(kept.already)}.")
    payload = {
        "understood": [_row(row) for row in understood],
        "parked": [parked_payload(each) for each in kept.parked],
        "already_in_the_diary": list(kept.already),
    }
    if kept.entry is not None:
        answer(door, book, kept.entry, kept.asked, rows, payload)
        return
    told = "Nothing new was counted." if not kept.parked else "Parked; no count or plan reads it."
    door.show({"entry": None, "short_id": None, "fixes": [], **payload}, [told, *rows], book)


@command.command()
@click.option("--zone", "-z", default="", help="Only this zone.")
@click.option("--species", default="", help="Only this kind.")
@click.option("--day", default="", help="Only the count of this day.")
@picture_option("one zone's counts of one kind over time; annual meadow-grass if not said")
@door_options
def show(door: Door, zone: str, species: str, day: str, picture: Path | None) -> None:
    """Show what each occasion says, with ranges."""
    from swardbook.book.count_sheet import read_kind
    from swardbook.book.counts import show_counts
    from swardbook.foundation.dates import read_day
    from swardbook.foundation.errors import BadInputError

    if picture is not None and not zone:
        raise BadInputError("--zone", zone, "the name of a zone, for a picture of its counts")
    check_places(picture)
    book = door.book()
    kind = read_kind(species) if species else ""
    shown = show_counts(book, zone, kind, read_day(day, book.today) if day else None)
    lines = [line for each in shown for line in _lines(each)]
    payload: dict[str, Any] = {"occasions": [_occasion(each) for each in shown]}
    payload, lines = with_picture(
        picture, lambda: _drawn(book, zone, kind), payload, lines or ["No dated count yet."]
    )
    door.show(payload, lines, book)


def _drawn(book: Book, zone: str, kind: str) -> Picture:
    from swardbook.book.count_sheet import read_kind
    from swardbook.book.pictures import draw_counts

    return draw_counts(book, zone, kind or read_kind("annual meadow-grass"))


def _row(row: Understood) -> dict[str, Any]:
    return {
        "where": row.where,
        "place": row.place.place if row.place else None,
        "understood": list(row.words),
    }


def _lines(shown: OccasionShown) -> list[str]:
    from swardbook.foundation.dates import say

    who = f", counted by {', '.join(shown.counters)}" if shown.counters else ""
    label = f" ({shown.label})" if shown.label else ""
    where = shown.zone if shown.where == "zone" else f"{shown.zone}, {shown.where}"
    lines = under("", f"{say(shown.day)}, {where}{label}{who}", 0)
    if shown.break_before:
        lines += under("--", shown.break_before)
    return [
        *lines,
        *(part for each in shown.estimates for part in under("-", _estimate_line(each))),
    ]


def _estimate_line(each: KindEstimate) -> str:
    from swardbook.handbook.species import in_words
    from swardbook.review.words import estimate_words

    name = in_words(each.kind)
    if each.estimate is None:
        return f"{name}: {each.refusal}"
    blank = f"; {len(each.not_counted)} places not counted" if each.not_counted else ""
    if each.none_found:
        return f"{name}: {_none_found(each)}{blank}."
    eye = ", by eye" if each.method.value == "by eye" else ""
    words = estimate_words(each.estimate)
    made = each.estimate
    told = " ".join(("", *made.cautions)) if not eye else ""
    if each.places_wanted and each.places_wanted > made.n:
        aim = "it within 5 points" if made.unit == "%" else "its standard error to a quarter of it"
        told += f" {each.places_wanted} places would bring {aim}."
    return f"{name}: {words}{eye}, {made.n} places{blank}.{told}"


def _none_found(each: KindEstimate) -> str:
    places = each.estimate.n if each.estimate else 0
    if not each.still_up_to:
        return f"none found in {places} places by eye"
    if each.method.value == "plants":
        return (
            f"none found in {places} places, {each.looked:g} m²; could still be up to"
            f" {each.still_up_to[0]:.2g} a square metre, more if they sit in clumps"
        )
    by_point, by_place = each.still_up_to
    return (
        f"none found in {places} places, {each.looked:g} points; could still be up to"
        f" {by_place:.0f} % if each place counts as one look, {by_point:.1g} % if each point does"
    )


def _occasion(shown: OccasionShown) -> dict[str, Any]:
    return {
        "zone": shown.zone,
        "day": shown.day.isoformat(),
        "where": shown.where,
        "label": shown.label,
        "counters": list(shown.counters),
        "break_before": shown.break_before,
        "estimates": [_estimate(each) for each in shown.estimates],
    }


def _estimate(each: KindEstimate) -> dict[str, Any]:
    made = each.estimate
    unit = "percent" if each.method.value != "plants" else "plants_m2"
    return {
        "kind": each.kind,
        "counted_by": each.method.value,
        f"value_{unit}": made.value if made else None,
        f"interval_{unit}": list(made.interval) if made else None,
        "level": made.level if made else None,
        "n_places": made.n if made else None,
        "method": made.method if made else None,
        "none_found": each.none_found,
        f"still_up_to_{unit}": list(each.still_up_to),
        "not_counted": list(each.not_counted),
        "places_wanted": each.places_wanted,
        "cautions": list(made.cautions) if made else [],
        "refusals": [each.refusal] if each.refusal else [],
    }
