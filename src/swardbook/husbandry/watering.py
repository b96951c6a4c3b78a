"""Litres and minutes as a depth of water."""

from __future__ import annotations

from swardbook.husbandry.ground import Site, Zone
from swardbook.husbandry.happenings import Water


def depth_mm(water: Water, zone: Zone | None, site: Site) -> float | None:
    """Give the depth of a watering spread evenly over its zone.

    Parameters
    ----------
    water : Water
        The watering; minutes count only with the hose rate of the site.
    zone : Zone or None
        Where it fell; None where that is not said, or it went on a part such as refills.
    site : Site
        The site.

    Returns
    -------
    float or None
        The depth; None where it cannot be known. [mm]
    """
    if water.depth_mm is not None:
        return water.depth_mm
    litres = water.litres
    if litres is None and water.minutes is not None and site.hose_l_min is not None:
        litres = water.minutes * site.hose_l_min if water.by not in {"can", "tank"} else None
    if litres is None or zone is None or water.place:
        return None
    return litres / zone.area_m2
