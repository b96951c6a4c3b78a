"""Record counts, and show what each occasion says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from swardbook.book.count_sheet import Understood
from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Count
from swardbook.husbandry.looks import Doubt
from swardbook.observations.estimating import KindEstimate, estimate_kind
from swardbook.observations.occasions import Occasion
from swardbook.observations.odd_counts import odd_about
from swardbook.review.records import occasions_of, treated, untreated
from swardbook.review.sown_here import not_sown_here


@dataclass(frozen=True, slots=True)
class OccasionShown:
    """What one occasion says.

    Parameters
    ----------
    zone : str
        Name of the zone.
    day : date
        The day of the count.
    where : str
        ``zone`` or ``honest squares``.
    label : str
        What the occasion is called.
    counters : tuple of str
        Who counted.
    estimates : tuple of KindEstimate
        One for each kind and method.
    break_before : str
        Why this occasion does not follow on from the one before; empty if it does.
    """

    zone: str
    day: date
    where: str
    label: str
    counters: tuple[str, ...]
    estimates: tuple[KindEstimate, ...]
    break_before: str = ""


def record_count(
    book: Book,
    understood: Sequence[Understood],
    when: When,
    occasion: str,
    about: Mapping[str, Any],
) -> tuple[DiaryEntry, tuple[Doubt, ...]]:
    """Write a count in the diary; what looks odd is kept and parked for a second look.

    Parameters
    ----------
    book : Book
        The opened book.
    understood : sequence of Understood
        The places; a row where nothing was counted is left out and never 0.
    when : When
        The day of the count.
    occasion : str
        What it is called, if anything.
    about : mapping
        What any entry can carry: zone, who, hours, money, note.

    Returns
    -------
    tuple
        The entry as kept, and what looked odd.

    Raises
    ------
    BadInputError
        If nothing was counted at all.
    UnknownNameError
        If there is no such zone.
    """
    places = tuple(each.place for each in understood if each.place is not None)
    if not places:
        raise BadInputError(
            "the count", "nothing", "at least one kind counted at one place",
            "Blank is kept as not counted. If you looked and found none, put 0.",
        )  # fmt: skip
    strange = not_sown_here(book.ground(), str(about.get("zone", "")), places)
    asked = tuple(Doubt(text) for text in (*odd_about(places), *strange))
    return write(book, Count(places, occasion), when, asked=asked, **about), asked


def show_counts(
    book: Book, zone: str = "", kind: str = "", on: date | None = None
) -> tuple[OccasionShown, ...]:
    """Estimate what was counted on each occasion, zone by zone, in order.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Only this zone; empty for all.
    kind : str
        Only this kind, by key; empty for all.
    on : date or None
        Only this day.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    names = [ground.zone(zone).name] if zone else [each.name for each in ground.zones]
    return tuple(
        shown for name in names for shown in _shown(ground, name, kind) if on in (None, shown.day)
    )


def _shown(ground: Ground, zone: str, kind: str) -> list[OccasionShown]:
    shown: list[OccasionShown] = []
    last: dict[str, tuple[str, ...]] = {}
    for occasion in occasions_of(ground, zone):
        for where, part in (
            ("zone", treated(ground, zone, occasion)),
            ("honest squares", untreated(ground, zone, occasion)),
        ):
            estimates = _estimates(part, kind)
            if not estimates:
                continue
            broken = _break(last.get(where, ()), part.counters)
            last[where] = part.counters or last.get(where, ())
            shown.append(
                OccasionShown(zone, part.day, where, part.label, part.counters, estimates, broken)
            )
    return shown


def _estimates(occasion: Occasion, kind: str) -> tuple[KindEstimate, ...]:
    kinds = sorted({name for place in occasion.places for name in place.found})
    wanted = [name for name in kinds if not kind or name == kind]
    return tuple(estimate for name in wanted for estimate in estimate_kind(occasion.places, name))


def _break(before: tuple[str, ...], now: tuple[str, ...]) -> str:
    if not before or not now or set(before) & set(now):
        return ""
    return f"The counter changed from {', '.join(before)} to {', '.join(now)}: a break here."
