"""``swardbook plan``: the ground as a drawn plan; draw zones, place pegs and fixed points."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.recording import Recording, is_recording

if TYPE_CHECKING:
    from swardbook.book.plan_drawing import GroundPlan
    from swardbook.book.plan_edits import ZoneDrawn

who_option = click.option("--who", default="", help="Who drew or measured it.")


class PlanVerb(Recording):
    """Shows the plan when called alone."""

    module = "swardbook.cli.plan"
    plans = ("draw", "move", "point", "put", "globe", "sown", "undo")


@click.group(cls=PlanVerb, invoke_without_command=True)
@click.option("--layer", default="stage", show_default=True, metavar="LAYER",
              help="stage, weed or lot.")  # fmt: skip
@click.option("--zone", "-z", default="", help="Only this zone, in its own frame.")
@click.option("--kind", default="annual meadow-grass", show_default=True,
              help="The weed, for the layer of weeds.")  # fmt: skip
@picture_option("the plan")
@door_options
def command(door: Door, layer: str, zone: str, kind: str, picture: Path | None) -> None:
    """Show the ground as a drawn plan, and draw on it.

    With --on as it was on that day. Zones that nobody has drawn are laid out by their sides or
    area.
    """
    if not is_recording():
        return
    from swardbook.book.plan_drawing import draw_plan, drawn_plan
    from swardbook.cli.output import table
    from swardbook.handbook.species import find_species

    check_places(picture)
    book = door.book()
    plan = drawn_plan(book, layer=layer, zone=zone, kind=find_species(kind).key)
    lines = [plan.drawn.sentence, *([plan.drawn.key] if plan.drawn.key else [])]
    for each in plan.drawn.tables:
        lines += ["", *table(each.heads, each.rows)]
    if plan.unplaced:
        many = f"{plan.unplaced} pegs or squares have" if plan.unplaced > 1 else "1 peg has"
        lines += ["", f"{many} no place yet: swardbook plan put PEG '4.2, 3.1'"]
    payload, lines = with_picture(picture, lambda: draw_plan(book, plan), _payload(plan), lines)
    door.show(payload, lines, book)


@click.command()
@click.argument("zone")
@click.option("--corners", required=True, help="In order: '0,0 12,0 12,5 0,5'; bare is m.")
@click.option(
    "--hole", "holes", multiple=True, help="What is cut out, by its corners; again for more."
)
@who_option
@click.option("--reason", default="", help="Why; kept in the diary with the old outline.")
@door_options
def draw(
    door: Door, zone: str, corners: str, holes: tuple[str, ...], who: str, reason: str
) -> None:
    """Draw a zone by its corners, metres east and north of the site's own corner."""
    from swardbook.book.plan_edits import draw_zone
    from swardbook.book.survey_area import read_corners

    book = door.book()
    found = draw_zone(book, zone, read_corners(corners), [tuple(read_corners(h)) for h in holes],
                      who=who, reason=reason)  # fmt: skip
    _show_drawn(door, book, found, "Drawn")


@click.command()
@click.argument("zone")
@click.option("--corner", type=click.IntRange(1), default=None, help="One corner, by its number.")
@click.option("--to", default="", help="Where the corner goes: '12.4, 5'; bare is m.")
@click.option("--by", default="", help="How far the whole zone goes, east and north: '2, -1'.")
@who_option
@click.option("--reason", default="", help="Why.")
@door_options
def move(
    door: Door, zone: str, corner: int | None, to: str, by: str, who: str, reason: str
) -> None:  # fmt: skip
    """Move one corner of a zone, or the whole zone with all that lies in it."""
    from swardbook.book.plan_edits import move_corner, move_zone
    from swardbook.book.telling_where import read_pair
    from swardbook.foundation.errors import BadInputError

    book = door.book()
    if corner is not None and to and not by:
        found = move_corner(book, zone, corner, read_pair(to, "--to"), who=who, reason=reason)
    elif by and corner is None and not to:
        found = move_zone(book, zone, *read_pair(by, "--by"), who=who, reason=reason)
    else:
        raise BadInputError("the move", "nothing", "--corner 2 --to '12.4, 5', or --by '2, -1'")
    _show_drawn(door, book, found, "Moved")


@click.command()
@click.argument("name")
@click.argument("place")
@who_option
@door_options
def point(door: Door, name: str, place: str, who: str) -> None:
    """Put a fixed point on the plan to tape from: a post, the corner of a wall."""
    from swardbook.book.plan_edits import add_fixed_point
    from swardbook.book.telling_where import read_pair
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    made = add_fixed_point(book, name, read_pair(place, "the place"), who=who)
    lines = [f"Kept: {made.name}, {made.east_m:g} m east and {made.north_m:g} m north."]
    door.show({"point": to_plain(made)}, lines, book)


@click.command()
@click.argument("peg")
@click.argument("where")
@who_option
@door_options
def put(door: Door, peg: str, where: str, who: str) -> None:
    """Place a peg or honest square in its zone: on the plan, by two tapes, by a side, by phone.

    WHERE is '4.2, 3.1' (east and north of the zone's south-west corner), 'tape 12.4 gate post,
    8.2 shed', 'side 1 2 4.0 1.2' (along from corner 1 to 2, and in) or 'phone 52.1234 -0.5678 6'.
    """
    from swardbook.book.plan_edits import place_peg
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    found = place_peg(book, peg, where, who=who)
    at = found.thing.at
    assert at is not None
    near = "" if at.within_m is None else f", good to about {at.within_m:.1f} m"
    lines = [f"Placed: {found.thing.name} in {found.thing.zone}, {at.east_m:.1f} m east and"
             f" {at.north_m:.1f} m north of its south-west corner{near}."]  # fmt: skip
    lines += [f"Needs a look: {note}" for note in found.notes]
    door.show({"placed": to_plain(found.thing), "notes": list(found.notes)}, lines, book)


@click.command()
@click.argument("latitude", type=float)
@click.argument("longitude", type=float)
@click.option("--north", default=0.0, show_default=True, help="North, clockwise from the top; °.")
@who_option
@door_options
def globe(door: Door, latitude: float, longitude: float, north: float, who: str) -> None:
    """Say where the site's own corner lies on the globe, so that phones can place things."""
    from swardbook.book.plan_edits import tie_to_globe
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    plan = tie_to_globe(book, latitude, longitude, north, who=who)
    lines = ["Kept. A phone's position is now worth a place, within metres: tape what matters."]
    door.show({"plan": to_plain(plan)}, lines, book)


@click.command()
@click.argument("place")
@door_options
def sown(door: Door, place: str) -> None:
    """Every lot that was ever put at PLACE ('40.5, 12', from the site's own corner)."""
    from swardbook.book.lots_there import lots_at
    from swardbook.book.telling_where import read_pair
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    found = lots_at(book, *read_pair(place, "the place"))
    where = ", ".join(part for part in (found.zone, found.plot, found.spot) if part)
    lines = [f"{where}: the newest on top."]
    rows = [(say(each.day), each.lot or "?", each.says) for each in found.here]
    lines += ["", *table(("day", "lot", "what"), rows)] if rows else ["Nothing on record."]
    if found.perhaps:
        rows = [(say(each.day), each.lot or "?", each.says) for each in found.perhaps]
        lines += [
            "",
            "Somewhere in the zone, where was not said:",
            *table(("day", "lot", "what"), rows),
        ]
    door.show(to_plain(found), lines, book)


@click.command()
@who_option
@door_options
def undo(door: Door, who: str) -> None:
    """Take the last edit of the plan back; both stay in the diary."""
    from swardbook.book.plan_edits import undo_edit
    from swardbook.foundation.dates import say
    from swardbook.husbandry.happenings import Changed

    book = door.book()
    entry = undo_edit(book, who=who)
    assert isinstance(entry.what, Changed)
    lines = [f"Undone: the edit of {entry.what.thing} of {say(entry.day)}. It stays in the diary."]
    door.show({"undone": str(entry.id), "thing": entry.what.thing}, lines, book)


def _show_drawn(door: Door, book: Any, found: ZoneDrawn, word: str) -> None:
    from swardbook.husbandry.codec import to_plain

    assert found.zone.outline is not None
    lines = [f"{word}: {found.zone.name}, {len(found.zone.outline.corners)} corners,"
             f" {found.area_m2:.1f} m² as drawn."]  # fmt: skip
    lines += [f"Needs a look: {note}" for note in found.notes]
    lines.append("Not right? swardbook plan undo")
    payload = {"zone": found.zone.name, "outline": to_plain(found.zone.outline),
               "drawn_area_m2": found.area_m2, "notes": list(found.notes)}  # fmt: skip
    door.show(payload, lines, book)


def _payload(plan: GroundPlan) -> dict[str, Any]:
    return {
        "day": plan.day.isoformat(),
        "layer": plan.layer,
        "sentence": plan.drawn.sentence,
        "areas": [
            {"kind": each.kind, "name": each.name, "zone": each.zone, "says": each.says,
             "drawn": each.is_drawn,
             "rings_m": [[list(corner) for corner in ring] for ring in each.rings]}
            for each in plan.drawn.areas
        ],
        "marks": [
            {"kind": each.kind, "name": each.name, "zone": each.zone, "says": each.says,
             "label": each.label, "east_m": each.at[0], "north_m": each.at[1]}
            for each in plan.drawn.marks
        ],
        "not_drawn_yet": list(plan.undrawn),
        "not_placed_yet": plan.unplaced,
    }  # fmt: skip
