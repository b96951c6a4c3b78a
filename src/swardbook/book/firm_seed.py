"""Seed over all lawns of a firm: what lies in the shed, what is planned, what is short."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.book.firm import rows_seen, yard_of
from swardbook.book.lots import lot_uses
from swardbook.book.opening import Book
from swardbook.book.squaring import BAGS
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import GerminationTest, Refill, Sow
from swardbook.husbandry.tested import latest_test
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.records.among import parts_of_grounds
from swardbook.seed.germination_test import Germination
from swardbook.seed.lot import SeedLot

REFILL_ORDER = "refill order"
KINDS = (Sow.kind, Refill.kind, GerminationTest.kind, WorkedOut.kind)


@dataclass(frozen=True, slots=True)
class Planned:
    """Seed that is meant for a lawn and has not gone out yet.

    Parameters
    ----------
    slug, ground, zone : str
        Where.
    what : str
        The answer that was kept.
    day : date
        When it was kept.
    grams : float
        How much. [g]
    """

    slug: str
    ground: str
    zone: str
    what: str
    day: date
    grams: float


@dataclass(frozen=True, slots=True)
class LotAcross:
    """One lot over all lawns.

    Parameters
    ----------
    lot : SeedLot
        The label: the yard's, else the first lawn's.
    lawns : tuple of str
        Short names of the grounds that have the label, the yard left out.
    at_yard : bool
        Whether the yard has it; then its weight is the firm's, and lawns' labels are copies.
    labels_differ : bool
        Whether the labels under this number are not all the same but for weight and price.
    bought_g : float or None
        Bought, as far as labels say. [g]
    used_g : float
        Gone out to lawns, as far as it was weighed or a rate was said. [g]
    unweighed : int
        Times it went out with neither.
    planned : tuple of Planned
        What is meant to go out.
    age_days : int or None
        Days since closing or test. [d]
    test : Germination or None
        The latest germination test of all grounds.
    test_age_days : int or None
        Days since then. [d]
    """

    lot: SeedLot
    lawns: tuple[str, ...]
    at_yard: bool
    labels_differ: bool
    bought_g: float | None
    used_g: float
    unweighed: int
    planned: tuple[Planned, ...]
    age_days: int | None
    test: Germination | None
    test_age_days: int | None

    @property
    def left_g(self) -> float | None:
        """What is left by the books; below 0 where more went out than was bought [g]."""
        return None if self.bought_g is None else self.bought_g - self.used_g

    @property
    def planned_g(self) -> float:
        """What is meant to go out [g]."""
        return sum(each.grams for each in self.planned)

    @property
    def short_g(self) -> float | None:
        """What is wanting for what is planned [g]; None where it is not known what is left."""
        if self.left_g is None:
            return None
        return max(self.planned_g - max(self.left_g, 0.0), 0.0)

    @property
    def is_one_bag(self) -> bool | None:
        """Whether several labels may be one bag: None where that cannot be told."""
        if self.at_yard or len(self.lawns) < 2:
            return True
        return None if self.lot.bought_g is None or self.used_g <= self.lot.bought_g else False

    @property
    def is_old(self) -> bool:
        """Whether neither closing date nor test is of late."""
        ages = [each for each in (self.age_days, self.test_age_days) if each is not None]
        return bool(ages) and min(ages) > value("seed_test_old_days")


@dataclass(frozen=True, slots=True)
class Shed:
    """All seed of a firm.

    Parameters
    ----------
    today : date
        The day.
    yard : str
        Name of the yard; empty where none is named.
    lots : tuple of LotAcross
        Those that are short first, then by name.
    without_label : tuple of str
        Numbers that were sown with and that no label is kept of.
    """

    today: date
    yard: str
    lots: tuple[LotAcross, ...]
    without_label: tuple[str, ...]


def firm_stock(book: Book, among: Collection[str] | None = None) -> Shed:
    """Add the seed of all lawns up, lot by lot, with what is planned and what is short.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    among : collection of str or None
        Grounds that whoever asks may see, by short name; None: all.
    """
    rows = rows_seen(book, among)
    yard = yard_of(rows)
    grounds = parts_of_grounds(book.store, KINDS, [row.slug for row in rows], book.today)
    labels = _labels(grounds)
    yard_slug = yard.slug if yard else ""
    lots = [_across(grounds, there, yard_slug, book.today) for there in labels.values()]
    lots.sort(key=lambda each: (-(each.short_g or 0.0), each.lot.mixture, each.lot.code))
    sown = {
        what.lot.strip() for ground in grounds.values() for entry in ground.diary
        if isinstance(what := entry.what, Sow | Refill) and what.lot.strip()
    }  # fmt: skip
    unknown = {code.casefold(): code for code in sorted(sown) if code.casefold() not in labels}
    return Shed(book.today, yard.name if yard else "", tuple(lots), tuple(unknown.values()))


def _labels(grounds: Mapping[str, Ground]) -> dict[str, list[tuple[str, SeedLot]]]:
    found: dict[str, list[tuple[str, SeedLot]]] = defaultdict(list)
    for slug, ground in grounds.items():
        for lot in ground.lots:
            found[lot.code.casefold()].append((slug, lot))
    return found


def _across(
    grounds: Mapping[str, Ground], labels: Sequence[tuple[str, SeedLot]], yard: str, today: date
) -> LotAcross:
    own = next((lot for slug, lot in labels if slug == yard), None)
    first = own or labels[0][1]
    counted = [own] if own else [lot for _, lot in labels]
    bought = [lot.bought_g for lot in counted]
    uses = [use for ground in grounds.values() for use in lot_uses(ground, first)]
    tests = [each for ground in grounds.values() if (each := latest_test(ground, first))]
    latest = max(tests, key=lambda each: each.entry.day, default=None)
    return LotAcross(
        first,
        tuple(slug for slug, _ in labels if slug != yard),
        own is not None,
        len({(lot.mixture.casefold(), lot.parts, lot.tested_on) for _, lot in labels}) > 1,
        None if None in bought else sum(each for each in bought if each is not None),
        sum(use.grams for use in uses if use.grams is not None),
        sum(use.grams is None for use in uses),
        tuple(_planned(grounds, first)),
        None if first.tested_on is None else (today - first.tested_on).days,
        latest.test if latest else None,
        (today - latest.entry.day).days if latest else None,
    )


def _planned(grounds: Mapping[str, Ground], lot: SeedLot) -> Iterator[Planned]:
    """Give the last kept answer of each zone that names a lot, until seed of it went out there."""
    wanted = lot.code.casefold()
    for slug, ground in grounds.items():
        last: dict[tuple[str, str], DiaryEntry] = {}
        for entry in ground.diary:
            what = entry.what
            if isinstance(what, WorkedOut) and what.about in {BAGS, REFILL_ORDER}:
                last[entry.zone, what.about] = entry
            elif isinstance(what, Sow | Refill) and what.lot.casefold() == wanted:
                last.pop((entry.zone, BAGS if isinstance(what, Sow) else REFILL_ORDER), None)
        for entry in last.values():
            what = entry.what
            assert isinstance(what, WorkedOut)
            if what.named.get("lot", "").casefold() == wanted:
                grams = _grams(what)
                yield Planned(slug, ground.site.name, entry.zone, what.words, entry.day, grams)


def _grams(what: WorkedOut) -> float:
    if what.about == REFILL_ORDER:
        return what.found.get("seed_g", 0.0)
    bags = (held for name, held in what.found.items() if name.endswith(" bag_g"))
    return sum(bags) + what.found.get("spare_g", 0.0)
