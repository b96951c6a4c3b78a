"""The drawn plan of the ground, on any day: by stage, by weed or by seed lot."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.plan_frames import Frame, frames, plan_of
from swardbook.book.plan_layers import (
    LOT,
    STAGE,
    WEED,
    Told,
    by_lot,
    by_stage,
    by_weed,
    spot_marks,
)
from swardbook.book.plan_parts import plots_on, squares_on, strips_on
from swardbook.figures.ground_plan import (
    Area,
    GroundDrawn,
    Mark,
    Under,
    picture_of_ground,
)
from swardbook.figures.picture import Picture, Table
from swardbook.foundation.dates import say
from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.areas import outline
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.spots import Spot, spots

LAYERS: tuple[str, ...] = (STAGE, WEED, LOT)
"""What the plan can show: how far each zone is, what was counted, what was sown where."""
SPOT_SHAPES = {
    "found": "diamond", "dug": "ring", "sown": "ring-dot", "look again": "look",
    "looked at": "half", "taken": "solid", "failed": "times",
}  # fmt: skip
_BY: Mapping[str, Callable[[Ground, date, str], Told]] = {
    STAGE: by_stage, WEED: by_weed, LOT: by_lot,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class GroundPlan:
    """The plan on a day.

    Parameters
    ----------
    day : date
        The day.
    layer : str
        What it shows.
    drawn : GroundDrawn
        What is drawn.
    frames : mapping of str to Frame
        Where each zone lies.
    undrawn : tuple of str
        Zones that nobody has drawn yet.
    unplaced : int
        Pegs and squares without a place on the plan.
    spots : tuple of Spot
        The spots there are.
    """

    day: date
    layer: str
    drawn: GroundDrawn
    frames: Mapping[str, Frame]
    undrawn: tuple[str, ...]
    unplaced: int
    spots: tuple[Spot, ...]


def drawn_plan(
    book: Book, on: date | None = None, layer: str = STAGE, zone: str = "",
    kind: str = ANNUAL_MEADOW_GRASS, under: str = "",
) -> GroundPlan:  # fmt: skip
    """Draw the plan of the ground as the book has it on a day.

    Zones that nobody has drawn are laid out by their sides or area, so that it works at once.

    Parameters
    ----------
    book : Book
        The opened book.
    on : date or None
        The day; None is the book's today.
    layer : str
        One of `LAYERS`.
    zone : str
        Only this zone, in its own frame; empty for all.
    kind : str
        The weed, by key, for the layer of weeds.
    under : str
        Address of the backdrop's picture, where one is wanted.

    Raises
    ------
    UnknownNameError
        If there is no such zone or layer.
    """
    if layer not in LAYERS:
        raise UnknownNameError("layer of the plan", layer, LAYERS)
    day = on or book.today
    ground = replace(book, today=day).ground()
    only = ground.zone(zone).name if zone else ""
    where = frames(ground)
    told = _BY[layer](ground, day, kind)
    found = spots(ground.diary, day, only)
    shown = {name: frame for name, frame in where.items() if only in ("", name)}
    areas = _areas(ground, shown, told, layer, with_strips=layer == STAGE)
    seen = spot_marks(found, shown, SPOT_SHAPES)
    marks = [*seen, *_pegs(ground, shown, told)]
    if not only:
        marks = [*_points(ground), *(replace(each, size=0) for each in seen), *marks[len(seen) :]]
    drawn = GroundDrawn(
        sentence=_sentence(ground, only, told, day), key=_key(shown, told),
        areas=tuple(areas), marks=tuple(marks), legend=_legend(areas, marks, told),
        north_deg=plan_of(ground).north_deg, tables=_tables(told, found, only),
        under=_under(ground, under),
    )  # fmt: skip
    if only:
        drawn = _in_zone(drawn, where[only])
    undrawn = tuple(name for name, frame in shown.items() if not frame.is_drawn)
    unplaced = sum(peg.at is None for peg in ground.pegs if only in ("", peg.zone))
    unplaced += sum(square.at is None for square in ground.squares if only in ("", square.zone))
    return GroundPlan(day, layer, drawn, where, undrawn, unplaced, found)


def draw_plan(book: Book, plan: GroundPlan) -> Picture:
    """Draw the plan as a picture with its words."""
    return picture_of_ground(plan.drawn, note_of(book))


def _areas(
    ground: Ground, shown: Mapping[str, Frame], told: Told, layer: str, with_strips: bool
) -> list[Area]:  # fmt: skip
    found = [
        Area("zone", name, frame.outline.on_site, told.pattern(name), told.says(name), name,
             frame.is_drawn)
        for name, frame in shown.items()
    ]  # fmt: skip
    found.sort(key=lambda area: -outline(area.rings[0])[0])
    for name, frame in shown.items():
        if with_strips:
            found += strips_on(ground, name, frame)
        found += plots_on(ground, name, frame, told.lots if layer == LOT else {})
        found += squares_on(ground, name, frame)
    return found


def _pegs(ground: Ground, shown: Mapping[str, Frame], told: Told) -> list[Mark]:
    return [
        told.mark(peg.name, peg.zone, shown[peg.zone].on_site(peg.at.point), peg.sketch)
        for peg in ground.pegs
        if peg.at is not None and peg.zone in shown
    ]


def _points(ground: Ground) -> list[Mark]:
    return [
        Mark("point", each.name, (each.east_m, each.north_m), "point", "fixed point",
             label=each.name)
        for each in plan_of(ground).points
    ]  # fmt: skip


def _under(ground: Ground, address: str) -> Under | None:
    backdrop = plan_of(ground).backdrop
    if backdrop is None or not address:
        return None
    return Under(address, backdrop.wide_px, backdrop.high_px, backdrop.on_picture,
                 backdrop.on_ground)  # fmt: skip


def _in_zone(drawn: GroundDrawn, frame: Frame) -> GroundDrawn:
    """Shift what is drawn into a zone's own frame, in which places in it are told."""
    areas = tuple(
        replace(area, rings=tuple(tuple(map(frame.in_zone, ring)) for ring in area.rings))
        for area in drawn.areas
    )
    marks = tuple(replace(mark, at=frame.in_zone(mark.at)) for mark in drawn.marks)
    under = drawn.under
    if under is not None:
        under = replace(under, on_ground=tuple(map(frame.in_zone, under.on_ground)))
    return replace(drawn, areas=areas, marks=marks, under=under)


def _sentence(ground: Ground, zone: str, told: Told, day: date) -> str:
    return f"{zone or ground.site.name}, {told.title}, {say(day)}."


def _key(shown: Mapping[str, Frame], told: Told) -> str:
    undrawn = [name for name, frame in shown.items() if not frame.is_drawn]
    if not undrawn:
        return told.key
    if len(undrawn) == len(shown):
        each = "Its shape is" if len(undrawn) == 1 else "Shapes and places are"
        return f"{told.key} Not drawn yet: {each} laid out by sides or area.".strip()
    names = ", ".join(undrawn)
    return f"{told.key} Dashed, not drawn yet: {names}; laid out by sides or area.".strip()


def _legend(areas: list[Area], marks: list[Mark], told: Told) -> tuple[tuple[str, str], ...]:
    used = {area.pattern for area in areas if area.kind in {"zone", "plot"}}
    lines = [(pattern, words) for pattern, words in told.legend if pattern in used]
    kinds = {mark.kind for mark in marks}
    if "peg" in kinds:
        lines += [(shape, words) for shape, words in told.peg_legend
                  if any(mark.shape == shape for mark in marks if mark.kind == "peg")]  # fmt: skip
    shapes = {mark.shape for mark in marks if mark.kind == "spot"}
    lines += [(shape, f"spot: {state}") for state, shape in SPOT_SHAPES.items() if shape in shapes]
    if "point" in kinds:
        lines.append(("point", "fixed point"))
    if any(area.kind == "square" for area in areas):
        lines.append(("square", "honest square, left alone"))
    if any(area.kind == "strip" for area in areas):
        lines.append(("upright", "verticut strip, treated"))
    return tuple(lines)


def _tables(told: Told, found: tuple[Spot, ...], zone: str) -> tuple[Table, ...]:
    rows = tuple(row for row in told.rows if zone in ("", row[0]))
    tables = [Table("Zones", told.heads, rows)]
    if found:
        cells = tuple(
            (each.name, each.zone, each.state.value, f"{each.at.east_m:.1f}",
             f"{each.at.north_m:.1f}", each.lot)
            for each in found
        )  # fmt: skip
        heads = ("spot", "zone", "state", "m east", "m north", "lot")
        tables.append(Table("Spots", heads, cells))
    return tuple(tables)
