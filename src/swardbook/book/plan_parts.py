"""What lies inside zones on the plan: plots of a trial, strips set out, honest squares."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

from swardbook.book.machines import read_sides
from swardbook.book.plan_frames import Frame
from swardbook.book.trial_kept import kept_layout
from swardbook.book.verticutting import STRIPS
from swardbook.book.worked_out import last_answer
from swardbook.figures.ground_plan import Area
from swardbook.foundation.dates import say
from swardbook.husbandry.areas import Point
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.places import box_of
from swardbook.planning.strip_trial import laid_again


def plots_on(
    ground: Ground, zone: str, frame: Frame, patterns: Mapping[str, str]
) -> list[Area]:  # fmt: skip
    """Give the plots of a zone's trial where they lie; none where their size was not kept.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone.
    frame : Frame
        Where it lies.
    patterns : mapping of str to str
        Pattern of each mixture; plain where it has none.
    """
    laid = kept_layout(ground, zone)
    if laid is None:
        return []
    plots = {plot.name: plot for plot in ground.plots if plot.zone == zone}
    size = (laid.size.width_m, laid.size.length_m)
    is_turned = _is_turned(frame, (laid.width_m, laid.length_m))
    return [
        Area("plot", each.name, (_box(frame, each.corner_m, size, is_turned),),
             patterns.get(plots[each.name].mixture, "plain"), _plot_words(plots[each.name]), zone)
        for each in laid.plots
        if each.name in plots
    ]  # fmt: skip


def strips_on(ground: Ground, zone: str, frame: Frame) -> list[Area]:
    """Give the strips or squares of a verticut trial that was kept in a zone.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone.
    frame : Frame
        Where it lies.
    """
    kept = last_answer(ground, STRIPS, zone)
    if kept is None:
        return []
    answer = kept.answer
    sides = read_sides(answer.given["sides"])
    treated, pairs = answer.named["treated"].split(","), round(answer.found["pairs"])
    pieces = laid_again(answer.named["way"], sides, answer.found["width_m"], pairs, treated)
    is_turned = _is_turned(frame, sides)
    return [
        Area("strip", each.name, (_box(frame, each.corner_m, each.size_m, is_turned),),
             "upright" if each.is_treated else "plain",
             "treated" if each.is_treated else "left", zone)
        for each in pieces
    ]  # fmt: skip


def squares_on(ground: Ground, zone: str, frame: Frame) -> list[Area]:
    """Give the honest squares of a zone that were placed.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone.
    frame : Frame
        Where it lies.
    """
    found = []
    for square in ground.squares:
        if square.zone == zone and square.at is not None:
            side = sqrt(square.area_m2)
            corner = (square.at.east_m - side / 2, square.at.north_m - side / 2)
            ring = _box(frame, corner, (side, side), is_turned=False)
            since = f", left alone since {say(square.since)}" if square.since else ""
            says = f"honest square of {square.area_m2:g} m²{since}"
            found.append(Area("square", square.name, (ring,), "plain", says, zone))
    return found


def _plot_words(plot: Plot) -> str:
    out = f"; out: {plot.why_left_out.rstrip('.')}" if plot.why_left_out else ""
    sown = f" (planned: {plot.planned})" if plot.sown and plot.sown != plot.planned else ""
    return f"{plot.mixture}{sown}{out}"


def _is_turned(frame: Frame, size: tuple[float, float]) -> bool:
    """Tell whether what was laid out across and along fits the zone only the other way round."""
    west, south, east, north = box_of(frame.outline.rings)
    is_wide = east - west > north - south
    return is_wide != (size[0] > size[1])


def _box(
    frame: Frame, corner: Point, size: tuple[float, float], is_turned: bool
) -> tuple[Point, ...]:  # fmt: skip
    (x, y), (wide, long) = corner, size
    if is_turned:
        x, y, wide, long = y, x, long, wide
    ring = ((x, y), (x + wide, y), (x + wide, y + long), (x, y + long))
    return tuple(map(frame.on_site, ring))
