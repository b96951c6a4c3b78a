"""What can stand in a diary: operations, observations, closures and notes, as plain values.

Each class has a ``kind``, the word it is stored and asked for under. Fields are canonical units;
None means "not said", which is never read as no.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.clumps import CleanDown, ClumpCheck, DigClumps
from swardbook.husbandry.parked import Parked
from swardbook.husbandry.photographs import Photograph
from swardbook.husbandry.plot_records import PlotCare, PlotReadings
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.observations.counts import PlaceCount

__all__ = [
    "KINDS", "Attachment", "CleanDown", "ClumpCheck", "DigClumps", "Happening", "Photograph",
    "PlotCare", "PlotReadings",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut."""

    kind: ClassVar[str] = "cut"
    height_of_cut_mm: float | None = None
    boxed: bool | None = None
    filled_box: bool | None = None
    """Whether the box was filled, a sign of growth."""
    line_deg: float | None = None
    """Direction against the long side. [°]"""


@dataclass(frozen=True, slots=True)
class Verticut:
    """A verticut: blades slice into the sward, above or just at the soil."""

    kind: ClassVar[str] = "verticut"
    depth_mm: float | None = None
    datum: str = "below height of cut"
    """``below height of cut``, ``above soil`` or ``below surface``."""
    line_deg: float | None = None
    """Direction against the long side. [°]"""
    passes: int = 1
    boxed: bool | None = None


@dataclass(frozen=True, slots=True)
class Scarify:
    """A scarifying pass into thatch."""

    kind: ClassVar[str] = "scarify"
    depth_mm: float | None = None
    line_deg: float | None = None
    passes: int = 1
    spoil_m3: float | None = None


@dataclass(frozen=True, slots=True)
class Tine:
    """Hollow or solid tining."""

    kind: ClassVar[str] = "tine"
    hollow: bool = True
    diameter_mm: float | None = None
    spacing_mm: float | None = None
    depth_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Dress:
    """A topdressing."""

    kind: ClassVar[str] = "dress"
    material: str = ""
    rate_g_m2: float | None = None
    depth_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Brush:
    """Brushing or raking: dew, casts, leaves or heads."""

    kind: ClassVar[str] = "brush"
    tool: str = "brush"
    lifted_heads: bool = False


@dataclass(frozen=True, slots=True)
class Roll:
    """A rolling."""

    kind: ClassVar[str] = "roll"


@dataclass(frozen=True, slots=True)
class Strip:
    """Turf stripped off."""

    kind: ClassVar[str] = "strip"
    depth_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Sow:
    """A sowing.

    `method` is a sowing method of the handbook: ``seedbed``, ``slit``, ``broadcast on scarified``
    or ``broadcast on sward``. `area_m2` below the zone's area is a part sowing.
    """

    kind: ClassVar[str] = "sow"
    lot: str = ""
    rate_g_m2: float | None = None
    area_m2: float | None = None
    used_g: float | None = None
    method: str = "seedbed"
    watered: bool | None = None


@dataclass(frozen=True, slots=True)
class Refill:
    """Holes refilled with soil and seed."""

    kind: ClassVar[str] = "refill"
    lot: str = ""
    holes: int | None = None
    hole_mm: float | None = None
    used_g: float | None = None
    area_m2: float | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class RefillCheck:
    """Refills looked at again."""

    kind: ClassVar[str] = "refill check"
    looked: int = 0
    taken: int = 0
    sown_on: date | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class Pull:
    """Weed grass pulled or dug, plant by plant, in one pass."""

    kind: ClassVar[str] = "pull"
    species: str = ANNUAL_MEADOW_GRASS
    plants: int | None = None
    area_m2: float | None = None
    pass_name: str = ""
    """``A`` and ``B`` for the two passes of one removal."""
    people: int | None = None


@dataclass(frozen=True, slots=True)
class Feed:
    """A feed: product and its label figures (oxides as printed)."""

    kind: ClassVar[str] = "feed"
    product: str = ""
    rate_g_m2: float | None = None
    nitrogen_percent: float | None = None
    p2o5_percent: float = 0.0
    k2o_percent: float = 0.0
    iron_percent: float = 0.0
    watered_in: bool | None = None

    @property
    def nitrogen_g_m2(self) -> float | None:
        """Nitrogen given [g m⁻²]."""
        if self.rate_g_m2 is None or self.nitrogen_percent is None:
            return None
        return self.rate_g_m2 * self.nitrogen_percent / 100


@dataclass(frozen=True, slots=True)
class Water:
    """A watering; minutes become mm only where the rate is known."""

    kind: ClassVar[str] = "water"
    depth_mm: float | None = None
    litres: float | None = None
    minutes: float | None = None
    by: str = ""
    """``hose``, ``can``, ``tank`` or ``sprinkler``; empty if not said."""
    place: str = ""
    """``seedbed``, ``refills`` or empty for the sward."""


@dataclass(frozen=True, slots=True)
class HoldOff:
    """A job not done, with the reason; restraint is worth recording."""

    kind: ClassVar[str] = "hold-off"
    job: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Heads:
    """Heads of a weed grass looked for."""

    kind: ClassVar[str] = "heads"
    seen: bool = True
    species: str = ANNUAL_MEADOW_GRASS
    share_of_tufts: float | None = None


@dataclass(frozen=True, slots=True)
class TuftCheck:
    """Tufts looked at after a cut: how many still carry heads."""

    kind: ClassVar[str] = "tuft check"
    tufts: int = 0
    with_heads: int = 0


@dataclass(frozen=True, slots=True)
class TugTest:
    """A seedling tugged: the leaf tears (passed) or the roots give."""

    kind: ClassVar[str] = "tug test"
    passed: bool = False
    species: str = ""


@dataclass(frozen=True, slots=True)
class Frost:
    """Frost seen: ``frost``, ``thawed`` or ``frozen ground``."""

    kind: ClassVar[str] = "frost"
    state: str = "frost"


@dataclass(frozen=True, slots=True)
class Underfoot:
    """The ground underfoot: ``firm``, ``soft``, ``waterlogged``, ``standing water`` or ``dry``."""

    kind: ClassVar[str] = "underfoot"
    state: str = "firm"


@dataclass(frozen=True, slots=True)
class DroughtSign:
    """Footprinting or off-colour looked for."""

    kind: ClassVar[str] = "drought sign"
    seen: bool = True


@dataclass(frozen=True, slots=True)
class Disease:
    """A disease or pest seen."""

    kind: ClassVar[str] = "disease"
    name: str = ""
    active: bool = True
    area_m2: float | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """A measured number: sward height, soil temperature, rain, infiltration, thatch, pH ..."""

    kind: ClassVar[str] = "reading"
    quantity: str = ""
    value: float = 0.0
    unit: str = ""


@dataclass(frozen=True, slots=True)
class GerminationTest:
    """Seeds of a lot set to germinate."""

    kind: ClassVar[str] = "germination test"
    lot: str = ""
    seeds: int = 100
    germinated: int = 0


@dataclass(frozen=True, slots=True)
class Seedlings:
    """Seedlings seen or counted after a sowing."""

    kind: ClassVar[str] = "seedlings"
    species: str = ""
    first_seen: bool = False
    per_m2: float | None = None


@dataclass(frozen=True, slots=True)
class Count:
    """A count of one or more places on one occasion."""

    kind: ClassVar[str] = "count"
    places: tuple[PlaceCount, ...] = ()
    occasion: str = ""


@dataclass(frozen=True, slots=True)
class WalkNoneFound:
    """A walk that looked for a weed and found none."""

    kind: ClassVar[str] = "none found"
    species: str = ANNUAL_MEADOW_GRASS
    area_m2: float | None = None
    places: int | None = None
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Closure:
    """A zone or site closed to some use for a span of days."""

    kind: ClassVar[str] = "closure"
    until: date | None = None
    what: str = "play"
    """``play``, ``feet``, ``machines`` or ``hose`` (a hosepipe restriction)."""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Treatment:
    """The lawful record of a treatment a certified person made; fields only, no advice."""

    kind: ClassVar[str] = "treatment"
    product_name: str = ""
    authorisation_number: str = ""
    area_m2: float | None = None
    rate_as_typed: str = ""
    reason: str = ""
    operator: str = ""
    certificate: str = ""
    weather_as_typed: str = ""
    label_conditions: str = ""


@dataclass(frozen=True, slots=True)
class Changed:
    """Something about the ground itself was set or changed."""

    kind: ClassVar[str] = "changed"
    thing: str = ""
    before: str = ""
    after: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Plain words."""

    kind: ClassVar[str] = "note"
    text: str = ""


Happening = (
    Cut | Verticut | Scarify | Tine | Dress | Brush | Roll | Strip | Sow | Refill | RefillCheck
    | Pull | DigClumps | ClumpCheck | CleanDown | Feed | Water | HoldOff | Heads | TuftCheck
    | TugTest | Frost | Underfoot | DroughtSign | Disease | Reading | GerminationTest | Seedlings
    | Count | WalkNoneFound | Closure | Treatment | Changed | Note | Parked
    | WorkedOut | PlotReadings | PlotCare | Photograph | Attachment
)  # fmt: skip

KINDS: dict[str, type[Happening]] = {
    each.kind: each
    for each in (
        Cut, Verticut, Scarify, Tine, Dress, Brush, Roll, Strip, Sow, Refill, RefillCheck,
        Pull, DigClumps, ClumpCheck, CleanDown, Feed, Water, HoldOff, Heads, TuftCheck, TugTest,
        Frost, Underfoot, DroughtSign, Disease, Reading, GerminationTest, Seedlings, Count,
        WalkNoneFound, Closure, Treatment, Changed, Note, Parked, WorkedOut, PlotReadings, PlotCare,
        Photograph, Attachment,
    )
}  # fmt: skip
