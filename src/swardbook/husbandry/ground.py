"""The ground: a site with its zones, and the places in them that are come back to."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from functools import cached_property

from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.quantities import height_hint, require
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.where import Outline, SitePlan, Where
from swardbook.seed.lot import SeedLot


class Use(StrEnum):
    """What a zone is for."""

    FAMILY_LAWN = "family lawn"
    ORNAMENTAL = "ornamental"
    COURT_OR_GREEN = "court or green"
    PLAY = "play"
    SURROUND = "surround"
    TRIAL = "trial"
    NURSERY = "nursery"


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What is fine there; verdicts and tasks are against this, not against zero.

    Parameters
    ----------
    annual_meadow_grass : float
        Share of ground cover that is fine. [-]
    bare : float
        Share of bare ground that is fine. [-]
    clumps : int
        Clumps of coarse weed grass that are fine in the zone.
    """

    annual_meadow_grass: float
    bare: float
    clumps: int


@dataclass(frozen=True, slots=True)
class Mower:
    """What a zone is cut with.

    Parameters
    ----------
    kind : str
        ``cylinder`` or ``rotary``.
    width_mm : float
        Width of cut. [mm]
    has_box : bool
        Whether it can collect.
    lowest_mm : float or None
        Lowest height of cut it can be set to. [mm]
    """

    kind: str = "rotary"
    width_mm: float = 410.0
    has_box: bool = True
    lowest_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of a site that behaves alike."""

    name: str
    area_m2: float
    use: Use
    tolerance: Tolerance
    height_of_cut_mm: float
    mower: Mower = Mower()
    soil: str = "loam"
    """Texture key of the handbook."""
    sun_hours: float | None = None
    iron_stains_near: bool = False
    note: str = ""
    sides: str = ""
    """What a tape gave of its shape, as typed; empty if it was not taped."""
    outline: Outline | None = None
    """As drawn on the plan; none until it is."""

    def __post_init__(self) -> None:
        require("area", self.area_m2, 0.01, 1e7, "m2")
        height = self.height_of_cut_mm
        require("height of cut", height, 2, 150, "mm", height_hint(height))


@dataclass(frozen=True, slots=True)
class Peg:
    """A fixed place to come back to and count."""

    name: str
    zone: str
    sketch: str = ""
    """How to find it: two tape distances, or words."""
    at: Where | None = None
    """Where it is in its zone, if it was placed on the plan."""


@dataclass(frozen=True, slots=True)
class HonestSquare:
    """One scattered square of the honest strip (untreated control)."""

    name: str
    zone: str
    area_m2: float = 1.0
    since: date | None = None
    heads_boxed: bool = True
    sketch: str = ""
    at: Where | None = None
    """Where its middle is in its zone, if it was placed on the plan."""


@dataclass(frozen=True, slots=True)
class Plot:
    """One plot of a trial: as planned and as it happened."""

    name: str
    zone: str
    block: int
    number: int
    planned: str
    sown: str = ""
    """Mixture as sown where it differs; empty if as planned."""
    left_out_from: date | None = None
    why_left_out: str = ""
    row: int = 0
    """Row on the ground, from 1 at the end where block 1 lies; 0 if not known."""
    column: int = 0
    """Column on the ground, from 1; 0 if not known."""
    treatment: str = ""
    """What it gets beyond its mixture in a split plot: a height of cut or a feed."""

    @property
    def mixture(self) -> str:
        """The mixture that was really sown."""
        return self.sown or self.planned


@dataclass(frozen=True, slots=True)
class Site:
    """A place with one weather and one owner."""

    name: str
    latitude: float
    elevation_m: float
    weekly_hours: float | None = None
    """Hours of work there are in a week. [h]"""
    hose_l_min: float | None = None
    """Water at the tap. [L min⁻¹]"""
    no_machines_on: tuple[str, ...] = ()
    """Weekdays closed to machines, in lower case."""
    currency: str = "GBP"
    units: str | None = None
    """What quantities are shown in; none: metric."""
    decimal_mark: str | None = None
    made_up_today: date | None = None
    """A made-up book carries its own today."""
    plan: SitePlan | None = None
    """What the drawn plan has beyond the zones."""

    def __post_init__(self) -> None:
        require("latitude", self.latitude, -66, 66, "°", "South is negative.")
        require("elevation", self.elevation_m, -400, 5000, "m")


@dataclass(frozen=True)
class Ground:
    """Everything one book says of one site, as it stands: what the pure core works on.

    `diary` holds the standing entries (a corrected entry is replaced by its correction), in the
    order in which things happened.
    """

    site: Site
    zones: tuple[Zone, ...] = ()
    pegs: tuple[Peg, ...] = ()
    squares: tuple[HonestSquare, ...] = ()
    plots: tuple[Plot, ...] = ()
    lots: tuple[SeedLot, ...] = ()
    diary: tuple[DiaryEntry, ...] = field(default=())

    def zone(self, name: str) -> Zone:
        """Find a zone by name, case-blind.

        Raises
        ------
        UnknownNameError
            If there is none; offers the nearest names.
        """
        for zone in self.zones:
            if zone.name.casefold() == name.strip().casefold():
                return zone
        raise UnknownNameError("zone", name, [zone.name for zone in self.zones])

    def lot(self, code: str) -> SeedLot:
        """Find a lot by its code, case-blind.

        Raises
        ------
        UnknownNameError
            If there is none; offers the nearest codes.
        """
        for lot in self.lots:
            if lot.code.casefold() == code.strip().casefold():
                return lot
        raise UnknownNameError("lot", code, [lot.code for lot in self.lots])

    def entries(self, zone: str, kind: str = "") -> tuple[DiaryEntry, ...]:
        """Give what happened in a zone (or on the whole site), of one kind or of any."""
        place = zone.casefold()
        if (place, kind) not in self._found:
            if kind:
                found = [each for each in self.entries(zone) if each.what.kind == kind]
            else:
                found = [each for each in self.diary if each.zone.casefold() in {"", place}]
            self._found[place, kind] = tuple(found)
        return self._found[place, kind]

    def entries_of(self, zone: str, sort: type) -> tuple[DiaryEntry, ...]:
        """Give what happened in a zone (or on the whole site), of one class."""
        key = (zone.casefold(), sort)
        if key not in self._found:
            self._found[key] = tuple(
                each for each in self.entries(zone) if isinstance(each.what, sort)
            )
        return self._found[key]

    @cached_property
    def _found(self) -> dict[tuple[str, str | type], tuple[DiaryEntry, ...]]:
        """Entries that were asked for before: one answer asks for the same hundreds of times."""
        return {}
