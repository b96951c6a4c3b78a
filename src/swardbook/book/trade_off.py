"""A search for a programme as a curve: what each step of hours buys, in plain words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.searching import ZoneSearch
from swardbook.evidence.estimates import Interval
from swardbook.evidence.verdicts import Verdict
from swardbook.figures.picture import Picture
from swardbook.figures.trade_off import Recorded, Step, TradeOff, picture_of_search
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.programmes import Box, Programme
from swardbook.model.prospects import Contrast
from swardbook.model.search import Point, Tried


def draw_search(book: Book, found: ZoneSearch) -> Picture:
    """Draw hours a week against what they leave; see `trade_off`."""
    return picture_of_search(trade_off(found), note_of(book))


def trade_off(found: ZoneSearch) -> TradeOff:
    """Turn a search into the steps of its curve.

    Parameters
    ----------
    found : ZoneSearch
        The search.

    Raises
    ------
    NotEnoughDataError
        If no hours that were looked at suffice for any programme.
    """
    points = telling(found.curve.points)
    if not points:
        least = f"{found.curve.least_hours:.2g} h a week at least for any programme"
        raise NotEnoughDataError("a picture of hours", "hours that suffice for a programme", least)
    recorded = None
    if found.recorded is not None and found.recorded_hours is not None:
        old = found.recorded
        recorded = Recorded(found.recorded_hours, old.median, old.at80)
    before = (None, *points)
    return TradeOff(
        zone=found.zone,
        label=found.label,
        by_plants=found.by_plants,
        steps=tuple(
            _step(point, fewer, by_plants=found.by_plants)
            for point, fewer in zip(points, before, strict=False)
        ),
        recorded=recorded,
        fine=100 * found.tolerance,
        asked=found.hours,
        enough=found.curve.enough_hours,
        most=max(each.hours for each in found.curve.points),
        tried=found.curve.tried,
        draws=found.draws,
        by_month=found.by_month,
    )


def telling(points: Sequence[Point]) -> tuple[Point, ...]:
    """Leave out points that are the one before again, and those at the end that add nothing."""
    kept = list(points)
    while len(kept) > 1 and adds_nothing(kept[-1]):
        kept.pop()
    plans = [each.best.plan for each in kept]
    return tuple(each for n, each in enumerate(kept) if n == 0 or plans[n] != plans[n - 1])


def adds_nothing(point: Point) -> bool:
    """Tell whether a point is as good as equal to the one before."""
    made = point.against_fewer
    return made is not None and made.verdict is Verdict.AS_GOOD_AS_EQUAL


def _step(point: Point, fewer: Point | None, *, by_plants: bool) -> Step:
    best = point.best
    return Step(
        hours=best.hours_week,
        middle=point.left.median,
        at80=point.left.at80,
        at90=_ninety(best, by_plants=by_plants),
        inside=point.inside,
        buys=", ".join(_changes(best.plan, fewer.best.plan if fewer else None)),
        against_fewer=_against(point.against_fewer) if fewer else "",
        pulls=best.plan.pull_hours_week > 0,
    )


def _ninety(best: Tried, *, by_plants: bool) -> Interval:
    low, high = np.quantile(best.weed if by_plants else 100 * best.weed, (0.05, 0.95))
    return Interval(float(low), float(high))


def _against(made: Contrast | None) -> str:
    if made is None:
        return ""
    if made.verdict in (Verdict.AS_GOOD_AS_EQUAL, Verdict.TOO_CLOSE):
        return f"Against fewer hours: {made.verdict.value}"
    way = "less" if made.difference < 0 else "more"
    return f"Against fewer hours: {way}, {made.verdict.value}"


def _changes(plan: Programme, before: Programme | None) -> Iterator[str]:
    """Say what a programme does; of one that follows another, only what it does otherwise."""
    for name, said in _said(plan).items():
        if before is None:
            if not said.startswith("no "):
                yield said
        elif getattr(plan, name) != getattr(before, name):
            yield said


def _said(plan: Programme) -> dict[str, str]:
    verticut, pull, nitrogen = plan.verticut_days, plan.pull_hours_week, plan.nitrogen_g_m2_year
    return {
        "cut_days": f"cut every {plan.cut_days[0]:g} days",
        "box": "no box" if plan.box is Box.NEVER else f"box {plan.box.value}",
        "verticut_days": f"verticut every {verticut:g} days" if verticut else "no verticut",
        "pull_hours_week": f"pull {pull:g} h a week" if pull else "no pulling",
        "refills": "refill gaps" if plan.refills else "no refills",
        "nitrogen_g_m2_year": f"{nitrogen:g} g N a m² a year" if nitrogen else "no feed",
    }
