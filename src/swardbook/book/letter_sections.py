"""The sections of a letter: in short, found, done, cost; and its two pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from swardbook.book.better_or_worse import CountSeen, GroundYear, ZoneYear
from swardbook.book.letter_parts import hours_done, initials, work_done
from swardbook.book.pictures import named
from swardbook.figures.counts_over_time import ZONE
from swardbook.figures.letter_sheet import RangeBar, RangePicture, Section, SheetTable
from swardbook.husbandry.costs import Costs
from swardbook.husbandry.diary import DiaryEntry
from swardbook.review.better_or_worse import Year
from swardbook.review.plain_words import plain_contrast, plain_estimate, plain_year

_SIGNS = {"GBP": "£", "EUR": "€", "USD": "$"}


@dataclass(frozen=True, slots=True)
class Room:
    """How much goes on two sides: size of letters, zones, lines of work, of costs, of found."""

    points: float
    zones: int
    done: int
    costs: int
    found: int
    pictures: bool = True


ROOMS = (
    Room(12, 9, 8, 18, 4), Room(11.5, 9, 8, 18, 4), Room(11, 9, 8, 18, 4), Room(11, 9, 5, 12, 3),
    Room(11, 8, 4, 8, 2), Room(11, 6, 3, 6, 1, False), Room(11, 4, 2, 4, 1, False),
)  # fmt: skip
"""From most to least: the first that fits is taken; letters are never below 11 points."""


def money_words(amount: Decimal | None, currency: str) -> str:
    """Write an amount to the penny; none is ``not written down``."""
    if amount is None:
        return "not written down"
    return f"{_SIGNS.get(currency, f'{currency} ')}{amount:,.2f}"


def in_short(year: GroundYear, room: Room) -> Section:
    """Give each zone its word and its two counts, those that can be judged first."""
    told = (
        f"The weed that we count is {named(year.kind)}. “14 in 100” means that it takes up 14 of"
        " each 100 parts of the ground. The two numbers after it are the range: the true number"
        " most likely lies there. Counts are set side by side only if they come from the same"
        " places in the same season."
    )
    order = list(Year)
    zones = sorted(year.zones, key=lambda each: order.index(each.word) == len(order) - 1)
    rows = tuple((f"{each.mark} {each.word}", each.zone, *_then_and_now(each))
                 for each in zones[: room.zones])  # fmt: skip
    rest = zones[room.zones :]
    points = (_rest_words(rest),) if rest else ()
    return Section(
        "In short", (told,), points, SheetTable(("Word", "Place", "Then", "Now"), rows, "2fr 3fr")
    )


def _rest_words(rest: Sequence[ZoneYear]) -> str:
    told = [f"{n} {word}" for word in Year if (n := sum(each.word is word for each in rest))]
    return f"{len(rest)} more places: {', '.join(told)}."


def _then_and_now(each: ZoneYear) -> tuple[str, str]:
    ends = _ends(each)
    if ends is None:
        last = [count for count in each.counts if count.where == ZONE]
        return ("cannot be compared", _when(last[-1])) if last else ("not counted", "not counted")
    return _when(ends[0]), _when(ends[1])


def _when(count: CountSeen) -> str:
    return f"{count.day:%b %Y}: {plain_estimate(count.estimate)}"


def _ends(each: ZoneYear) -> tuple[CountSeen, CountSeen] | None:
    """Give the two counts that the zone's year was judged by."""
    if not each.review.pairs or each.review.pairs[-1].made is None:
        return None
    pair = each.review.pairs[-1]
    found = [
        count for day in (pair.before, pair.after) for count in each.counts
        if (count.day, count.where, count.method) == (day, ZONE, pair.compared.method)
    ]  # fmt: skip
    return (found[0], found[1]) if len(found) == 2 else None


def found_out(year: GroundYear, room: Room) -> Section:
    """Say in plain words how zones did, and what honest squares show."""
    told = [
        words for each in year.zones
        if (ends := _ends(each))
        and (words := plain_year(each.review, ends[0].estimate, ends[1].estimate))
    ]  # fmt: skip
    for each in year.zones:
        beside = _beside(each)
        if beside is not None and each.review.honest is not None:
            squares, zone = (count.estimate for count in beside)
            told.append(plain_contrast(each.zone, each.review.honest, squares, zone))
    contrasts = [words for words in told if words.startswith("Some squares")]
    years = [words for words in told if words not in contrasts]
    texts = (*years[: room.found], *contrasts[:2])
    return Section("What was found", texts or ("No place can be judged yet.",), is_pictured=True)


def _beside(each: ZoneYear) -> tuple[CountSeen, CountSeen] | None:
    """Give what the honest squares and the zone had on the day they were compared."""
    honest = each.review.honest
    if honest is None or honest.compared.comparison is None:
        return None
    here = [
        count for count in each.counts
        if count.day == honest.day and count.method is honest.compared.method
    ]  # fmt: skip
    squares = [count for count in here if count.where != ZONE]
    zone = [count for count in here if count.where == ZONE]
    return (squares[0], zone[0]) if squares and zone else None


def work_section(
    entries: list[DiaryEntry], zones: Sequence[str], left_out: tuple[str, ...], room: Room
) -> Section:
    """Say what was done in each zone, in how many hours, by whom."""
    points = [words for zone in zones if (words := work_done(entries, zone))]
    rest = len(points) - room.done
    points = points[: room.done]
    if rest > 0:
        points.append(f"There was work in {rest} more places.")
    texts = []
    hours = None if "hours" in left_out else hours_done(entries)
    if hours is not None:
        texts.append(f"The work took {hours:,.0f} hours that are written down.")
    people = "" if "names" in left_out else initials(entries)
    if people:
        texts.append(f"It was done by {people}")
    texts = [" ".join(texts)] if texts else []
    return Section("What was done", tuple(texts), tuple(points or ["Nothing is written down."]))


def money_section(money: Costs, currency: str, room: Room) -> Section:
    """Set what was spent beside what was planned, to the penny."""
    if money.spent is None and money.planned is None:
        return Section("What it cost", ("No costs are written down.",))
    short = money.shortened(room.costs)
    rows: list[tuple[str, ...]] = [
        (each.name, money_words(each.planned, currency), money_words(each.spent, currency))
        for each in short.lines
    ]
    if money.planned is None:
        spent = money_words(money.spent, currency)
        text = f"We spent {spent}. What was planned is not written down."
        rows = [(name, spent) for name, _, spent in rows]
        heads: tuple[str, ...] = ("For", "Spent")
        total: tuple[str, ...] = ("In all", spent)
    else:
        spent = money_words(money.spent, currency)
        text = f"We planned {money_words(money.planned, currency)}. We spent {spent}."
        heads = ("For", "Planned", "Spent")
        total = ("In all", money_words(money.planned, currency), spent)
    return Section(
        "What it cost", (text,), table=SheetTable(heads, (*rows, total), "money", has_total=True)
    )


def range_pictures(year: GroundYear) -> tuple[RangePicture, ...]:
    """Give the pictures: then and now; with the work and without."""
    then: list[RangeBar] = []
    for each in year.zones:
        ends = _ends(each)
        if ends is not None and all(count.estimate.unit == "%" for count in ends):
            then += [_bar(each.zone, f"{end.day:%b %Y}", end, n == 1) for n, end in enumerate(ends)]
    beside: list[RangeBar] = []
    for each in year.zones:
        pair = _beside(each)
        if pair is not None:
            beside += [_bar(each.zone, "with work", pair[1], True),
                       _bar(each.zone, "left alone", pair[0], False)]  # fmt: skip
    found = []
    if then:
        found.append(RangePicture("The weed in each 100 parts of ground, then and now",
                                  tuple(then[:8])))  # fmt: skip
    if beside:
        unit = "on a square metre" if beside[0].unit != "%" else "in each 100 parts"
        same = tuple(each for each in beside if each.unit == beside[0].unit)
        found.append(RangePicture(f"The weed {unit}, with our work and without", same[:4]))
    return tuple(found)


def _bar(zone: str, name: str, count: CountSeen, is_filled: bool) -> RangeBar:
    made = count.estimate
    return RangeBar(
        zone, name, made.value, made.interval.low, made.interval.high, is_filled, made.unit,
        plain_estimate(made),
    )  # fmt: skip
