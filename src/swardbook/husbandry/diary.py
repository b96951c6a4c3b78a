"""The diary: what was done and seen; it only grows."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from uuid import UUID

from swardbook.foundation.dates import When
from swardbook.husbandry.happenings import Happening
from swardbook.husbandry.where import Where


@dataclass(frozen=True, slots=True)
class DiaryEntry:
    """One thing that was done or seen.

    Parameters
    ----------
    id : UUID
        Made on the device that wrote it, so that sending twice stores once.
    when : When
        The day it happened, or the span for "about mid-July".
    what : Happening
        The operation or observation.
    zone : str
        Name of the zone; empty for the whole site.
    who : str
        Who did or saw it.
    hours : float or None
        Hours of work, all people together. [h]
    money : Decimal or None
        What it cost, in the currency of the site.
    note : str
        Anything else, kept as typed.
    number : int
        How many alike things an undated entry stands for ("about five in mid-July").
    corrects : UUID or None
        The entry this one puts right; the old one is kept.
    written_on : date or None
        The day it was written down.
    needs_a_look : str
        Why it was parked for a second look; empty if nothing is odd.
    at : tuple of Where
        Where in its zone, if that was said; several where it is about several spots.
    private : bool
        Whether its words are for owners and workers alone; what was done still counts.
    also_corrects : tuple of UUID
        Corrections of the same entry beside the one that stood, which this one replaces too.
    """

    id: UUID
    when: When
    what: Happening
    zone: str = ""
    who: str = ""
    hours: float | None = None
    money: Decimal | None = None
    note: str = ""
    number: int = 1
    corrects: UUID | None = None
    written_on: date | None = None
    needs_a_look: str = ""
    at: tuple[Where, ...] = ()
    private: bool = field(default=False, metadata={"only_if_said": True})
    also_corrects: tuple[UUID, ...] = field(default=(), metadata={"only_if_said": True})

    @property
    def replaces(self) -> tuple[UUID, ...]:
        """The ids of all entries whose place it takes."""
        return () if self.corrects is None else (self.corrects, *self.also_corrects)

    @property
    def day(self) -> date:
        """The day it happened, or the middle of its span."""
        return self.when.day
