"""What looks odd about an entry: it is kept as typed and parked for a second look.

Each check asks one question and offers the likely fix. None refuses, none scolds, none doses.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from math import log
from typing import Any

from swardbook.foundation.dates import say, season_day
from swardbook.foundation.errors import plain_number
from swardbook.foundation.quantities import Typed
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.doubt import (
    Doubt,
    closure_backwards,
    far_too_much,
    more_than_all,
    of_none,
    out_of_all_heights,
    round_and_round,
    said_nothing,
)
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import (
    Changed,
    Closure,
    Cut,
    Feed,
    Frost,
    Note,
    Reading,
    Refill,
    Sow,
    Treatment,
    Verticut,
    Water,
)
from swardbook.husbandry.seed_doubts import other_seed, own_heap, thick
from swardbook.husbandry.stage import is_oversowing

__all__ = ["Doubt", "doubt_of_datum", "doubt_of_unit", "doubts", "odd"]

_KITCHEN = re.compile(
    r"\b(salt|vinegar|bleach|diesel|paraffin|washing[- ]up liquid|boiling (?:brine|water)|brine)\b",
    re.IGNORECASE,
)
_GATE_CODE = re.compile(r"\b(gate|door|key ?safe|alarm|lock)\b[^.\n]{0,20}?\b\d{4,6}\b", re.I)
_NO_HOSE = {"can", "tank"}


def odd(entry: DiaryEntry, ground: Ground) -> str:
    """Say what looks odd about an entry, in one text; empty if nothing does."""
    return " ".join(doubt.text for doubt in doubts(entry, ground))


def doubts(entry: DiaryEntry, ground: Ground) -> tuple[Doubt, ...]:
    """List what looks odd about an entry.

    Parameters
    ----------
    entry : DiaryEntry
        The entry as it would be kept.
    ground : Ground
        The ground as it stood before the entry.
    """
    others = tuple(each for each in ground.diary if each.id not in {entry.id, entry.corrects})
    before = Ground(
        ground.site, ground.zones, ground.pegs, ground.squares, ground.plots, ground.lots, others
    )
    found = [doubt for check in _ALWAYS for doubt in check(entry, before)]
    zone = next((z for z in ground.zones if z.name.casefold() == entry.zone.casefold()), None)
    if zone is not None:
        found += [doubt for check in _IN_ZONE for doubt in check(entry, before, zone)]
    return tuple(found)


def doubt_of_unit(typed: Typed, field: str) -> Doubt | None:
    """Ask about a rate that only makes sense in grams: 35 oz/yd² is 1,187 g/m².

    Parameters
    ----------
    typed : Typed
        The rate as typed and as read. [g m⁻²]
    field : str
        The field that would be put right.
    """
    found = re.match(r"\s*([\d.]+)\s*(oz|lb)", typed.text, re.IGNORECASE)
    if found is None or typed.value <= 2 * value("look_seed_rate_g_m2"):
        return None
    told = f"{typed.text} is {typed.value:,.0f} g/m². Did you mean {found[1]} g/m²?"
    return Doubt(told, f"{field}={found[1]}")


def doubt_of_datum(depth_mm: float) -> Doubt:
    """Ask from where a verticut depth was measured when only a number was typed.

    Parameters
    ----------
    depth_mm : float
        The depth as typed, with either sign. [mm]
    """
    return Doubt(
        f"{abs(depth_mm):g} mm below the tips, above the soil, or into the soil?"
        " Kept as below the height of cut.",
        "datum=above soil",
    )


def _kitchen(entry: DiaryEntry, _ground: Ground) -> Iterator[Doubt]:
    words = f"{entry.note} {entry.what.text if isinstance(entry.what, Note) else ''}"
    if isinstance(entry.what, Treatment):
        words = f"{words} {entry.what.product_name}"
    found = _KITCHEN.search(words)
    if found:
        yield Doubt(
            f"{found[1].capitalize()} is not a plant-protection use; it can harm soil, and may be"
            " unlawful. Kept as a note."
        )


def _gate_code(entry: DiaryEntry, _ground: Ground) -> Iterator[Doubt]:
    if _GATE_CODE.search(entry.note):
        yield Doubt("This looks like a gate code. Keep it out of letters and exports?")


def _treatment(entry: DiaryEntry, _ground: Ground) -> Iterator[Doubt]:
    if not isinstance(entry.what, Treatment):
        return
    if not entry.what.authorisation_number.strip():
        yield Doubt("No authorisation number. Kept as history; never copied forward.")
    elif "withdrawn" in f"{entry.note} {entry.what.reason}".casefold():
        yield Doubt("Marked as withdrawn. Kept as history; never copied forward.")


def _long_day(entry: DiaryEntry, _ground: Ground) -> Iterator[Doubt]:
    people = getattr(entry.what, "people", None) or 1
    limit = value("look_hours_a_day") * people
    if entry.hours is not None and entry.number == 1 and entry.hours > limit and people == 1:
        yield Doubt(
            f"{entry.hours:g} hours in one day: of several people? Hours are those of all together."
        )


def _water(entry: DiaryEntry, ground: Ground) -> Iterator[Doubt]:
    if not isinstance(entry.what, Water):
        return
    has_no_other = entry.what.depth_mm is None and entry.what.litres is None
    if entry.what.minutes is not None and has_no_other and ground.site.hose_l_min is None:
        told = _minutes(entry.what.minutes)
        yield Doubt(f"Time a 10 L bucket and I can turn hours into mm. Kept as {told} for now.")
    if entry.what.by in _NO_HOSE:
        return
    for each in ground.diary:
        if isinstance(each.what, Closure) and each.what.what == "hose" and _covers(each, entry):
            yield Doubt("You noted a hosepipe restriction. Can or tank?", "by=can")
            return


def _covers(closure: DiaryEntry, entry: DiaryEntry) -> bool:
    until = getattr(closure.what, "until", None)
    same = not closure.zone or closure.zone.casefold() == entry.zone.casefold()
    return same and closure.when.first <= entry.day and (until is None or entry.day <= until)


def _reading(entry: DiaryEntry, ground: Ground) -> Iterator[Doubt]:
    if not isinstance(entry.what, Reading):
        return
    name, read = entry.what.quantity.casefold(), entry.what.value
    low, high = value("look_ph_low"), value("look_ph_high")
    if name == "ph" and not low <= read <= high:
        slipped = next((read / by for by in (10, 100) if low <= read / by <= high), None)
        told = (
            f"{slipped:g}?" if slipped else f"pH {plain_number(read)} is outside what soils have."
        )
        yield Doubt(told, f"value={slipped:g}" if slipped else "")
    if name == "rain" and read < 0:
        yield Doubt(f"Rain is never below 0: {plain_number(-read)}?", f"value={-read:g}")
    if name.startswith("soil temp"):
        day = season_day(entry.day, ground.site.latitude)
        is_summer = value("look_summer_from") <= day <= value("look_summer_to")
        if read > value("look_soil_hot" if is_summer else "look_soil_warm"):
            cold = f"{(read - 32) * 5 / 9:.1f}".replace("-", "−")
            yield Doubt(
                f"{read:g} °F is {cold} °C; {read:g} °C is summer sand. Which?",
                f"value={(read - 32) * 5 / 9:.1f}",
            )


def _rates(entry: DiaryEntry, ground: Ground) -> Iterator[Doubt]:
    if isinstance(entry.what, Sow) and entry.what.rate_g_m2 is not None:
        limit = value("look_seed_rate_g_m2")
        if entry.what.rate_g_m2 > limit:
            yield Doubt(
                f"{entry.what.rate_g_m2:,.4g} g/m² of seed is far above any usual rate."
                " Typed right?"
            )
    if not isinstance(entry.what, Feed) or entry.what.rate_g_m2 is None:
        return
    used = [
        each.what.rate_g_m2
        for each in ground.diary
        if isinstance(each.what, Feed) and each.what.rate_g_m2 is not None
    ]
    if used and entry.what.rate_g_m2 > value("look_rate_factor") * max(used):
        span = f"{min(used):g}–{max(used):g}" if min(used) < max(used) else f"{max(used):g}"
        yield Doubt(
            f"Far above the feeds you have used ({span} g/m²). Check the bag; the label decides."
        )
    nitrogen = entry.what.nitrogen_g_m2
    if nitrogen is not None and nitrogen > value("look_nitrogen_once_g_m2"):
        yield Doubt(
            f"{_figures(nitrogen)} g N/m² in one go is several times a usual dose and can scorch."
            " Typed right?"
        )


def _area(entry: DiaryEntry, _ground: Ground, zone: Zone) -> Iterator[Doubt]:
    area = getattr(entry.what, "area_m2", None)
    if area is None or area <= zone.area_m2 * value("look_area_excess"):
        return
    times = area / zone.area_m2
    if value("look_ten_times_low") <= times <= value("look_ten_times_high"):
        told = f"That is ten times the zone's {zone.area_m2:g} m². Use {area / 10:g}?"
        yield Doubt(told, f"area_m2={area / 10:g}")
    else:
        told = f"{area:g} m² is more than the zone's {zone.area_m2:g} m². Use {zone.area_m2:g}?"
        yield Doubt(told, f"area_m2={zone.area_m2:g}")


def _height(entry: DiaryEntry, ground: Ground, zone: Zone) -> Iterator[Doubt]:
    if not isinstance(entry.what, Cut) or not entry.what.height_of_cut_mm:
        return
    height, factor = entry.what.height_of_cut_mm, value("look_height_factor")
    heights = [
        each.what.height_of_cut_mm
        for each in ground.entries(zone.name)
        if isinstance(each.what, Cut) and each.what.height_of_cut_mm and each.day <= entry.day
    ]
    last = heights[-1] if heights else zone.height_of_cut_mm
    if height < value("look_least_height_mm"):
        yield Doubt(
            f"{height:g} mm is lower than any mower cuts; {height:g} in is {height * 25.4:.1f} mm."
            f" The last was {last:.3g} mm.",
            f"height_of_cut_mm={height * 25.4:.1f}",
        )
    elif height >= factor * last:
        high = "meadow height" if height > value("look_meadow_height_mm") else "far higher"
        yield Doubt(
            f"{_cm(height)} is {high}; the last was {last:.3g} mm.", f"height_of_cut_mm={last:.3g}"
        )
    elif height <= last / factor:
        yield Doubt(f"{height:g} mm; the last was {last:.3g} mm. Is it cm?")
    elif height >= value("look_height_far") * zone.height_of_cut_mm and not _stepped(
        entry, height, ground, zone
    ):
        own, slipped = zone.height_of_cut_mm, height / 10
        likely = slipped if abs(log(slipped / own)) < abs(log(height / own)) else own
        yield Doubt(
            f"{height:g} mm where the zone is cut at {own:g} mm. {likely:g} mm?",
            f"height_of_cut_mm={likely:g}",
        )


def _stepped(entry: DiaryEntry, height: float, ground: Ground, zone: Zone) -> bool:
    """Whether the diary explains a high cut: a step down, an absence, a new sward, a reading."""
    cuts: list[tuple[date, float | None]] = []
    for each in ground.entries(zone.name):
        age, what = (entry.day - each.day).days, each.what
        if age < 0:
            continue
        if isinstance(what, Cut):
            cuts.append((each.day, what.height_of_cut_mm))
        elif isinstance(what, Sow):
            high = height <= value("first_cut_ryegrass") and _is_large(each, zone)
            if high and age <= value("look_new_sward_days"):
                return True
        elif isinstance(what, Reading | Changed) and age <= value("look_absence_days"):
            name = what.quantity if isinstance(what, Reading) else what.thing
            if "height" in name.casefold():
                return True
    if not cuts:
        return False
    day, before = max(cuts, key=lambda cut: cut[0])
    away = (entry.day - day).days >= value("look_absence_days")
    return away or (before is not None and height <= value("look_height_step") * before)


def _soon_after_sowing(entry: DiaryEntry, ground: Ground, zone: Zone) -> Iterator[Doubt]:
    if isinstance(entry.what, Sow):
        until = entry.day + timedelta(days=value("look_first_cut_days"))
        cuts = [
            each.day
            for each in ground.entries(zone.name, "cut")
            if entry.day < each.day <= until and each.when.is_dated
        ]
        if cuts and _is_large(entry, zone) and not is_oversowing(entry, ground):
            yield Doubt(
                f"A cut is noted {_days((cuts[0] - entry.day).days)} after it. Another zone, or"
                " another date?"
            )
    if not isinstance(entry.what, Cut | Verticut) or not entry.when.is_dated:
        return
    sown = [
        each
        for each in ground.entries(zone.name, "sow")
        if each.day <= entry.day and _is_large(each, zone)
    ]
    if not sown:
        return
    youngest = max(sown, key=lambda each: each.day)
    age = (entry.day - youngest.day).days
    is_new = not is_oversowing(youngest, ground)
    if isinstance(entry.what, Cut) and is_new and age < value("look_first_cut_days"):
        yield Doubt(f"{_days(age).capitalize()} after sowing. Another zone, or another date?")
    if isinstance(entry.what, Verticut) and age < value("look_seedling_days"):
        others = [z.name for z in ground.zones if not ground.entries(z.name, "sow")]
        meant = others[0] if others else "Another zone"
        yield Doubt(
            f"{zone.name} was sown {_days(age)} ago. {meant}?", f"zone={meant}" if others else ""
        )


def _frost(entry: DiaryEntry, ground: Ground, zone: Zone) -> Iterator[Doubt]:
    if entry.what.kind not in {"cut", "verticut", "scarify", "tine", "roll", "brush"}:
        return
    states = [
        each.what.state
        for each in ground.entries(zone.name)
        if isinstance(each.what, Frost) and each.when.is_dated and each.day == entry.day
    ]
    if entry.when.is_dated and states and "thawed" not in states:
        job = "Cut" if entry.what.kind == "cut" else "Done"
        yield Doubt(f"Frost noted on {say(entry.day)}. {job} after it cleared?")


def _twice(entry: DiaryEntry, ground: Ground, zone: Zone) -> Iterator[Doubt]:
    if entry.what.kind not in {"cut", "verticut", "feed", "sow"} or not entry.when.is_dated:
        return
    same = [
        each
        for each in ground.entries(zone.name, entry.what.kind)
        if each.when.is_dated and each.day == entry.day and _is_like(each, entry, zone)
    ]
    if same:
        who = f" by {same[0].who}" if same[0].who else ""
        yield Doubt(
            f"There is another {entry.what.kind} that day{who}. One {entry.what.kind} or two?"
            " Both are kept until you say."
        )


def _is_like(one: DiaryEntry, other: DiaryEntry, zone: Zone) -> bool:
    """Whether two entries of a day may be one: the same bag, and no two parts of the zone."""
    for name in ("lot", "product"):
        if getattr(one.what, name, "") != getattr(other.what, name, ""):
            return False
    areas = [getattr(each.what, "area_m2", None) for each in (one, other)]
    parts = sum(area for area in areas if area is not None)
    return None in areas or parts > zone.area_m2 * value("look_area_excess")


def _is_large(entry: DiaryEntry, zone: Zone) -> bool:
    area = getattr(entry.what, "area_m2", None)
    if isinstance(entry.what, Refill):
        return False
    return area is None or area > value("seedling_zone_share") * zone.area_m2


def _figures(number: float) -> str:
    return f"{number:.0f}" if number >= 10 else f"{number:.2g}"


def _days(number: int) -> str:
    return "the same day" if number == 0 else "one day" if number == 1 else f"{number} days"


def _cm(height_mm: float) -> str:
    return f"{height_mm / 10:g} cm" if height_mm >= 50 else f"{height_mm:g} mm"


def _minutes(minutes: float) -> str:
    return f"{minutes / 60:g} h" if minutes >= 60 else f"{minutes:g} minutes"


_ALWAYS: tuple[Callable[[DiaryEntry, Ground], Iterator[Doubt]], ...] = (
    _kitchen, _gate_code, _treatment, _long_day, _water, _reading, _rates, closure_backwards,
    of_none, more_than_all, round_and_round, out_of_all_heights, own_heap,
    far_too_much, said_nothing,
)  # fmt: skip
_IN_ZONE: tuple[Callable[[DiaryEntry, Ground, Zone], Iterator[Any]], ...] = (
    _area, _height, _soon_after_sowing, _frost, _twice, other_seed, thick,
)  # fmt: skip
