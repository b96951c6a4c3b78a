"""What was seen in a zone, as the diary holds it, in the form that learning reads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.observations.counts import Method, PlaceCount

MEADOW_GRASS = "annual meadow-grass"


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen on one day, of one kind of looking.

    Parameters
    ----------
    day : date
        The day; held against the evening before, or against its own evening after the day's work.
    places : tuple of PlaceCount
        Treated places counted.
    pulled : float or None
        Plants pulled in one pass. [-]
    walked_m2 : float or None
        Ground walked without finding any. [m²]
    species : str
        Key of the species pulled, walked for, or looked at.
    clumps : float or None
        Clumps standing in the zone in all. [-]
    dug : float or None
        Clumps dug out in one pass. [-]
    hours : float or None
        Hours that the digging took, if they were said. [h]
    tufts : tuple of float or None
        Tufts with heads, and tufts looked at; None with heads is at least one. [-]
    regrown : tuple of float or None
        Clumps grown again, and clumps looked at, dug with the margin. [-]
    """

    day: date
    places: tuple[PlaceCount, ...] = ()
    pulled: float | None = None
    walked_m2: float | None = None
    species: str = MEADOW_GRASS
    clumps: float | None = None
    dug: float | None = None
    hours: float | None = None
    tufts: tuple[float | None, float] | None = None
    regrown: tuple[float, float] | None = None

    @property
    def is_after_work(self) -> bool:
        """Whether it was seen after the day's work: tufts are looked at after a cut."""
        return self.tufts is not None

    @property
    def order(self) -> tuple[date, bool, bool, str]:
        """Where it stands among the things seen: counts first, then pulls, then tufts."""
        return self.day, self.is_after_work, not self.places, self.species

    def kinds_by_points(self) -> frozenset[str]:
        """Kinds that were looked for by points."""
        return frozenset(
            kind for place in self.places if place.method is Method.POINTS for kind in place.found
        )
