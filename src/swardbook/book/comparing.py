"""Compare: two seasons, treated ground with the honest squares, strips, refills and pulls."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.book.opening import Book
from swardbook.evidence import Comparison
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import ClumpCheck, Cut, RefillCheck, Verticut
from swardbook.observations.comparing import Compared, compare_pairs
from swardbook.observations.occasions import Occasion, methods_used, place_figures
from swardbook.observations.samples import Smallest
from swardbook.observations.shares import compare_shares
from swardbook.review.better_or_worse import ZoneReview, review_zone
from swardbook.review.pulling import Pulling, review_pulling
from swardbook.review.records import occasions_of, treated
from swardbook.review.seasons import compare_in, pair_up


@dataclass(frozen=True, slots=True)
class DaysCompared:
    """Two days of one zone compared, or refused with what could be compared instead.

    Parameters
    ----------
    before, after : date
        The two days.
    compared : Compared
        The change, or the refusals.
    instead : tuple of tuple of date
        Same-season pairs there are.
    """

    before: date
    after: date
    compared: Compared
    instead: tuple[tuple[date, date], ...]


@dataclass(frozen=True, slots=True)
class StripsCompared:
    """Treated strips against untreated ones."""

    day: date
    compared: Compared
    beside: tuple[str, ...]
    """What has to be said beside the result."""


@dataclass(frozen=True, slots=True)
class SharesCompared:
    """Two shares, such as refills of two seasons."""

    first_name: str
    first: tuple[int, int]
    second_name: str
    second: tuple[int, int]
    comparison: Comparison


def zone_name(book: Book, zone: str) -> str:
    """Give a zone's name as the book has it; empty stays empty.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    return book.ground().zone(zone).name if zone else ""


def zone_review(book: Book, zone: str, kind: str, smallest: Smallest) -> ZoneReview:
    """Review a zone: every same-season pair, the honest squares, and the leading signs.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    return review_zone(book.ground(), zone, kind, smallest)


def pulling(book: Book, zone: str, kind: str) -> Pulling:
    """Bring the pull passes of a zone together.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    return review_pulling(book.ground(), zone, kind)


def compare_days(
    book: Book, zone: str, kind: str, smallest: Smallest, first: date, last: date
) -> DaysCompared:
    """Compare two days that are asked for; across seasons it is refused, with an offer.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    BadInputError
        If there is no count on one of the days.
    """
    ground = book.ground()
    name = ground.zone(zone).name
    occasions = [treated(ground, name, each) for each in occasions_of(ground, name)]
    before, after = _on(occasions, first), _on(occasions, last)
    instead = tuple((one.day, two.day) for one, two in pair_up(occasions, kind))
    compared = compare_in(ground, before, after, kind, smallest)
    return DaysCompared(first, last, compared, instead)


def compare_strips(
    book: Book,
    zone: str,
    kind: str,
    smallest: Smallest,
    treated_names: tuple[str, ...],
    untreated_names: tuple[str, ...],
) -> StripsCompared:
    """Compare treated with untreated strips in pairs, on the latest day all were counted.

    Raises
    ------
    BadInputError
        If the two lists differ in length.
    NotEnoughDataError
        If the strips were never counted on one day.
    """
    if len(treated_names) != len(untreated_names):
        raise BadInputError(
            "--treated and --untreated", f"{len(treated_names)} and {len(untreated_names)}",
            "the same number of strips, in pairs",
        )  # fmt: skip
    ground = book.ground()
    name = ground.zone(zone).name
    names = {each.casefold() for each in (*treated_names, *untreated_names)}
    for occasion in reversed(occasions_of(ground, name)):
        ways = methods_used(occasion.only(names).places, kind)
        counted = place_figures(occasion.places, kind, ways[0]) if ways else {}
        figures = {place.casefold(): figure for place, figure in counted.items()}
        if names <= set(figures):
            compared = compare_pairs(
                [figures[each.casefold()] for each in untreated_names],
                [figures[each.casefold()] for each in treated_names],
                kind,
                smallest,
            )
            return StripsCompared(occasion.day, compared, _beside(ground, name, occasion.day))
    raise NotEnoughDataError(
        f"a comparison of strips in {name}", "all the strips counted on one day", "no such day"
    )


def compare_refills(book: Book, smallest: Smallest) -> SharesCompared:
    """Compare refills sown in autumn with those sown in spring, over the whole site.

    Raises
    ------
    NotEnoughDataError
        If one of the two seasons has no checked refills with their day of sowing.
    """
    ground = book.ground()
    autumn, spring = "taken, sown in autumn", "taken, sown in spring"
    tally = {autumn: [0, 0], spring: [0, 0]}
    for entry in ground.diary:
        if isinstance(entry.what, RefillCheck) and entry.what.sown_on is not None:
            months = (entry.what.sown_on.month + (6 if ground.site.latitude < 0 else 0) - 1) % 12
            season = autumn if months >= 6 else spring
            tally[season][0] += entry.what.taken
            tally[season][1] += entry.what.looked
    return _shares("refills", tally, smallest, "Other places, sizes and weather: a difference"
                   " here is not proof of the cause.")  # fmt: skip


def compare_margins(book: Book, margin_mm: float, smallest: Smallest) -> SharesCompared:
    """Compare clumps that regrew, dug with at least a margin and with less.

    Parameters
    ----------
    book : Book
        The opened book.
    margin_mm : float
        The margin. [mm]
    smallest : Smallest
        The smallest differences worth acting on.

    Raises
    ------
    NotEnoughDataError
        If there are no checks of one of the two.
    """
    wide = f"regrown, dug with a margin of {margin_mm:g} mm or more"
    less = "regrown, dug with a smaller margin"
    tally = {wide: [0, 0], less: [0, 0]}
    for entry in book.ground().diary:
        if isinstance(entry.what, ClumpCheck) and entry.what.margin_mm is not None:
            group = tally[wide if entry.what.margin_mm >= margin_mm else less]
            group[0] += entry.what.regrown
            group[1] += entry.what.looked
    return _shares("clumps that regrew", tally, smallest, "The holes were not allotted at random:"
                   " cause not shown.")  # fmt: skip


def _shares(
    question: str, tally: dict[str, list[int]], smallest: Smallest, caution: str
) -> SharesCompared:
    (one, first), (two, second) = tally.items()
    if not first[1] or not second[1]:
        raise NotEnoughDataError(
            question, f"some looked at of both {one} and {two}", f"{first[1]} and {second[1]}"
        )
    made = compare_shares(question, (first[0], first[1]), (second[0], second[1]), smallest, caution)
    return SharesCompared(one, (first[0], first[1]), two, (second[0], second[1]), made)


def _on(occasions: list[Occasion], day: date) -> Occasion:
    for occasion in occasions:
        if occasion.day == day:
            return occasion
    days = ", ".join(say(each.day) for each in occasions) or "none"
    raise BadInputError("the day", say(day), f"a day of a count there: {days}")


def _beside(ground: Ground, zone: str, day: date) -> tuple[str, ...]:
    """Say which cuts on a day of verticutting were unboxed: heads can have spread."""
    entries = [each for each in ground.entries(zone) if each.day <= day and each.when.is_dated]
    verticuts = {each.day for each in entries if isinstance(each.what, Verticut)}
    unboxed = sorted(
        {
            each.day
            for each in entries
            if isinstance(each.what, Cut) and each.what.boxed is False and each.day in verticuts
        }
    )
    if not unboxed:
        return ()
    days = ", ".join(say(each) for each in unboxed)
    return (f"Cut unboxed on the day of a verticut: {days}. Heads may have spread.",)
