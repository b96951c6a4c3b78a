"""Clumps dug out one by one: how much of the ground was gone over, and what is left."""

from __future__ import annotations

import numpy as np

from swardbook.model.chance import Array
from swardbook.model.day_heads import grown_up
from swardbook.model.day_weed import found_today
from swardbook.model.parameter_sets import Parameters, WeedParameters
from swardbook.model.processes.hand_weeding import handling_hours, killed_share
from swardbook.model.state import SwardState, WeedState

_PLANTS = ("tillering_0", "tillering_1", "tillering_2", "flowering")


def clumps_found(weed: WeedState, numbers: WeedParameters) -> Array:
    """Clumps that one whole pass would find [m⁻²].

    A clump is an established plant: there are no more of them than the cover holds at the ground of
    one, so that young plants in plenty are no clumps.

    Parameters
    ----------
    weed : WeedState
        A weed grass.
    numbers : WeedParameters
        Its constants.
    """
    there = np.maximum(grown_up(weed), 1e-30)
    clumps = np.minimum(there, weed.cover / numbers.typical_area)
    return np.asarray(found_today(weed, numbers) * clumps / there)


def share_dug(
    state: SwardState, parameters: Parameters, place: int, hours: float | None, area_m2: float
) -> Array:
    """Part of the ground that was gone over for clumps [-].

    Who digs clumps looks for clumps alone, so small weeds take no time.

    Parameters
    ----------
    state : SwardState
        The draws before the digging.
    parameters : Parameters
        Their constants.
    place : int
        Which weed grass was dug.
    hours : float or None
        Hours of digging; not said: all was gone over. [h]
    area_m2 : float
        Area of the zone. [m²]
    """
    found = clumps_found(state.weeds[place], parameters.weeds[place])
    if hours is None:
        return np.ones_like(found)
    needed = parameters.zone.search + handling_hours(found, parameters.weeds[place].handling)
    return np.asarray(np.minimum(hours / area_m2 / needed, 1.0))


def dug_out(state: SwardState, parameters: Parameters, place: int, share: Array) -> SwardState:
    """Take dug clumps out of the draws; their ground is bare.

    Parameters
    ----------
    state : SwardState
        The draws before the digging.
    parameters : Parameters
        Their constants.
    place : int
        Which weed grass was dug.
    share : array
        Part of the ground that was gone over. [-]
    """
    weed, numbers = state.weeds[place], parameters.weeds[place]
    there = grown_up(weed)
    found = found_today(weed, numbers) / np.maximum(there, 1e-30)
    killed = np.minimum(killed_share(share, found, numbers.kill), 1.0)
    left = _thinned(weed, killed)._replace(killed=weed.killed + killed * there)
    zone = state.zone._replace(gap=state.zone.gap + weed.cover - left.cover)
    weeds = (*state.weeds[:place], left, *state.weeds[place + 1 :])
    return state._replace(weeds=weeds, zone=zone)


def _thinned(weed: WeedState, killed: Array) -> WeedState:
    fields = {name: getattr(weed, name) * (1 - killed) for name in (*_PLANTS, "cover")}
    return weed._replace(**fields)
