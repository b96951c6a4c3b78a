"""A register of refills: each by place, size and lot, what took, and by season."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from swardbook.foundation.dates import season_day
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Refill, RefillCheck, Sow
from swardbook.planning.clump_register import Share, TwoShares, compare_shares
from swardbook.planning.refills import Refilling, hole_advice, refilling
from swardbook.planning.situation import Happened, Situation

SEASONS = ("spring", "summer", "autumn", "winter")


@dataclass(frozen=True, slots=True)
class Refilled:
    """One refilling and the looks at it.

    Parameters
    ----------
    day : date
        When.
    season : str
        Its season, in either hemisphere.
    place, lot : str
        Where, and with what; empty if not said.
    is_same_lot : bool or None
        Whether the zone was sown with that lot; None where one of the two is not said.
    holes : int or None
        How many.
    hole_mm : float or None
        Width of one. [mm]
    looked, taken : int
        Refills looked at by the last look, and how many took.
    checked_on : date or None
        The last look.
    due_on : date or None
        When the look is due; None where it was done.
    """

    day: date
    season: str
    place: str
    lot: str
    is_same_lot: bool | None
    holes: int | None
    hole_mm: float | None
    looked: int
    taken: int
    checked_on: date | None
    due_on: date | None


@dataclass(frozen=True, slots=True)
class SizeAdvice:
    """What becomes of holes of one size today."""

    size: str
    says: str


@dataclass(frozen=True, slots=True)
class RefillRegister:
    """All refills of a zone.

    Parameters
    ----------
    zone : str
        The zone.
    refills : tuple of Refilled
        Oldest first.
    by_season : tuple of Share
        What took, by season of refilling, from this zone's own looks.
    seasons : TwoShares or None
        The two seasons with most looks side by side; None with fewer than two.
    now : Refilling
        Holes that are open, the lot in hand, and looks that are due.
    sizes : tuple of SizeAdvice
        What closes itself today, what is seeded, what takes turf.
    """

    zone: str
    refills: tuple[Refilled, ...]
    by_season: tuple[Share, ...]
    seasons: TwoShares | None
    now: Refilling
    sizes: tuple[SizeAdvice, ...]


def refill_register(sit: Situation) -> RefillRegister:
    """List the refills of a zone, and what took by season.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    """
    filled, looks = sit.happened(Refill), sit.happened(RefillCheck)
    rows = tuple(_refilled(sit, each, filled, looks) for each in filled)
    shares = tuple(
        Share.of(f"in {season}", sum(r.taken for r in these), sum(r.looked for r in these))
        for season in SEASONS
        if (these := [row for row in rows if row.season == season and row.looked])
    )
    most = sorted(shares, key=lambda share: -share.looked)[:2]
    two = compare_shares(most[0], most[1]) if len(most) == 2 else None
    return RefillRegister(sit.zone.name, rows, shares, two, refilling(sit), _sizes(sit))


def season_of(day: date, latitude: float) -> str:
    """Name the season of a day as refills are counted, in either hemisphere."""
    on = season_day(day, latitude)
    for season in reversed(SEASONS):
        if on >= value(f"register_{season}_from"):
            return season
    return "winter"


def _refilled(
    sit: Situation, each: Happened[Refill], every: Sequence[Happened[Refill]],
    looks: Sequence[Happened[RefillCheck]],
) -> Refilled:  # fmt: skip
    own = [look for look in looks if _of(look, every) is each]
    last, what = own[-1] if own else None, each.what
    due = None if last else each.day + timedelta(days=value("refill_check_days"))
    return Refilled(
        each.day, season_of(each.day, sit.site.latitude), what.place, what.lot,
        _is_same(sit, what.lot, each.day), what.holes, what.hole_mm,
        last.what.looked if last else 0, last.what.taken if last else 0,
        last.day if last else None, due,
    )  # fmt: skip


def _of(look: Happened[RefillCheck], every: Sequence[Happened[Refill]]) -> Happened[Refill] | None:
    """Find the refilling a look belongs to: by its day, else by place, else the last before it."""
    before = [each for each in every if each.day < look.day]
    if look.what.sown_on is not None:
        before = [each for each in before if each.day == look.what.sown_on]
    elif look.what.place:
        place = look.what.place.casefold()
        before = [each for each in before if each.what.place.casefold() == place]
    return before[-1] if before else None


def _is_same(sit: Situation, lot: str, day: date) -> bool | None:
    sown = [each for each in sit.happened(Sow) if each.day <= day and each.what.lot]
    if not lot or not sown:
        return None
    return any(each.what.lot.casefold() == lot.casefold() for each in sown)


def _sizes(sit: Situation) -> tuple[SizeAdvice, ...]:
    growing = (sit.lately.growth or 0.0) >= value("growing_now_potential")
    dry = bool(sit.lately.stress) and sit.lately.stress[-1] < value("no_stress")
    cold = sit.lately.soil is not None and sit.lately.soil < value("refill_soil")
    closes, turf = parameter("hole_closes_mm"), value("refill_turf_mm")
    return (
        SizeAdvice(f"up to {closes.low:.0f} or {closes.high:.0f} mm",
                   hole_advice(closes.low, growing, cold, dry)),
        SizeAdvice(f"{closes.high:.0f} to {turf:.0f} mm",
                   hole_advice((closes.high + turf) / 2, growing, cold, dry)),
        SizeAdvice(f"{turf:.0f} mm and more", hole_advice(turf, growing, cold, dry)),
    )  # fmt: skip
