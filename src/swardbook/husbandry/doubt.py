"""A doubt about an entry, with its likely fix; and the doubts that need no ground."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields

from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, plain_number
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Closure, Cut, Feed, Happening, Verticut, Water


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that looks odd, and the likely fix.

    Parameters
    ----------
    text : str
        What was read and what was perhaps meant.
    change : str
        The likely fix as ``field=value``; empty where there is none to offer.
    """

    text: str
    change: str = ""


def closure_backwards(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a closure that ends before it begins: two days swapped, or a year slip."""
    what = entry.what
    if not isinstance(what, Closure) or what.until is None or what.until >= entry.when.first:
        return
    told = f"Closed until {say(what.until)}, before it begins on {say(entry.when.first)}."
    try:
        later = what.until.replace(year=what.until.year + 1)
    except ValueError:
        later = what.until
    if 0 <= (later - entry.when.first).days <= value("look_closure_days"):
        yield Doubt(f"{told} {say(later)}?", f"until={later.isoformat()}")
    else:
        yield Doubt(f"{told} The two swapped?", f"when={what.until.isoformat()}")


_SIGNED = {"line_deg", "value"}
_UNITS = {"_g_m2": "g/m²", "_m2": "m²", "_m3": "m³", "_mm": "mm", "_percent": "%", "_g": "g"}
_NEVER_NOTHING = {"rate_g_m2", "area_m2", "height_of_cut_mm", "hole_mm", "spacing_mm"}
_PARTS = {"germinated": "seeds", "with_heads": "tufts", "taken": "looked"}


def refuse_below_nothing(what: Happening) -> None:
    """Refuse an amount below nothing: there is no truth in it that could be kept.

    Parameters
    ----------
    what : Happening
        What was done or seen, as typed.

    Raises
    ------
    BadInputError
        If an amount has a minus sign before it.
    """
    for name, amount in _amounts(what):
        if amount < 0:
            label, unit = _in_words(name)
            meant = f"{plain_number(-amount)}{unit}"
            raise BadInputError(label, f"−{meant}", "nothing below 0", f"{meant}?")


def of_none(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a size or rate of 0, which no work has."""
    for name, amount in _amounts(entry.what):
        if amount == 0 and name in _NEVER_NOTHING:
            label, unit = _in_words(name)
            yield Doubt(f"The {label} is 0{unit}. Not known, or another figure?", f"{name}=unknown")


def said_nothing(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a cut or a watering of which nothing was said but that it was."""
    what = entry.what
    if isinstance(what, Cut) and _is_blank(what.height_of_cut_mm, what.boxed, what.filled_box):
        yield Doubt("A cut, and no more is said: at what height, and with the box on?")
    elif isinstance(what, Water) and _is_blank(what.depth_mm, what.litres, what.minutes):
        yield Doubt("A watering, and no more is said: how long, how deep, or how many litres?")


def _is_blank(*said: object) -> bool:
    return all(each is None for each in said)


def _amounts(what: Happening) -> Iterator[tuple[str, float]]:
    for each in fields(what):
        amount = getattr(what, each.name)
        is_number = isinstance(amount, int | float) and not isinstance(amount, bool)
        is_depth = isinstance(what, Verticut) and each.name == "depth_mm"
        if is_number and each.name not in _SIGNED and not is_depth:
            yield each.name, amount


def more_than_all(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a part that is more than its whole, such as 120 of 100 seeds."""
    for part, whole in _PARTS.items():
        few, all_of_them = getattr(entry.what, part, 0), getattr(entry.what, whole, 0)
        if few > all_of_them:
            told = f"{few} {_in_words(part)[0]} of {all_of_them} {whole}. The two swapped?"
            yield Doubt(told, f"{part}={all_of_them}")
    if isinstance(entry.what, Feed):
        shares = (entry.what.nitrogen_percent or 0, entry.what.p2o5_percent, entry.what.k2o_percent)
        if sum(shares) > 100:
            told = f"These label figures add to {plain_number(sum(shares))} %, more than there is."
            yield Doubt(f"{told} Read the label again?")


def far_too_much(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a depth of water or a number of plants that no day's work has."""
    if isinstance(entry.what, Water) and (entry.what.depth_mm or 0) > value("look_water_once_mm"):
        told = f"{plain_number(entry.what.depth_mm or 0)} mm of water in one go"
        yield Doubt(f"{told} is more than a storm. Another unit?")
    for what in ("plants", "clumps", "holes"):
        number = getattr(entry.what, what, None) or 0
        if number > value("look_plants_once"):
            yield Doubt(f"{plain_number(number)} {what} in one go. Typed right?")


def round_and_round(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a line of more than a full turn."""
    line = getattr(entry.what, "line_deg", None)
    if line is not None and abs(line) > 360:
        yield Doubt(f"A line of {plain_number(line)}°: from −180 to 180, against the long side?")


def out_of_all_heights(entry: DiaryEntry, ground: Ground) -> Iterator[Doubt]:
    """Ask about a cut of the whole site far above, or below, where any zone is cut."""
    height = getattr(entry.what, "height_of_cut_mm", None)
    wanted = [zone.height_of_cut_mm for zone in ground.zones]
    if entry.zone or not height or not wanted:
        return
    factor = value("look_height_factor")
    if height >= factor * max(wanted) or height <= min(wanted) / factor:
        yield Doubt(
            f"{plain_number(height)} mm where zones are cut at {min(wanted):g} to"
            f" {max(wanted):g} mm. Another unit?"
        )


def _in_words(field: str) -> tuple[str, str]:
    for ending, unit in _UNITS.items():
        if field.endswith(ending):
            return field.removesuffix(ending).replace("_", " "), f" {unit}"
    return field.replace("_", " "), ""
