"""What stands beside a trial's figures: height, cost, slowness, what cannot be undone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from swardbook.book.from_seed import stands_in
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.husbandry.ground import Ground, Use, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.seed import Comfort, weigh_comfort
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.seed.mixture import OTHERS
from swardbook.seed.suiting import Place, weigh_suits


@dataclass(frozen=True, slots=True)
class MixtureBeside:
    """One mixture, apart from how its plots did.

    Parameters
    ----------
    name, lot : str
        The mixture and its lot.
    rate_g_m2 : float or None
        Rate it was sown at. [g m⁻²]
    cost_m2 : Decimal or None
        Seed for a square metre at that rate; None where no price is known. [currency m⁻²]
    comfort : Comfort
        Its components against the height the trial is cut at.
    cannot_be_undone : tuple of str
        What cannot be taken back where it is wanted for.
    slow_share : float
        Share of its weight that is of kinds that come up late. [-]
    """

    name: str
    lot: str
    rate_g_m2: float | None
    cost_m2: Decimal | None
    comfort: Comfort
    cannot_be_undone: tuple[str, ...]
    slow_share: float

    @property
    def is_slow(self) -> bool:
        """Whether it is slow by nature."""
        return self.slow_share >= value("trial.slow_share")


def mixtures_beside(
    ground: Ground, zone: str, for_zone: str, today: date
) -> tuple[dict[str, MixtureBeside], str]:
    """Give what stands beside the mixtures of a trial.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone of the trial.
    for_zone : str
        Zone that a mixture is wanted for; none takes the largest that is no trial.
    today : date
        The day it is asked.

    Returns
    -------
    dict of str to MixtureBeside
        By name of mixture.
    str
        The zone it is judged for; empty where there is none.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    target = ground.zone(for_zone) if for_zone else _largest(ground)
    trial = ground.zone(zone)
    found = {}
    for code, what in _sown(ground, zone).items():
        lot = ground.lot(code)
        if any(part.species != OTHERS for part in lot.parts):
            found[lot.mixture] = _beside(ground, lot, what, trial, target, today)
    return found, "" if target is None else target.name


def _beside(
    ground: Ground, lot: SeedLot, what: Sow, trial: Zone, target: Zone | None, today: date
) -> MixtureBeside:
    undone: tuple[str, ...] = ()
    if target is not None:
        place = Place(
            target.use.value, target.height_of_cut_mm, stands=stands_in(ground, target, today)
        )
        undone = weigh_suits(lot.parts, place).cannot_be_undone
    cost = None
    if lot.price_per_kg and what.rate_g_m2 is not None:
        whole = Decimal(lot.price_per_kg) * Decimal(repr(what.rate_g_m2)) / 1000
        cost = whole.quantize(Decimal("0.001"))
    return MixtureBeside(
        lot.mixture, lot.code, what.rate_g_m2, cost,
        weigh_comfort(lot.parts, trial.height_of_cut_mm), undone, _slow(lot.parts),
    )  # fmt: skip


def _slow(parts: tuple[LotPart, ...]) -> float:
    slow = 0.0
    for part in parts:
        if part.species != OTHERS:
            seen = find_species(part.species).first_seen_15c_days
            if seen is not None and seen.value > value("trial.slow_emergence"):
                slow += part.share_by_weight
    return slow


def _sown(ground: Ground, zone: str) -> dict[str, Sow]:
    return {
        entry.what.lot: entry.what for entry in ground.entries(zone, Sow.kind)
        if isinstance(entry.what, Sow) and entry.zone == zone and entry.what.lot
    }  # fmt: skip


def _largest(ground: Ground) -> Zone | None:
    places = [each for each in ground.zones if each.use not in (Use.TRIAL, Use.NURSERY)]
    return max(places, key=lambda each: each.area_m2, default=None)
