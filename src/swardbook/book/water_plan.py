"""A plan of watering for a zone of the book: its tins, its readings, and who is here."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from swardbook.book.fields import quantity
from swardbook.book.forecast import forecast_of
from swardbook.book.opening import Book
from swardbook.book.tins import ABOUT as TINS
from swardbook.book.worked_out import Answer, last_answer
from swardbook.foundation.dates import WEEKDAYS
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number, require
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Reading
from swardbook.planning.situation import situation
from swardbook.planning.water_plan import Helper, Tap, WaterDay, WaterPlan, water_plan

ABOUT = "water plan"
_UNDERSTOOD = "NAME=DAYS:HOURS, such as Ines=mon,wed:1.5 or Bram=daily:0.5"


def water_plan_of(
    book: Book, zone: str, here: Sequence[str] = (), days: int = 7, refills: str = "",
    forecast: Path | None = None,
) -> WaterPlan:  # fmt: skip
    """Plan the water of the days ahead in a zone.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    here : sequence of str
        Who is here, ``Ines=mon,wed:1.5``.
    days : int
        Days to look ahead.
    refills : str
        Area of refills as typed, in place of the whole zone.
    forecast : Path or None
        A file of forecast days; None takes what the book has after today.
    """
    ground = book.ground()
    name = ground.zone(zone).name
    helpers = [read_helper(each) for each in here]
    area = quantity(refills, "m2", "--refills") if refills else None
    if area is not None:
        require("area of the refills", area, 0.001, 1e5, "m2")
    sit = situation(ground, name, book.weather(), book.today)
    ahead = forecast_of(book, forecast)
    return water_plan(sit, helpers, tap_of(ground, name), days, area, ahead)


def tap_of(ground: Ground, zone: str) -> Tap:
    """Give what tins kept for the zone and readings of infiltration say of its water."""
    kept = last_answer(ground, TINS, zone)
    found = kept.answer.found if kept else {}
    sinks = [
        entry.what.value
        for entry in ground.entries(zone, "reading")
        if isinstance(entry.what, Reading) and entry.zone
        and entry.what.quantity.casefold() == "infiltration"
    ]  # fmt: skip
    return Tap(found.get("falls_mm_h"), found.get("evenness_share"), min(sinks, default=None))


def read_helper(text: str) -> Helper:
    """Read who is here, on which days, and for how long.

    Raises
    ------
    BadInputError
        If it cannot be read.
    """
    found = re.fullmatch(r"\s*([^=]+?)\s*=\s*([a-z, ]+?)\s*:\s*([\d.,]+)\s*h?\s*", text, re.I)
    hours = read_number(found[3]) if found else None
    if found is None or hours is None:
        raise BadInputError("--here", text, _UNDERSTOOD)
    if not 0 < hours <= 24:
        slip = f"A day has 24 hours; {hours:g} minutes are {hours / 60:.2g} h."
        raise BadInputError("--here", text, _UNDERSTOOD, slip)
    days: set[int] = set()
    for word in re.split(r"[,\s]+", found[2].casefold().strip()):
        if word in {"daily", "every"}:
            days |= set(range(7))
            continue
        match = [n for n, day in enumerate(WEEKDAYS) if len(word) >= 3 and day.startswith(word)]
        if len(match) != 1:
            raise BadInputError("--here", text, _UNDERSTOOD, f"No weekday is {word!r}.")
        days.add(match[0])
    return Helper(found[1], frozenset(days), hours)


def kept_plan(plan: WaterPlan) -> Answer:
    """Give a plan as an answer to keep."""
    words = f"{len(plan.days)} waterings of the {plan.kind}, {plan.litres:,.0f} L, were it dry"
    found = {"litres_l": plan.litres, "area_m2": plan.area_m2}
    if plan.run is not None:
        found["run_min"] = plan.run.run_min
    if plan.days:
        first = plan.days[0]
        found["work_min"] = first.can_min if first.tap_min is None else first.tap_min
    named = {"kind": plan.kind, "until": plan.until.isoformat()}
    named |= {each.day.isoformat(): _day_words(plan, each) for each in plan.days}
    return Answer(ABOUT, words, {}, found, named)


def _day_words(plan: WaterPlan, day: WaterDay) -> str:
    """Say what is given on a day: doses, litres, minutes and who."""
    told = [f"{day.doses} x {day.mm / day.doses:.1f} mm" if day.doses > 1 else f"{day.mm:.0f} mm"]
    told.append(f"{day.litres:,.0f} L")
    run = plan.run
    if run is not None and run.turns is not None and run.turns > 1 and run.turn_min is not None:
        told.append(f"sprinkler {run.turns} x {run.turn_min:.0f} min at each setting")
    elif run is not None:
        told.append(f"sprinkler {run.run_min:.0f} min at each setting")
    elif day.tap_min is not None:
        told.append(f"{day.tap_min:.0f} min at the tap")
    else:
        told.append(f"{day.can_min:.0f} min of cans")
    if day.is_covered is not None:
        who = ", ".join(day.who) or "nobody"
        told.append(who if day.is_covered or not day.who else f"{who}: too short")
    return ", ".join(told)
