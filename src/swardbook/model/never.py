"""What a programme must never do: each with the rule that it breaks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.programmes import Box, Programme


@dataclass(frozen=True, slots=True)
class Breach:
    """A never-do that a programme breaks.

    Parameters
    ----------
    never : str
        The rule, such as ``never verticut more often than once a week``.
    found : str
        What the programme does.
    """

    never: str
    found: str

    def __str__(self) -> str:
        """Say rule and finding in one sentence."""
        return f"{self.never}: {self.found}"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a programme would be worked.

    Parameters
    ----------
    zone : Zone
        The zone, with its mower.
    comfort : tuple of (str, float)
        Each sown kind with the lowest height of cut it likes. [mm]
    weekly_hours : float or None
        Hours of work there are in a week on the whole site. [h]
    """

    zone: Zone
    comfort: tuple[tuple[str, float], ...] = ()
    weekly_hours: float | None = None


def breaches(plan: Programme) -> tuple[Breach, ...]:
    """Name the never-dos that a programme breaks anywhere.

    Parameters
    ----------
    plan : Programme
        The programme, as written down.
    """
    return (*_shape(plan), *_verticut(plan), *_feed(plan), *_water(plan))


def breaches_in(plan: Programme, place: Place) -> tuple[Breach, ...]:
    """Name the never-dos that a programme breaks in one zone, the general ones among them.

    A height that the programme leaves to the zone is the owner's choice and is not judged here.

    Parameters
    ----------
    plan : Programme
        The programme, as written down.
    place : Place
        Where it would be worked.
    """
    return (*breaches(plan), *_height(plan, place), *_here(plan, place))


def line_between(one: float, other: float) -> float:
    """Angle between two lines of work, 0 to 90 [°]."""
    apart = abs(one - other) % 180
    return min(apart, 180 - apart)


def _shape(plan: Programme) -> Iterator[Breach]:
    if not plan.cut_days or min(plan.cut_days) < 1:
        yield Breach("never more than one cut a day", f"cut_days {_list(plan.cut_days)}")
    amounts = (plan.verticut_days, plan.verticut_depth_mm, plan.pull_hours_week,
               plan.nitrogen_g_m2_year, plan.feeds, plan.water_mm)  # fmt: skip
    if min(amounts) < 0:
        yield Breach("never less than nothing", "an amount below 0")


def _verticut(plan: Programme) -> Iterator[Breach]:
    if not plan.verticut_days:
        return
    least = value("verticut_gap_limit_days")
    if plan.verticut_days < least:
        yield Breach(
            f"never verticut more often than every {least:g} days",
            f"every {plan.verticut_days:g} days",
        )
    lines, cross = plan.verticut_lines_deg, value("verticut_cross_deg")
    if len(lines) < 2:
        yield Breach("never verticut the same line again", f"lines {_list(lines) or 'none'}")
        return
    for one, other in pairwise((*lines, lines[0])):
        if line_between(one, other) < cross:
            yield Breach(
                f"never verticut a line that crosses the last by less than {cross:g}°",
                f"{one:g}° after {other:g}°",
            )
            return


def _feed(plan: Programme) -> Iterator[Breach]:
    nitrogen = plan.nitrogen_g_m2_year
    if nitrogen and not plan.feeds:
        yield Breach("never a year's nitrogen without feeds to spread it", f"{nitrogen:g} g a m²")
    elif plan.feeds and nitrogen / plan.feeds > (most := value("feed_dose_most")):
        dose = nitrogen / plan.feeds
        yield Breach(f"never more than {most:g} g N a m² in one dose", f"{dose:.1f} g")
    if nitrogen > (most := value("feed_year_rye_high")):
        yield Breach(f"never more than {most:g} g N a m² in a year", f"{nitrogen:g} g")


def _water(plan: Programme) -> Iterator[Breach]:
    most = value("dose_high") * value("doses_most")
    if plan.water_mm > most:
        yield Breach(
            f"never more than {most:g} mm a day on refills, in small doses",
            f"{plan.water_mm:g} mm",
        )


def _height(plan: Programme, place: Place) -> Iterator[Breach]:
    height = plan.height_of_cut_mm
    if height is None:
        return
    for kind, least in place.comfort:
        if height < least:
            yield Breach(f"never cut {kind} below {least:g} mm", f"{height:g} mm")
    lowest = place.zone.mower.lowest_mm
    if lowest is not None and height < lowest:
        yield Breach(f"never below what the mower reaches, {lowest:g} mm", f"{height:g} mm")


def _here(plan: Programme, place: Place) -> Iterator[Breach]:
    zone = place.zone
    height = plan.height_of_cut_mm or zone.height_of_cut_mm
    fine = height <= value("verticut_fine_height")
    if plan.box is not Box.NEVER and not zone.mower.has_box:
        yield Breach("never box with a mower that has no box", f"box {plan.box.value}")
    if plan.verticut_days:
        deepest = (
            value("verticut_fine_depth") if fine else height - value("verticut_lawn_clearance")
        )
        if plan.verticut_depth_mm > deepest:
            yield Breach(
                f"never verticut deeper than {deepest:g} mm below a height of cut of {height:g} mm",
                f"{plan.verticut_depth_mm:g} mm",
            )
    if fine and plan.nitrogen_g_m2_year > (most := value("feed_year_fine_high")):
        yield Breach(
            f"never more than {most:g} g N a m² in a year on fine turf",
            f"{plan.nitrogen_g_m2_year:g} g",
        )
    if place.weekly_hours is not None and plan.pull_hours_week > place.weekly_hours:
        yield Breach(
            f"never more hours than the {place.weekly_hours:g} a week there are",
            f"{plan.pull_hours_week:g} h of pulling",
        )


def _list(numbers: Sequence[float]) -> str:
    return ", ".join(f"{each:g}" for each in numbers)
