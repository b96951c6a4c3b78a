"""What the book knows of a zone's ground, fact by fact, and what of it no longer speaks for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.book.survey_facts import AREA, JAR, SHADE, SLOPE, WEAR, at_place
from swardbook.book.worked_out import KeptAnswer, last_answer
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Dress, Reading, Scarify, Strip, Tine
from swardbook.husbandry.soundings import Rings, cores, rings
from swardbook.review.keepers import grass_worth_keeping

_OPENS = {"infiltration": (Strip, Tine, Dress), "thatch": (Strip, Scarify), "rooting": (Strip,)}
"""Work after which a reading no longer speaks for the ground."""


@dataclass(frozen=True, slots=True)
class Known:
    """One thing known of a zone.

    Parameters
    ----------
    fact : str
        Key of the fact.
    words : str
        What is known.
    short : str
        The same for the one sentence; empty where it is not worth a place there.
    day : date or None
        When it was found; None for what was only said when the zone was added.
    doubt : str
        Why it should be measured again; empty if it stands.
    """

    fact: str
    words: str
    short: str = ""
    day: date | None = None
    doubt: str = ""


def drainage_by_place(ground: Ground, zone: str, today: date) -> dict[str, Rings]:
    """Give the rings of a zone by the place that stands with them, the slowest place first.

    Readings before the ground was last stripped, tined or dressed are left out.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone by name.
    today : date
        Only what was read up to here.
    """
    by_place: dict[str, list[float]] = {}
    for entry in _readings(ground, zone, "infiltration", today, standing=True):
        place = entry.note.split(".")[0].strip().casefold()
        by_place.setdefault(place, []).append(_value(entry))
    found = {place: rings(rates) for place, rates in by_place.items()}
    return dict(sorted(found.items(), key=lambda each: each[1].middle))


def thatch_of(ground: Ground, zone: str, today: date) -> tuple[float, float, float, int] | None:
    """Give the thatch that stands: mean, low and high [mm], and how many readings; None if none."""
    return _depths(ground, zone, "thatch", today, standing=True)


def _drainage(ground: Ground, zone: Zone, today: date) -> Known | None:
    found = drainage_by_place(ground, zone.name, today)
    if not found:
        old = list(_readings(ground, zone.name, "infiltration", today, standing=False))
        return _outworn("drainage", "drainage", old)
    told = [
        f"{each.word}{at_place(place)} ({each.slowest:.0f} to"
        f" {each.fastest:.0f} mm/h, {each.rings} ring{'' if each.rings == 1 else 's'})"
        for place, each in found.items()
    ]
    few = all(not each.is_enough for each in found.values())
    place, slowest = next(iter(found.items()))
    last = max(e.day for e in _readings(ground, zone.name, "infiltration", today, standing=True))
    doubt = f"fewer than {value('rings_least'):g} rings at one place" if few else ""
    short = f"drains {slowest.word}{at_place(place)}"
    return Known("drainage", f"Drains {'; '.join(told)}", short, last, doubt or _old(last, today))


def _on_cores(what: str, name: str) -> Callable[[Ground, Zone, date], Known | None]:
    def look(ground: Ground, zone: Zone, today: date) -> Known | None:
        found = _depths(ground, zone.name, what, today, standing=True)
        fact = "thatch" if what == "thatch" else "rooting"
        if found is None:
            old = list(_readings(ground, zone.name, what, today, standing=False))
            return _outworn(fact, name, old)
        mean, low, high, many = found
        span = f" ({low:.0f} to {high:.0f}, {many} cores)" if high > low else ""
        last = max(e.day for e in _readings(ground, zone.name, what, today, standing=True))
        few = f"{many} cores; five or more give a mean" if 1 < many < value("cores_least") else ""
        words = f"{name[0].upper()}{name[1:]} {mean:.0f} mm{span}"
        return Known(fact, words, f"{name} {mean:.0f} mm", last, few or _old(last, today))

    return look


def _depths(
    ground: Ground, zone: str, what: str, today: date, *, standing: bool
) -> tuple[float, float, float, int] | None:
    """Give the mean of the last day's cores with its range; the range is empty for a single one."""
    entries = list(_readings(ground, zone, what, today, standing=standing))
    if not entries:
        return None
    last = max(entry.day for entry in entries)
    depths = [_value(entry) for entry in entries if entry.day == last]
    try:
        found = cores(depths, what)
    except NotEnoughDataError:
        mean = sum(depths) / len(depths)
        return mean, min(depths), max(depths), len(depths)
    return found.mean, found.low, found.high, found.cores


def _ph(ground: Ground, zone: Zone, today: date) -> Known | None:
    entries = list(_readings(ground, zone.name, "ph", today, standing=False))
    if not entries:
        return None
    read = [_value(entry) for entry in entries]
    span = f"{min(read):g}" if min(read) == max(read) else f"{min(read):g} to {max(read):g}"
    return Known("ph", f"pH {span}", f"pH {span}", entries[-1].day, _old(entries[-1].day, today))


def _soil_test(ground: Ground, zone: Zone, today: date) -> Known | None:
    return _kept("soil_test", last_answer(ground, "soil test", zone.name), today)


def _light(ground: Ground, zone: Zone, today: date) -> Known | None:
    kept = last_answer(ground, SHADE, zone.name)
    if kept is not None:
        least, most = (kept.answer.found.get(key, 0.0) for key in ("sun_hours", "sun_hours_most"))
        told = f"{least:.0f}" if round(most) <= round(least) else f"{least:.0f} to {most:.0f}"
        return Known("light", kept.answer.words, f"{told} h of sun", kept.day)
    if zone.sun_hours is None:
        return None
    told = f"{zone.sun_hours:g} h of sun"
    doubt = "as told when the zone was added, never looked at"
    return Known("light", f"{told}, {doubt}", told, None, doubt)


def _texture(ground: Ground, zone: Zone, today: date) -> Known | None:
    kept = last_answer(ground, JAR, zone.name)
    if kept is not None:
        return Known("texture", kept.answer.words, "", kept.day)
    doubt = "as told when the zone was added, never tested"
    return Known("texture", f"{zone.soil[0].upper()}{zone.soil[1:]}, {doubt}", "", None, doubt)


def _area(ground: Ground, zone: Zone, today: date) -> Known | None:
    kept = last_answer(ground, AREA, zone.name)
    if kept is not None:
        return Known("area", kept.answer.words, "", kept.day)
    doubt = "as told when the zone was added"
    return Known("area", f"{zone.area_m2:g} m², {doubt}", "", None, doubt)


def _wear(ground: Ground, zone: Zone, today: date) -> Known | None:
    kept = last_answer(ground, WEAR, zone.name)
    known = _kept("wear", kept, today)
    heavy = kept is not None and kept.answer.named.get("wear") == "heavy"
    return Known("wear", known.words, "heavy wear", known.day) if known and heavy else known


def _slope(ground: Ground, zone: Zone, today: date) -> Known | None:
    return _kept("slope", last_answer(ground, SLOPE, zone.name), today)


def _tap(ground: Ground, zone: Zone, today: date) -> Known | None:
    entries = [*_readings(ground, zone.name, "water at the tap", today, standing=False)]
    if entries:
        last = entries[-1]
        return Known("tap", f"{_value(last):.1f} L/min at the tap", "", last.day)
    hose = ground.site.hose_l_min
    return None if hose is None else Known("tap", f"{hose:g} L/min at the tap, as told", "", None)


def _keepers(ground: Ground, zone: Zone, today: date) -> Known | None:
    try:
        found = grass_worth_keeping(ground, zone.name, today)
    except NotEnoughDataError as lack:
        return Known("keepers", f"Grass worth keeping: {lack.found}", "", None, lack.found)
    low, high = found.estimate.interval
    words = f"grass worth keeping {found.estimate.value:.0f} % ({low:.0f} to {high:.0f})"
    return Known("keepers", f"{words[0].upper()}{words[1:]}", words, found.day)


LOOKS: Mapping[str, Callable[[Ground, Zone, date], Known | None]] = {
    "keepers": _keepers, "drainage": _drainage, "thatch": _on_cores("thatch", "thatch"),
    "rooting": _on_cores("rooting", "roots"), "light": _light, "wear": _wear, "ph": _ph,
    "soil_test": _soil_test, "texture": _texture, "area": _area, "slope": _slope, "tap": _tap,
}  # fmt: skip


def _kept(fact: str, kept: KeptAnswer | None, today: date) -> Known | None:
    if kept is None:
        return None
    return Known(fact, kept.answer.words, "", kept.day, _old(kept.day, today))


def _readings(
    ground: Ground, zone: str, what: str, today: date, *, standing: bool
) -> Sequence[DiaryEntry]:
    """Give readings of the zone itself; standing ones are later than work that ends their say."""
    entries = [
        entry
        for entry in ground.entries(zone)
        if entry.when.first <= today
    ]  # fmt: skip
    read = [
        entry
        for entry in entries
        if isinstance(entry.what, Reading)
        and entry.what.quantity.casefold() == what
        and not entry.needs_a_look
        and (entry.zone or what == "water at the tap")
    ]
    works = [entry.day for entry in entries if isinstance(entry.what, _OPENS.get(what, ()))]
    since = max(works, default=None)
    return [entry for entry in read if not standing or since is None or entry.day >= since]


def _outworn(fact: str, name: str, old: Sequence[DiaryEntry]) -> Known | None:
    if not old:
        return None
    day = old[-1].day
    doubt = f"measured on {say(day)}, before the ground was worked"
    return Known(fact, f"{name[0].upper()}{name[1:]} {doubt}", "", day, doubt)


def _old(day: date, today: date) -> str:
    is_old = (today - day).days > value("survey_stale_days")
    return f"last measured on {say(day)}" if is_old else ""


def _value(entry: DiaryEntry) -> float:
    assert isinstance(entry.what, Reading)
    return entry.what.value
