"""Catching up with a book after a breakdown or an absence."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.book.fields import quantity
from swardbook.book.kept import KeptRow, aged_in
from swardbook.book.opening import Book
from swardbook.book.plan import situations
from swardbook.foundation.dates import read_day
from swardbook.foundation.quantities import require
from swardbook.planning.catch_up import CatchUp, catch_up, last_record
from swardbook.planning.counts_now import is_cared_for


@dataclass(frozen=True, slots=True)
class CaughtUp:
    """What somebody coming back reads: at most five lines, for one zone or for the site.

    Parameters
    ----------
    zones : tuple of CatchUp
        Zone by zone.
    lines : tuple of str
        The lines.
    aged : tuple of KeptRow
        Kept answers whose facts have changed since.
    """

    zones: tuple[CatchUp, ...]
    lines: tuple[str, ...]
    aged: tuple[KeptRow, ...] = ()


def caught_up(book: Book, zone: str = "", since: str = "", height: str = "") -> CaughtUp:
    """Say what changed, lapsed and passed since somebody was last there.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone; empty for every zone that weed work is done in and that has a record.
    since : str
        The last day there, as typed; empty takes each zone's last record.
    height : str
        Height of the grass measured today, as typed.
    """
    day = read_day(since, book.today) if since else None
    mm = quantity(height, "mm", "--height") if height else None
    if mm is not None:
        require("height of the grass", mm, 2, 1500, "mm", "8 cm is 80 mm.")
    every = situations(book, zone)
    here = every if zone else [sit for sit in every if is_cared_for(sit)] or every
    if not zone and day is None:
        here = [sit for sit in here if last_record(sit) is not None] or here
    found = tuple(catch_up(sit, day, mm) for sit in here)
    lines, aged = found[0].lines if len(found) == 1 else _together(found), aged_in(book, zone)
    return CaughtUp(found, _with_aged(lines, aged), aged)


def _with_aged(lines: tuple[str, ...], aged: tuple[KeptRow, ...]) -> tuple[str, ...]:
    """Name kept answers that have aged among what lapsed."""
    if not aged:
        return lines
    names = ", ".join(dict.fromkeys(each.about for each in aged))
    told = f"kept answers that have aged: {names} (swardbook look-over)"
    return tuple(_lapsed_too(each, told) for each in lines)


def _lapsed_too(line: str, told: str) -> str:
    start, is_lapsed, rest = line.partition("Lapsed: ")
    if start or not is_lapsed:
        return line
    before = "" if rest == "nothing." else f"{rest.removesuffix('.')}; "
    return f"Lapsed: {before}{told}."


def _together(found: tuple[CatchUp, ...]) -> tuple[str, ...]:
    """Put several zones into the same five lines; what differs is told by zone on asking."""
    spells = dict.fromkeys(one.spell for one in found)
    longest = min(found, key=lambda one: one.since)
    first = (
        next(iter(spells)) if len(spells) == 1 else f"longest in {longest.zone}, {longest.spell}"
    )
    lapsed = dict.fromkeys(each for one in found for each in one.lapsed)
    late = dict.fromkeys(part for one in found for each in one.too_late for part in _parts(each))
    steps = [one.zone for one in found if len(one.down) > 1]
    unknown = [one.zone for one in found if one.grass is None]
    mowing = f"step down over days in {', '.join(steps)}" if steps else "no zone needs steps"
    if unknown:
        mowing += f"; height not known in {', '.join(unknown)}"
    if held := [one.zone for one in found if one.waits]:
        mowing += f"; what keeps the mower in or the cut up stands in {', '.join(held)}: see there"
    past = [one.zone for one in found if one.days_past]
    clock = f"past in {', '.join(past)}; a first cut resets it in part" if past else "not past"
    return (
        f"Changed: {first}.",
        f"Lapsed: {'; '.join(lapsed) or 'nothing'}.",
        f"No longer this season: {_listed(list(late)) or 'nothing has passed'}.",
        f"Mowing: {mowing}.",
        f"Seeding clock: {clock}.",
    )


def _parts(told: str) -> list[str]:
    """Take a list of components apart, so that those of several lots are named once."""
    if not told.startswith("sowing "):
        return [told]
    return [f"sowing {each}" for each in told.removeprefix("sowing ").split(", ")]


def _listed(items: list[str]) -> str:
    sown = [each.removeprefix("sowing ") for each in items if each.startswith("sowing ")]
    rest = [each for each in items if not each.startswith("sowing ")]
    return "; ".join([*([f"sowing {', '.join(sown)}"] if sown else []), *rest])
