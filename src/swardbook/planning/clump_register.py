"""A register of clumps: each digging by place and margin, what came back, and by which margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from swardbook.evidence.estimates import Interval
from swardbook.evidence.proportions import newcombe, wilson
from swardbook.evidence.verdicts import Spread, Verdict, verdict
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import ClumpCheck, DigClumps
from swardbook.planning.clumps import clumps_standing
from swardbook.planning.kinds import is_yorkshire_fog
from swardbook.planning.situation import Happened, Situation


@dataclass(frozen=True, slots=True)
class Dug:
    """One digging and the last look at it.

    Parameters
    ----------
    day : date
        When.
    place : str
        Where; empty if not said.
    clumps : int or None
        How many.
    margin_mm : float or None
        Margin beyond the last rooted node. [mm]
    spoil_to : str
        Where they went; empty if not said.
    checked_on : date or None
        The last look.
    looked, regrown : int
        Clumps looked at then, and how many had come back.
    due_on : date or None
        When the look is due; None where it was done.
    """

    day: date
    place: str
    clumps: int | None
    margin_mm: float | None
    spoil_to: str
    checked_on: date | None
    looked: int
    regrown: int
    due_on: date | None


@dataclass(frozen=True, slots=True)
class Share:
    """Some of a number, with its interval.

    Parameters
    ----------
    name : str
        Which ones.
    hits, looked : int
        How many of how many.
    interval : Interval or None
        95 % interval by Wilson; None where none was looked at. [-]
    """

    name: str
    hits: int
    looked: int
    interval: Interval | None

    @classmethod
    def of(cls, name: str, hits: int, looked: int) -> Share:
        """Make a share with its interval."""
        return cls(name, hits, looked, wilson(hits, looked) if looked else None)


@dataclass(frozen=True, slots=True)
class TwoShares:
    """Two shares of the book side by side.

    Parameters
    ----------
    one, other : Share
        The two.
    verdict : Verdict
        What the difference lets one say.
    difference : float or None
        First less second; None where it is not enough. [-]
    interval : Interval or None
        Its 95 % interval (Newcombe). [-]
    """

    one: Share
    other: Share
    verdict: Verdict
    difference: float | None = None
    interval: Interval | None = None


@dataclass(frozen=True, slots=True)
class ClumpRegister:
    """All diggings of a zone.

    Parameters
    ----------
    zone : str
        The zone.
    standing : int or None
        Clumps standing by the last count, less those dug since.
    counted_on : date or None
        The day of that count.
    dug : tuple of Dug
        Oldest first.
    margins : TwoShares
        What came back with less margin, and with the full one.
    not_told : int
        Diggings that do not say where the clumps went.
    """

    zone: str
    standing: int | None
    counted_on: date | None
    dug: tuple[Dug, ...]
    margins: TwoShares
    not_told: int


def compare_shares(one: Share, other: Share) -> TwoShares:
    """Compare two shares, once enough was looked at in each.

    They are the book's own and not shuffled: a clear difference is about these places, days and
    hands; the cause is not shown.

    Parameters
    ----------
    one, other : Share
        The two.
    """
    if min(one.looked, other.looked) < value("register_least"):
        return TwoShares(one, other, Verdict.NOT_ENOUGH)

    def at(level: float) -> Interval:
        return newcombe(one.hits, one.looked, other.hits, other.looked, level)

    difference = one.hits / one.looked - other.hits / other.looked
    told = verdict(difference, Spread.of(at), value("register_smallest"))
    return TwoShares(one, other, told, difference, at(0.95))


def clump_register(sit: Situation) -> ClumpRegister:
    """List what was dug in a zone, and what came back by margin.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    """
    digs = [each for each in sit.happened(DigClumps) if is_yorkshire_fog(each.what.species)]
    checks = [
        each for each in sit.happened(ClumpCheck)
        if is_yorkshire_fog(each.what.species) and each.what.looked
    ]  # fmt: skip
    dug = tuple(_dug(each, _looks_at(each, digs, checks)) for each in digs)
    seen = clumps_standing(sit)
    full, less = _by_margin(digs, checks)
    return ClumpRegister(
        sit.zone.name, seen.standing, seen.counted_on, dug, compare_shares(less, full),
        sum(not each.spoil_to for each in dug),
    )  # fmt: skip


def _looks_at(
    dig: Happened[DigClumps], digs: Sequence[Happened[DigClumps]],
    checks: Sequence[Happened[ClumpCheck]],
) -> list[Happened[ClumpCheck]]:  # fmt: skip
    return [each for each in checks if _dig_of(each, digs) is dig]


def _dig_of(
    check: Happened[ClumpCheck], digs: Sequence[Happened[DigClumps]]
) -> Happened[DigClumps] | None:
    """Find the digging a look belongs to: by place, else by margin, the last one before it."""
    before = [each for each in digs if each.day < check.day]
    if check.what.place:
        place = check.what.place.casefold()
        before = [each for each in before if each.what.place.casefold() == place]
    elif check.what.margin_mm is not None:
        before = [each for each in before if each.what.margin_mm == check.what.margin_mm]
    return before[-1] if before else None


def _by_margin(
    digs: Sequence[Happened[DigClumps]], checks: Sequence[Happened[ClumpCheck]]
) -> tuple[Share, Share]:
    last: dict[object, tuple[float, Happened[ClumpCheck]]] = {}
    for check in checks:
        dig = _dig_of(check, digs)
        margin = check.what.margin_mm
        if margin is None and dig is not None:
            margin = dig.what.margin_mm
        if margin is not None:
            last[dig.entry.id if dig else check.entry.id] = (margin, check)
    wanted = value("clump_margin")
    shares = []
    for name, is_full in (("with the full margin", True), ("with less", False)):
        these = [each for margin, each in last.values() if (margin >= wanted) is is_full]
        shares.append(
            Share.of(name, sum(c.what.regrown for c in these), sum(c.what.looked for c in these))
        )
    return shares[0], shares[1]


def _dug(dig: Happened[DigClumps], looks: Sequence[Happened[ClumpCheck]]) -> Dug:
    what, last = dig.what, looks[-1] if looks else None
    due = None if last else dig.day + timedelta(days=value("clump_check_days"))
    return Dug(
        dig.day, what.place, what.clumps, what.margin_mm, what.spoil_to,
        last.day if last else None, last.what.looked if last else 0,
        last.what.regrown if last else 0, due,
    )  # fmt: skip
