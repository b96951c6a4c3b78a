"""From any blade back to the bag: every lot that was put at a place, the newest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from swardbook.book.opening import Book
from swardbook.book.plan_frames import frames, zone_at
from swardbook.book.plan_parts import plots_on
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Refill, Sow
from swardbook.husbandry.places import is_inside
from swardbook.husbandry.spots import spot_at, spots

_WHOLE = 0.98
"""A sowing of this share of its zone or more is one of the whole."""


@dataclass(frozen=True, slots=True)
class Put:
    """One sowing or refill.

    Parameters
    ----------
    day : date
        When.
    kind : str
        ``sow`` or ``refill``.
    lot : str
        The lot; empty if it was not said.
    part : bool
        Whether it was only over a part of the zone.
    says : str
        What was put there, in a few words.
    entry : UUID
        The entry.
    """

    day: date
    kind: str
    lot: str
    part: bool
    says: str
    entry: UUID


@dataclass(frozen=True, slots=True)
class LotsThere:
    """What was sown at a place.

    Parameters
    ----------
    zone, plot, spot : str
        Where it is; empty for none.
    here : tuple of Put
        What was put there for certain, the newest first.
    perhaps : tuple of Put
        What was put somewhere in the zone, where was not said; the newest first.
    """

    zone: str
    plot: str
    spot: str
    here: tuple[Put, ...]
    perhaps: tuple[Put, ...]


def sowings_in(ground: Ground, zone: str) -> tuple[Put, ...]:
    """List the sowings and refills of a zone, oldest first.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone by name.
    """
    area = ground.zone(zone).area_m2
    found = []
    for entry in ground.entries(zone):
        what = entry.what
        if not entry.zone:
            continue
        if isinstance(what, Sow):
            part = what.area_m2 is not None and what.area_m2 < _WHOLE * area
            rate = "" if what.rate_g_m2 is None else f", {what.rate_g_m2:g} g/m²"
            over = f", {what.area_m2:g} m² of it" if part else ""
            says = f"sown, {what.method}{rate}{over}"
            found.append(Put(entry.day, "sow", what.lot, part, says, entry.id))
        elif isinstance(what, Refill):
            many = "" if what.holes is None else f" {what.holes}"
            holes = "hole" if what.holes == 1 else "holes"
            says = f"refilled,{many} {holes}"
            found.append(Put(entry.day, "refill", what.lot, True, says, entry.id))
    return tuple(found)


def last_whole(put: Sequence[Put]) -> Put | None:
    """Give the last sowing of a whole zone."""
    return next((each for each in reversed(put) if not each.part), None)


def lots_at(book: Book, east_m: float, north_m: float) -> LotsThere:
    """Tell every lot that was put at a place of the site.

    Parameters
    ----------
    book : Book
        The opened book.
    east_m, north_m : float
        From the site's own corner. [m]

    Raises
    ------
    BadInputError
        If no zone lies there.
    """
    ground = book.ground()
    found = frames(ground)
    zone = zone_at(found, (east_m, north_m))
    if not zone:
        raise BadInputError("the place", f"{east_m:g}, {north_m:g}", "a place inside a zone")
    east, north = found[zone].in_zone((east_m, north_m))
    put = sowings_in(ground, zone)
    plot = next((area.name for area in plots_on(ground, zone, found[zone], {})
                 if is_inside((east_m, north_m), area.rings)), "")  # fmt: skip
    spot = spot_at(spots(ground.diary, book.today, zone), zone, east, north)
    ours = {step.entry for step in spot.steps} if spot is not None else set()
    placed = {entry.id for entry in ground.entries(zone, Refill.kind) if entry.at}
    mixtures = {lot.code: lot.mixture for lot in ground.lots}
    known = set(mixtures.values())
    is_trial = any(each.zone == zone and each.planned in known for each in ground.plots)
    mixture = next((each.mixture for each in ground.plots
                    if each.zone == zone and each.name == plot), "")  # fmt: skip
    here, perhaps = [], []
    for each in reversed(put):
        if is_trial and each.kind == "sow":
            if plot and mixtures.get(each.lot) == mixture:
                here.append(each)
        elif not each.part or each.entry in ours:
            here.append(each)
        elif each.entry not in placed:
            perhaps.append(each)
    name = spot.name if spot is not None else ""
    return LotsThere(zone, plot, name, tuple(here), tuple(perhaps))
