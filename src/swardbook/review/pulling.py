"""What two passes of pulling say, what is left, and the hours it would take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.evidence import Pace, Pass, TwoPasses, fit_pace, two_pass_removal
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import key_of
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Pull, Seedlings


@dataclass(frozen=True, slots=True)
class Removal:
    """One removal: a first pass, and a second where there was one.

    Parameters
    ----------
    first_on : date
        Day of the first pass.
    second_on : date or None
        Day of the second; None for a single pass.
    first, second : int or None
        Plants taken.
    passes : TwoPasses or None
        The estimate; None where there is not enough.
    refusal : str
        Why there is none.
    cautions : tuple of str
        What stands beside it.
    may_headline_left : bool
        Whether what is left may be headlined: only without a caution.
    next_plants : float or None
        Plants one more pass would find. [plants]
    next_hours : float or None
        Hours of one more pass at the zone's own pace. [h]
    """

    first_on: date
    second_on: date | None
    first: int
    second: int | None
    passes: TwoPasses | None
    refusal: str
    cautions: tuple[str, ...]
    may_headline_left: bool
    next_plants: float | None = None
    next_hours: float | None = None


@dataclass(frozen=True, slots=True)
class Pulling:
    """All removals of one weed in one zone.

    Parameters
    ----------
    removals : tuple of Removal
        The earliest first.
    pace : Pace or None
        Searching and handling, fitted to the zone's own passes.
    pace_words : str
        What the pace rests on.
    """

    removals: tuple[Removal, ...]
    pace: Pace | None
    pace_words: str


def review_pulling(ground: Ground, zone: str, kind: str) -> Pulling:
    """Bring the passes of a zone together and estimate what is left.

    Parameters
    ----------
    ground : Ground
        The ground as it stands.
    zone : str
        Name of the zone.
    kind : str
        Species key of the weed.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    place = ground.zone(zone)
    area = place.area_m2 - sum(
        square.area_m2 for square in ground.squares if square.zone.casefold() == zone.casefold()
    )
    entries = [
        entry
        for entry in ground.entries(place.name, Pull.kind)
        if entry.when.is_dated and _is_of(entry, kind)
    ]
    pace, told = _pace(entries, area)
    removals: list[Removal] = []
    best = 0.0
    for first, second in _paired(entries):
        removal = _removal(ground, place.name, first, second, best, area, pace)
        if removal.passes is not None:
            best = max(best, removal.passes.catch_rate)
        removals.append(removal)
    return Pulling(tuple(removals), pace, told)


def _is_of(entry: DiaryEntry, kind: str) -> bool:
    if not isinstance(entry.what, Pull) or entry.what.plants is None:
        return False
    return key_of(entry.what.species) == kind


def _paired(entries: Sequence[DiaryEntry]) -> list[tuple[DiaryEntry, DiaryEntry | None]]:
    """Put each pass B to the pass A before it; a pass without one stands alone."""
    pairs: list[tuple[DiaryEntry, DiaryEntry | None]] = []
    for entry in entries:
        is_second = isinstance(entry.what, Pull) and entry.what.pass_name.strip().upper() == "B"
        if is_second and pairs and pairs[-1][1] is None:
            pairs[-1] = (pairs[-1][0], entry)
        else:
            pairs.append((entry, None))
    return pairs


def _removal(
    ground: Ground,
    zone: str,
    first: DiaryEntry,
    second: DiaryEntry | None,
    best: float,
    area: float,
    pace: Pace | None,
) -> Removal:
    one = _plants(first)
    if second is None:
        refusal = "Not enough data for how many are left: needs two passes; there is one."
        return Removal(first.day, None, one, None, None, refusal, (), False)
    two = _plants(second)
    try:
        passes = two_pass_removal(one, two, value("pull_catch_least"))
    except NotEnoughDataError as lack:
        return Removal(first.day, second.day, one, two, None, str(lack), (), False)
    cautions = _cautions(ground, zone, first, second, passes, best)
    more = passes.left * passes.catch_rate
    hours = None if pace is None else pace.hours(area, more)
    return Removal(first.day, second.day, one, two, passes, "", cautions, not cautions, more, hours)


def _cautions(
    ground: Ground,
    zone: str,
    first: DiaryEntry,
    second: DiaryEntry,
    passes: TwoPasses,
    best: float,
) -> tuple[str, ...]:
    told = []
    apart, most = (second.day - first.day).days, int(value("pull_pass_days"))
    if apart > most:
        told.append(f"The passes are {apart} days apart, more than {most}: newcomers blur it.")
    if _flush_between(ground, zone, first, second):
        told.append("Seedlings came up between the passes: newcomers are counted as missed.")
    elif best and passes.catch_rate < value("catch_rate_fall") * best:
        told.append(
            f"A pass took {passes.catch_rate:.0%}, far below the {best:.0%} taken before:"
            " newcomers between the passes, or another search."
        )
    if passes.second == 0:
        told.append("None in the second pass: that is not the same as none left.")
    people = {entry.what.people for entry in (first, second) if isinstance(entry.what, Pull)} - {
        None
    }
    if len(people) > 1 and not (first.note or second.note):
        told.append("Not the same number of people in both passes, and no note of it.")
    return tuple(told)


def _flush_between(ground: Ground, zone: str, first: DiaryEntry, second: DiaryEntry) -> bool:
    noted = "seedling" in second.note.casefold()
    return noted or any(
        isinstance(entry.what, Seedlings) and first.day <= entry.day <= second.day
        for entry in ground.entries(zone, Seedlings.kind)
    )


def _pace(entries: Sequence[DiaryEntry], area: float) -> tuple[Pace | None, str]:
    timed = []
    for entry in entries:
        if entry.hours and isinstance(entry.what, Pull):
            try:
                timed.append(Pass(entry.what.area_m2 or area, _plants(entry), entry.hours))
            except OutOfRangeError:
                continue
    try:
        pace = fit_pace(timed)
    except NotEnoughDataError as lack:
        search, handling = parameter("pull_search"), parameter("pull_handling")
        return None, (
            f"{lack} Until then a guess: {search.low:.0f} to {search.high:.0f} s to search a"
            f" square metre and {handling.low:.0f} to {handling.high:.0f} s to handle a plant."
        )
    told = (
        f"Fitted to {pace.n} timed passes: {3600 * pace.search_h_m2:.0f} s to search a square"
        f" metre and {3600 * pace.handling_h:.0f} s to handle a plant."
    )
    return pace, told


def _plants(entry: DiaryEntry) -> int:
    return (entry.what.plants or 0) if isinstance(entry.what, Pull) else 0
