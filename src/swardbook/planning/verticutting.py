"""A verticut planned: what it opens, along which line, and how long until that has closed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import log

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Sourced
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Cut, Verticut
from swardbook.husbandry.passes import between_lines
from swardbook.planning.fit import Fit, fit_today
from swardbook.planning.heads import box_works, heads_standing
from swardbook.planning.how import next_line_deg
from swardbook.planning.leaf_growth import LeafGrowth, leaf_growth
from swardbook.planning.situation import Situation
from swardbook.planning.warmth import mean_air

BELOW_CUT, ABOVE_SOIL, BELOW_SURFACE = "below height of cut", "above soil", "below surface"
"""What a depth may be told from."""


@dataclass(frozen=True, slots=True)
class Depth:
    """The depth of a verticut with its datum, and where the tips then run.

    Parameters
    ----------
    depth_mm : float
        As set. [mm]
    datum : str
        What it is told from.
    above_soil_mm : float
        The tips above the soil; below 0 in it. [mm]
    because : str
        Whence the depth: as told, or usual.
    """

    depth_mm: float
    datum: str
    above_soil_mm: float
    because: str

    @property
    def reaches(self) -> str:
        """``soil``, ``sward`` or ``tips``: what the blades meet."""
        if self.above_soil_mm <= 0:
            return "soil"
        return "sward" if self.datum == BELOW_CUT else "tips"


@dataclass(frozen=True, slots=True)
class Likely:
    """A figure with its range in one unit; None where it cannot be told."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class VerticutPlan:
    """A verticut of one zone planned.

    Parameters
    ----------
    zone : str
        Name of the zone.
    today : date
        The day.
    fit : Fit
        Whether it is fit today.
    depth : Depth
        How deep.
    passes : int
        Passes, each on a line of its own.
    line_deg, last_deg : float or None
        Next line and last one against the long side; None where not noted. [°]
    crosses_deg : float or None
        Angle between the two. [°]
    last_on : date or None
        Day of the last one.
    opened : Likely
        Bare ground that all passes add, as a share. [-]
    recovers_days : Likely or None
        Days until the surface has closed over, as usual in full growth and slower in growth as
        it is now; None without weather or without growth. [d]
    gaps_days : Likely or None
        Days until nine tenths of bare spots wider than a thumb have closed. [d]
    growth : LeafGrowth or None
        Growth in height.
    after : tuple of str
        What to do straight after, in order.
    not_known : tuple of str
        What is not known, and what it would change.
    """

    zone: str
    today: date
    fit: Fit
    depth: Depth
    passes: int
    line_deg: float | None
    last_deg: float | None
    crosses_deg: float | None
    last_on: date | None
    opened: Likely
    recovers_days: Likely | None
    gaps_days: Likely | None
    growth: LeafGrowth | None
    after: tuple[str, ...]
    not_known: tuple[str, ...]


def read_depth(sit: Situation, depth_mm: float | None, datum: str = "") -> Depth:
    """Read a depth with its datum, or take the usual one for the height of cut.

    Parameters
    ----------
    sit : Situation
        The zone.
    depth_mm : float or None
        Depth; None takes the usual. [mm]
    datum : str
        What it is told from; empty for the height of cut on fine turf, the soil on lawns.

    Raises
    ------
    BadInputError
        If the depth needs another datum.
    OutOfRangeError
        If nothing goes so deep.
    """
    height = _height(sit)
    is_fine = height <= value("verticut_fine_height")
    datum = datum or (BELOW_CUT if is_fine else ABOVE_SOIL)
    because = "as told"
    if depth_mm is None:
        because = "usual"
        usual = {BELOW_CUT: value("programme.usual_verticut_depth"), BELOW_SURFACE: 2.0}
        depth_mm = usual.get(datum, value("verticut_lawn_clearance") / 2)
    if depth_mm < 0:
        raise BadInputError(
            "--depth", f"{depth_mm:g}", "a depth of 0 or more, and what it is told from",
            "Below the height of cut, above the soil, or below the surface?",
        )  # fmt: skip
    require("depth", depth_mm, 0, 40, "mm", "Deeper than this is no verticut.")
    above = {BELOW_CUT: height - depth_mm, ABOVE_SOIL: depth_mm, BELOW_SURFACE: -depth_mm}[datum]
    return Depth(depth_mm, datum, above, because)


def plan_verticut(
    sit: Situation, depth_mm: float | None = None, datum: str = "", passes: int = 1
) -> VerticutPlan:
    """Plan a verticut of a zone.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    depth_mm : float or None
        Depth; None takes the usual. [mm]
    datum : str
        What it is told from.
    passes : int
        Passes, each on a line of its own. [-]
    """
    depth = read_depth(sit, depth_mm, datum)
    last = next((each for each in reversed(sit.happened(Verticut))
                 if each.what.line_deg is not None), None)  # fmt: skip
    line, last_deg = next_line_deg(sit), last.what.line_deg if last is not None else None
    latest = sit.latest(Verticut)
    growth = leaf_growth(sit)
    job = "scarify" if depth.datum == BELOW_SURFACE else "verticut"
    apart = between_lines(line, last_deg) if line is not None and last_deg is not None else None
    return VerticutPlan(
        sit.zone.name, sit.today, fit_today(sit, job), depth, passes, line, last_deg, apart,
        latest.day if latest is not None else None, opened_share(depth, passes),
        days_to_recover(depth, growth), days_to_close(sit, growth), growth, _after(sit, depth),
        _not_known(sit, growth, last_deg),
    )  # fmt: skip


def opened_share(depth: Depth, passes: int) -> Likely:
    """Give the bare ground that passes add, by what the blades meet [-]."""
    number = round(require("passes", passes, 1, 8, "-"))
    row = _gap_row(depth)
    low, high = _range(row)
    return Likely(*(1 - (1 - each) ** number for each in (row.value, low, high)))


def days_to_recover(depth: Depth, growth: LeafGrowth | None) -> Likely | None:
    """Give the days until the surface has closed over.

    Parameters
    ----------
    depth : Depth
        How deep the blades went.
    growth : LeafGrowth or None
        Growth in height, for its responses.

    Returns
    -------
    Likely or None
        The usual days of full growth over the growth there is; None without weather, or where
        grass stands still. [d]
    """
    row = _recovery_row(depth)
    if growth is None or growth.of_full * 365 < row.value:
        return None
    low, high = _range(row)
    return Likely(*(each / growth.of_full for each in (row.value, low, high)))


def days_to_close(sit: Situation, growth: LeafGrowth | None) -> Likely | None:
    """Give the days until the share `verticut.closed_share` of small gaps has closed.

    Parameters
    ----------
    sit : Situation
        The zone on its day; days ahead are taken to grow as the last week did.
    growth : LeafGrowth or None
        Growth in height, for its responses.

    Returns
    -------
    Likely or None
        Days, in the rates at which small gaps were seen to close; None without weather, or
        where nothing closes within a year. [d]
    """
    air = mean_air(sit, value("growth_mean_days"))
    if growth is None or air is None:
        return None
    row = parameter("model.zone.closure")
    drive = max(air, 0.0) / value("model.zone.closure_temperature")
    drive *= growth.water * growth.nitrogen * growth.light
    wanted = -log(1 - value("verticut.closed_share"))
    low, high = _range(row)
    if drive * row.value * 365 < wanted:
        return None
    return Likely(*(wanted / (each * drive) for each in (row.value, high, low)))


def _height(sit: Situation) -> float:
    last = sit.latest(Cut, within_days=value("mowing.line_memory_days"))
    height = last.what.height_of_cut_mm if last is not None else None
    return height or sit.zone.height_of_cut_mm


def _is_scarifying(depth: Depth) -> bool:
    return depth.datum == BELOW_SURFACE and depth.depth_mm >= value("verticut.scarify_from")


def _recovery_row(depth: Depth) -> Sourced:
    if _is_scarifying(depth):
        return parameter("verticut.recovery_scarify")
    soil = depth.reaches == "soil"
    return parameter("verticut.recovery_soil" if soil else "verticut.recovery_light")


def _gap_row(depth: Depth) -> Sourced:
    if _is_scarifying(depth):
        return parameter("model.zone.gap_scarify")
    if depth.reaches == "soil":
        return parameter("model.zone.gap_soil")
    if depth.reaches == "sward" and depth.depth_mm > 0:
        return parameter("model.zone.gap_blade")
    return parameter("model.zone.gap_tips")


def _range(row: Sourced) -> tuple[float, float]:
    low = row.value if row.low is None else row.low
    return low, row.value if row.high is None else row.high


def _after(sit: Situation, depth: Depth) -> tuple[str, ...]:
    told = ["Cut straight after with the box on: what was stood up comes off now or not at all."]
    if heads_standing(sit) is not False:
        box = "" if box_works(sit) else " No box works: rake up, or wait."
        told.append(f"Take heads and spoil off the site, not to its own compost.{box}")
    else:
        told.append("Take what comes up off the site: it holds shoots that root.")
    if depth.reaches == "soil":
        told.append("The soil is open: sow the zone's own lot into it the same day, or wait.")
    told += [
        "Look along the lines after two days: bare lines mean too deep or too often.",
        "Count heads on flagged tufts within three days: it tells how far the clock is set back.",
        "Unit washed before the next zone; clean zones before weedy ones.",
    ]
    return tuple(told)


def _not_known(
    sit: Situation, growth: LeafGrowth | None, last_deg: float | None
) -> tuple[str, ...]:
    found = []
    if growth is None:
        found.append("weather up to today: how soon opened ground closes")
    elif sit.season_day > value("verticut_season_to"):
        found.append("growth ahead: it falls off from here, so ground closes later than told")
    if last_deg is None:
        found.append("the line of the last verticut: which line crosses it")
    if heads_standing(sit) is None:
        found.append("whether heads stand: a pass without a box would spread them")
    return tuple(found)
