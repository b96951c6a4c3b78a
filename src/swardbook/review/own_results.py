"""What one's own plots and past sowings say of a mixture; nothing is ranked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from swardbook.evidence.estimates import Estimate
from swardbook.handbook.parameters import value
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.observations.estimating import estimate_kind
from swardbook.observations.occasions import Occasion
from swardbook.review.records import occasions_of, treated

MEADOW_GRASS = ANNUAL_MEADOW_GRASS
SPEAKS_FOR, SPEAKS_AGAINST, CLOSE = "speaks for it", "speaks against it", "too close to call"
NOT_COUNTED = "not counted since"
NOT_HELD = "counted in plants, so not held against a share"


@dataclass(frozen=True, slots=True)
class OwnResult:
    """One past sowing of a mixture, and the last count of it.

    Parameters
    ----------
    zone : str
        Where.
    lot : str
        Which lot.
    sown_on : date
        When.
    is_plots : bool
        Whether it stands in plots of a trial.
    counted_on : date or None
        The day of the last count since; None if there is none.
    estimate : Estimate or None
        Annual meadow-grass on that day.
    limit : float
        Share of annual meadow-grass that is fine where the mixture is wanted. [-]
    says : str
        What it says against that limit.
    beside : tuple of str
        What has to be said beside it.
    """

    zone: str
    lot: str
    sown_on: date
    is_plots: bool
    counted_on: date | None
    estimate: Estimate | None
    limit: float
    says: str
    beside: tuple[str, ...]


def own_results(ground: Ground, mixture: str, wanted: Zone) -> tuple[OwnResult, ...]:
    """Find past sowings of a mixture and hold their last counts against a zone's tolerance.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    mixture : str
        Name of the mixture.
    wanted : Zone
        The zone it is wanted for.
    """
    lots = {lot.code.casefold() for lot in ground.lots if _is(lot.mixture, mixture)}
    if not lots:
        return ()
    return tuple(
        _result(ground, zone, code, day, mixture, wanted)
        for zone in ground.zones
        for code, day in _sown(ground, zone, lots)
    )


def _sown(ground: Ground, zone: Zone, lots: set[str]) -> Iterator[tuple[str, date]]:
    """Give each lot that stands in a zone with the day it was first sown there."""
    first: dict[str, date] = {}
    for entry in ground.entries(zone.name):
        if isinstance(entry.what, Sow) and entry.what.lot.casefold() in lots and entry.zone:
            first.setdefault(entry.what.lot, entry.day)
    yield from first.items()


def _result(
    ground: Ground, zone: Zone, code: str, sown_on: date, mixture: str, wanted: Zone
) -> OwnResult:
    plots = [
        plot.name
        for plot in ground.plots
        if _is(plot.zone, zone.name) and _is(plot.mixture, mixture) and plot.left_out_from is None
    ]
    counted, estimate = _last_count(ground, zone, plots, sown_on)
    limit = wanted.tolerance.annual_meadow_grass
    return OwnResult(
        zone.name, code, sown_on, bool(plots), counted, estimate, limit,
        _says(estimate, limit), _beside(zone, wanted, plots, sown_on, counted),
    )  # fmt: skip


def _last_count(
    ground: Ground, zone: Zone, plots: list[str], sown_on: date
) -> tuple[date | None, Estimate | None]:
    for occasion in reversed(occasions_of(ground, zone.name)):
        if occasion.day <= sown_on:
            break
        part: Occasion = occasion.only(plots) if plots else treated(ground, zone.name, occasion)
        for made in estimate_kind(part.places, MEADOW_GRASS):
            if made.estimate is not None:
                return occasion.day, made.estimate
    return None, None


def _says(estimate: Estimate | None, limit: float) -> str:
    if estimate is None:
        return NOT_COUNTED
    if estimate.unit != "%":
        return NOT_HELD
    if estimate.interval.high <= 100 * limit:
        return SPEAKS_FOR
    return SPEAKS_AGAINST if estimate.interval.low > 100 * limit else CLOSE


def _beside(
    zone: Zone, wanted: Zone, plots: list[str], sown_on: date, counted: date | None
) -> tuple[str, ...]:
    told = []
    if counted is not None and (counted - sown_on).days < value("choose.end_state_days"):
        told.append("so far: under ten months from sowing")
    if plots and len(plots) < 3:
        told.append("fewer than three plots: a description only")
    if not plots and counted is not None:
        told.append("one zone: it is about that ground as much as about the mixture")
    if zone.height_of_cut_mm != wanted.height_of_cut_mm:
        told.append(f"cut at {zone.height_of_cut_mm:g} mm there")
    return tuple(told)


def _is(one: str, other: str) -> bool:
    return one.strip().casefold() == other.strip().casefold()
