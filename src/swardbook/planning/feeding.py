"""Feed: nitrogen so far, growth by warmth beside growth as measured, caps, and what is due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.foundation.dates import season_day, season_day_until
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Cut, Feed
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.checks_sward import Boxes, recent_boxes
from swardbook.planning.fit import Fit, fit_today
from swardbook.planning.kinds import components
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import setting_age
from swardbook.planning.states import Overall

PLAN = "feed plan"
"""The question under which a year's feed plan is kept."""


@dataclass(frozen=True, slots=True)
class Feeding:
    """Feed in one zone.

    Parameters
    ----------
    given : float
        Nitrogen since the year of feed began. [g N m⁻²]
    since : date
        When that year began.
    feeds : int
        How many feeds.
    not_known : int
        Feeds without rate or label figures; with any, the total is a least.
    year_low, year_high : float
        Common range of a year for this turf. [g N m⁻²]
    growth : float or None
        Growth by warmth alone, this week. [-]
    boxes : Boxes
        Growth as measured: cuts of a fortnight that filled the box.
    boxed_share : float or None
        Share of this year's cuts that were boxed; boxing takes nitrogen away. [-]
    last_on : date or None
        The last feed.
    is_due : bool
        Whether a feed is due and fit.
    most : float
        Most nitrogen to give now. [g N m⁻²]
    told : str
        One or two sentences.
    fit : Fit
        Whether feeding is fit today.
    """

    given: float
    since: date
    feeds: int
    not_known: int
    year_low: float
    year_high: float
    growth: float | None
    boxes: Boxes
    boxed_share: float | None
    last_on: date | None
    is_due: bool
    most: float
    told: str
    fit: Fit
    workings: Workings


def feeding(sit: Situation) -> Feeding:
    """Say what feed a zone had and whether any is due.

    Growth by warmth alone under-feeds a British spring, so it stands beside measured growth.
    """
    since = feed_year_start(sit)
    feeds = [each for each in sit.happened(Feed) if each.day >= since]
    known = [n for each in feeds if (n := each.what.nitrogen_g_m2) is not None]
    given = sum(known)
    low, high = year_range(sit)
    fit = fit_today(sit, "feed")
    planned = planned_year(sit)
    most = _most(sit, given, high if planned is None else planned)
    last = feeds[-1].day if feeds else None
    waited = last is None or sit.age(last) >= value("feed_gap_days")
    boxes = recent_boxes(sit)
    is_due = waited and most > 0 and fit.overall is not Overall.NOT_FIT
    if is_due and sit.season_day > value("feed_season_to"):
        is_due = last is None or season_day(last, sit.site.latitude) <= value("feed_season_to")
    share = _boxed_share(sit, since)
    told = _told(given, len(feeds) - len(known), (low, high), is_due, most, fit, planned)
    return Feeding(
        given, since, len(feeds), len(feeds) - len(known), low, high, sit.lately.growth, boxes,
        share, last, is_due, most, told, fit, _workings(sit, known, (low, high), boxes, told),
    )  # fmt: skip


def is_fed_here(sit: Situation) -> bool:
    """Tell whether feed is part of the care here: fed within a year or so, or sown."""
    return (
        sit.latest(Feed, within_days=value("fed_here_days")) is not None
        or setting_age(sit) is not None
    )


def feed_year_start(sit: Situation) -> date:
    """First day of the year of feed: 1 March in the north, half a year on in the south."""
    return season_day_until(sit.today, int(value("feed_season_from")), sit.site.latitude)


def year_range(sit: Situation) -> tuple[float, float]:
    """Common range of nitrogen a year for the zone's turf [g N m⁻²]."""
    sowing = setting_age(sit)
    groups = {each.group for each in components(sowing.lot)} if sowing and sowing.lot else set()
    fine = sit.zone.height_of_cut_mm < value("verticut_fine_height") or "ryegrass" not in groups
    kind = "fine" if fine else "rye"
    return value(f"feed_year_{kind}_low"), value(f"feed_year_{kind}_high")


def planned_year(sit: Situation) -> float | None:
    """Nitrogen of the year by the last feed plan kept for the zone; None without one [g N m⁻²]."""
    since = feed_year_start(sit)
    kept = [
        each.what.found["year_g_m2"]
        for each in sit.happened(WorkedOut)
        if each.what.about == PLAN and each.day >= since and "year_g_m2" in each.what.found
    ]
    return kept[-1] if kept else None


def _most(sit: Situation, given: float, high: float) -> float:
    room = max(high - given, 0.0)
    if sit.season_day > value("feed_season_to"):
        return min(value("feed_low_nitrogen"), room)
    return min(value("feed_dose_most"), room)


def _boxed_share(sit: Situation, since: date) -> float | None:
    cuts = [each for each in sit.happened(Cut) if each.day >= since]
    said = [each for each in cuts if each.what.boxed is not None]
    return sum(bool(each.what.boxed) for each in said) / len(said) if said else None


def _told(
    given: float, not_known: int, both: tuple[float, float], is_due: bool, most: float, fit: Fit,
    planned: float | None,
) -> str:  # fmt: skip
    least = "at least " if not_known else ""
    told = f"{least}{given:.1f} g N/m² so far; a year is commonly {both[0]:g} to {both[1]:g}."
    if planned is not None:
        told += f" {planned:g} is planned."
    if not_known:
        told += f" {not_known} feeds without label figures or rate."
    if is_due:
        return f"{told} A feed is due: at most {most:.1f} g N/m² now."
    if fit.overall is Overall.NOT_FIT:
        return f"{told} Hold off: {fit.loses_to}."
    return f"{told} None due."


def _workings(
    sit: Situation, known: list[float], both: tuple[float, float], boxes: Boxes, told: str
) -> Workings:
    overlap = value("spreader_overlap")
    total = sum(known)
    growth = sit.lately.growth
    return Workings(
        question=f"How much nitrogen has {sit.zone.name} had, and is any due?",
        answer=told,
        formula="sum of rate x nitrogen on the label",
        inputs=(
            Input("feeds", " + ".join(f"{each:.2f}" for each in known) or "none", "g N/m²",
                  source="diary"),
            Input("growth by warmth alone", "not known" if growth is None else round(growth, 2),
                  source="weather; published growth potential"),
            Input("growth as measured", f"{boxes.filled} of {boxes.cuts} cuts filled the box",
                  source="diary, a fortnight"),
            Input.of("dose at most", parameter("feed_dose_most")),
            Input.of("spreader overlap", parameter("spreader_overlap")),
        ),
        arithmetic=(
            f"{total:.1f} g N/m²; with overlaps of {overlap:.0%} strips had"
            f" {total * (1 - overlap):.1f} to {total * (1 + overlap):.1f}",
            f"common range of a year: {both[0]:g} to {both[1]:g}",
        ),
        assumptions=(
            "Whom the feed favoured cannot be told from one rate everywhere.",
            "Boxed clippings take nitrogen away; returned ones give it back.",
        ),
    )  # fmt: skip
