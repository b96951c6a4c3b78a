"""Whether what was sown lives with a height of cut, and what keeps a cut from going lower."""

from __future__ import annotations

from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.planning.fit import Fit
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import sowings
from swardbook.planning.states import State
from swardbook.seed.comfort import weigh_comfort
from swardbook.seed.lot import SeedLot

_LOWER_WAITS = ("drought", "heat")


def too_low_for(sit: Situation, height_mm: float) -> tuple[str, ...]:
    """Name the sown components that do not live with a height of cut.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    height_mm : float
        Height of cut. [mm]

    Returns
    -------
    tuple of str
        A sentence for each component, the heaviest strain first.
    """
    sown: dict[str, SeedLot] = {}
    for each in sowings(sit):
        if each.lot is not None and each.share > value("seedling_zone_share"):
            sown[each.lot.code] = each.lot
    told: dict[str, str] = {}
    for lot in sown.values():
        for part in weigh_comfort(lot.parts, height_mm).below:
            assert part.comfort is not None
            told[part.species] = (
                f"{find_species(part.species).english} ({lot.mixture}) lives with"
                f" {part.comfort.low:g} to {part.comfort.high:g} mm; at {height_mm:g} mm it thins"
                " out."
            )
    return tuple(told.values())


def odd_height(sit: Situation, height_mm: float) -> tuple[str, ...]:
    """Ask about a height of cut many times the zone's own, or a small part of it.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    height_mm : float
        Height of cut. [mm]
    """
    own, factor = sit.zone.height_of_cut_mm, value("look_height_factor")
    if own / factor < height_mm < own * factor:
        return ()
    return (f"{height_mm:g} mm where the zone is cut at {own:g} mm. Another unit?",)


def waits_to_go_lower(cut: Fit) -> str:
    """Say what keeps a zone from being cut lower today; empty where nothing does.

    Parameters
    ----------
    cut : Fit
        Whether a cut is fit today.
    """
    waits = [
        each for each in cut.conditions if each.name in _LOWER_WAITS and each.state is State.NOT_MET
    ]
    return "; ".join(f"{each.name}: {each.because}" for each in waits)
