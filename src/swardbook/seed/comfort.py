"""Whether every component lives with the height of cut that is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from swardbook.foundation.provenance import Sourced
from swardbook.foundation.quantities import height_hint, require
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.seed.lot import LotPart
from swardbook.seed.mixture import OTHERS


@dataclass(frozen=True, slots=True)
class ComponentComfort:
    """One component against the height of cut.

    Parameters
    ----------
    species : str
        Key of the species.
    share_by_weight : float
        Its part of the mixture. [-]
    comfort : Sourced or None
        Heights its turf types live with; None if not known. [mm]
    below_mm, above_mm : float
        How far the height wanted lies below or above that range. [mm]
    """

    species: str
    share_by_weight: float
    comfort: Sourced | None
    below_mm: float
    above_mm: float


@dataclass(frozen=True, slots=True)
class Comfort:
    """A mixture against the height of cut.

    Parameters
    ----------
    height_mm : float
        Height of cut wanted. [mm]
    parts : tuple of ComponentComfort
        Component by component.
    strain_mm : float
        Sum of share times millimetres below the range: what the caution weighs. [mm]
    will_not_last : bool
        Whether it is ryegrass alone, cut where it does not last.
    """

    height_mm: float
    parts: tuple[ComponentComfort, ...]
    strain_mm: float
    will_not_last: bool

    @property
    def below(self) -> tuple[ComponentComfort, ...]:
        """Components cut below their range, the heaviest strain first: the caution."""
        strained = [part for part in self.parts if part.below_mm > 0]
        return tuple(sorted(strained, key=lambda part: -part.share_by_weight * part.below_mm))

    @property
    def above(self) -> tuple[ComponentComfort, ...]:
        """Components left longer than their range: only a note."""
        return tuple(part for part in self.parts if part.above_mm > 0)


def weigh_comfort(parts: Sequence[LotPart], height_mm: float) -> Comfort:
    """Hold a height of cut against the comfort range of each component.

    Parameters
    ----------
    parts : sequence of LotPart
        The label.
    height_mm : float
        Height of cut wanted. [mm]

    Returns
    -------
    Comfort
        What lies below its range, by share and millimetres, and what lies above.

    Raises
    ------
    OutOfRangeError
        If the height is none.
    """
    require("height of cut", height_mm, 2, 150, "mm", height_hint(height_mm))
    named = [part for part in parts if part.species != OTHERS]
    found = tuple(_one(part, height_mm) for part in named)
    ryegrass = fsum(
        part.share_by_weight for part in named if find_species(part.species).group == "ryegrass"
    )
    return Comfort(
        height_mm,
        found,
        fsum(part.share_by_weight * part.below_mm for part in found),
        ryegrass >= value("seed_comfort_pure_ryegrass")
        and height_mm <= value("seed_comfort_ryegrass_will_not_last"),
    )


def _one(part: LotPart, height_mm: float) -> ComponentComfort:
    species = find_species(part.species)
    span = species.comfort_height_mm
    below = max(0.0, span.low - height_mm) if span else 0.0
    above = max(0.0, height_mm - span.high) if span else 0.0
    return ComponentComfort(species.key, part.share_by_weight, span, below, above)
