"""Better or worse? The whole ground: each zone's year, and its counts in order."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.book.counts import OccasionShown, show_counts
from swardbook.book.opening import Book
from swardbook.evidence import Estimate
from swardbook.figures.counts_over_time import ZONE
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.observations.counts import Method
from swardbook.observations.samples import Smallest
from swardbook.review.better_or_worse import MARKS, Year, ZoneReview, review_zone
from swardbook.review.one_sentence import earlier_sentence, honest_sentence, one_sentence
from swardbook.review.words import estimate_words

NOTHING_PROMISED = (
    "What was counted is told; nothing is promised. One year cannot show how much years differ."
)


@dataclass(frozen=True, slots=True)
class CountSeen:
    """One count in the line of a zone's counts.

    Parameters
    ----------
    day : date
        The day.
    where : str
        ``zone`` or ``honest squares``.
    method : Method
        How it was counted.
    estimate : Estimate
        What it says.
    counters : tuple of str
        Who counted.
    broken : str
        Why the line is broken before it; empty if it goes on.
    """

    day: date
    where: str
    method: Method
    estimate: Estimate
    counters: tuple[str, ...]
    broken: str = ""

    @property
    def words(self) -> str:
        """The figure with its range."""
        return estimate_words(self.estimate)


@dataclass(frozen=True, slots=True)
class ZoneYear:
    """One zone's year.

    Parameters
    ----------
    review : ZoneReview
        The verdict, the pairs, the honest squares and the leading signs.
    sentence : str
        The year in one sentence of under thirty words.
    honest : str
        Against the honest squares; empty where none were counted.
    earlier : str
        The same-season pair before the latest one; empty without one.
    counts : tuple of CountSeen
        Every count with a figure, in order.
    breaks : tuple of str
        Where the line of counts is broken, and why.
    instead : str
        What would have to be counted, where nothing can be said.
    """

    review: ZoneReview
    sentence: str
    honest: str
    earlier: str
    counts: tuple[CountSeen, ...]
    breaks: tuple[str, ...]
    instead: str

    @property
    def zone(self) -> str:
        """The zone's name."""
        return self.review.zone

    @property
    def word(self) -> Year:
        """The word for the year."""
        return self.review.word

    @property
    def mark(self) -> str:
        """The mark beside the word."""
        return MARKS[self.review.word]


@dataclass(frozen=True, slots=True)
class GroundYear:
    """The year of the whole ground, or of one zone.

    Parameters
    ----------
    kind : str
        Species key.
    zones : tuple of ZoneYear
        Zone by zone, in the order of the book.
    """

    kind: str
    zones: tuple[ZoneYear, ...]

    def number(self, word: Year) -> int:
        """Count the zones of one word."""
        return sum(each.word is word for each in self.zones)


def ground_year(book: Book, kind: str, smallest: Smallest, zone: str = "") -> GroundYear:
    """Say of every zone whether its year was better or worse.

    Parameters
    ----------
    book : Book
        The opened book.
    kind : str
        Species key of the weed.
    smallest : Smallest
        The smallest differences worth acting on.
    zone : str
        Only this zone; empty for all.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If the book has no zone.
    """
    ground = book.ground()
    names = [ground.zone(zone).name] if zone else [each.name for each in ground.zones]
    if not names:
        raise NotEnoughDataError("better or worse", "a zone that was counted", "no zone")
    found = []
    for name in names:
        review = review_zone(ground, name, kind, smallest)
        counts = tuple(_seen(show_counts(book, name, kind)))
        breaks = tuple(f"{say(each.day)}: {each.broken}" for each in counts if each.broken)
        found.append(
            ZoneYear(
                review, one_sentence(review), honest_sentence(review),
                earlier_sentence(review), counts, breaks, _instead(review, counts),
            )
        )  # fmt: skip
    return GroundYear(kind, tuple(found))


def _seen(shown: tuple[OccasionShown, ...]) -> list[CountSeen]:
    """List counts with a figure; another counter or another way of counting breaks the line."""
    found, ways = [], dict[str, Method]()
    for each in shown:
        for one in each.estimates:
            if one.estimate is None:
                continue
            before = ways.setdefault(each.where, one.method)
            ways[each.where] = one.method
            broken = each.break_before
            if before is not one.method:
                broken = f"Counted by {before}, then by {one.method}: a break here."
            found.append(
                CountSeen(each.day, each.where, one.method, one.estimate, each.counters, broken)
            )
    return found


def _instead(review: ZoneReview, counts: tuple[CountSeen, ...]) -> str:
    """Say which count would let something be said, where nothing can be."""
    if review.word is not Year.CANNOT_SAY:
        return ""
    days = sorted({each.day for each in counts if each.where == ZONE})
    if not days:
        return "Not counted yet: a count now and one in the same month next year will tell."
    last = days[-1]
    again = f"{last:%B} {last.year + 1}"
    if review.pairs:
        return f"The same places, and more of them, counted by the same person in {again}."
    if len(days) == 1:
        return f"The same places counted by the same person in {again} will tell."
    seasons = " and ".join(dict.fromkeys(f"{day:%B}" for day in days))
    return (
        f"Counted in {seasons}: months of different seasons are not compared, for the weed comes"
        f" and goes with the year. Count the same places in {again}."
    )
