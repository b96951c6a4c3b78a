"""What is done at a spot, as it is tapped on a phone, and the entry it makes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swardbook.book.opening import Book
from swardbook.book.plan_drawing import drawn_plan
from swardbook.book.plan_frames import fixed_points, frames
from swardbook.book.units import shown_in
from swardbook.figures.ground_plan import NARROW, Drawn, plan_for_page
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.happenings import Refill, Sow


@dataclass(frozen=True, slots=True)
class SpotJob:
    """One thing that is done at a spot.

    Parameters
    ----------
    key : str
        Its name in a form.
    word : str
        What it is called.
    kind : str
        Kind of the entry.
    fields : mapping of str to str
        Its fields.
    asks : str
        What else is asked: ``lot``, ``margin_mm`` or empty.
    """

    key: str
    word: str
    kind: str
    fields: Mapping[str, str]
    asks: str = ""


JOBS = (
    SpotJob("dug", "Clump dug out", "dig clumps", {"clumps": "1"}, "margin_mm"),
    SpotJob("pulled", "Plant pulled", "pull", {"plants": "1"}),
    SpotJob("refilled", "Hole refilled", "refill", {"holes": "1"}, "lot"),
    SpotJob("taken", "Refill has taken", "refill check", {"looked": "1", "taken": "1"}),
    SpotJob("failed", "Refill has failed", "refill check", {"looked": "1", "taken": "0"}),
    SpotJob("back", "Clump has come back", "clump check", {"looked": "1", "regrown": "1"}),
)


@dataclass(frozen=True, slots=True)
class ZoneToTouch:
    """A zone drawn in its own frame, to be touched.

    Parameters
    ----------
    name : str
        The zone.
    drawn : Drawn
        Its plan.
    spots : tuple of (str, float, float, str)
        Spots there are: name, east, north [m] and state.
    lot : str
        The lot it was last sown or refilled with; empty if none is known.
    is_drawn : bool
        Whether somebody drew it.
    """

    name: str
    drawn: Drawn
    spots: tuple[tuple[str, float, float, str], ...]
    lot: str
    is_drawn: bool


@dataclass(frozen=True, slots=True)
class SpotForms:
    """All that a phone needs to place a spot without signal.

    Parameters
    ----------
    zones : tuple of ZoneToTouch
        Every zone.
    points : tuple of str
        Fixed points to tape from.
    lots : tuple of str
        Lots by code.
    """

    zones: tuple[ZoneToTouch, ...]
    points: tuple[str, ...]
    lots: tuple[str, ...]


def spot_forms(book: Book) -> SpotForms:
    """Draw every zone in its own frame, with its spots, to be touched."""
    ground, units = book.ground(), shown_in(book.settings, book)
    zones = []
    for zone in ground.zones:
        plan = drawn_plan(book, zone=zone.name)
        lots = [each.what.lot for each in ground.entries(zone.name)
                if isinstance(each.what, Sow | Refill) and each.what.lot]  # fmt: skip
        found = tuple(
            (spot.name, spot.at.east_m, spot.at.north_m, spot.state.value) for spot in plan.spots
        )
        drawn = plan_for_page(plan.drawn, wide=NARROW, units=units)
        zones.append(
            ZoneToTouch(zone.name, drawn, found, lots[-1] if lots else "", not plan.undrawn)
        )
    points = tuple(fixed_points(ground, frames(ground)))
    return SpotForms(tuple(zones), points, tuple(lot.code for lot in ground.lots))


def spot_job(key: str) -> SpotJob:
    """Find what is done at a spot by its name in a form.

    Raises
    ------
    UnknownNameError
        If there is no such job.
    """
    for job in JOBS:
        if job.key == key:
            return job
    raise UnknownNameError("job at a spot", key, [job.key for job in JOBS])
