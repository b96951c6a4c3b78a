"""Bags of seed in the book: recorded, shown with what is left, checked against the gates."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Refill, Sow
from swardbook.husbandry.tested import latest_test
from swardbook.seed import (
    OTHERS,
    Gate,
    Germination,
    MixtureByNumber,
    SeedLot,
    Standard,
    WeedSeeds,
    by_number,
    changed_components,
    gates,
    read_lot_code,
    weed_seeds,
)


class LotState(StrEnum):
    """How a bag stands."""

    UNOPENED = "unopened lot"
    OPEN = "open"
    KEPT = "kept for refills"
    USED_UP = "used up"


@dataclass(frozen=True, slots=True)
class LotUse:
    """One time seed of a lot went out.

    Parameters
    ----------
    entry : DiaryEntry
        The diary entry.
    grams : float or None
        Weight used; None if neither weight nor rate was said. [g]
    """

    entry: DiaryEntry
    grams: float | None


@dataclass(frozen=True, slots=True)
class LotCard:
    """All that is known of one lot.

    Parameters
    ----------
    lot : SeedLot
        The label.
    mixture : MixtureByNumber or None
        By number of seeds, what can come up by the latest test; None where the label gives no
        components.
    by_label : MixtureByNumber or None
        The same by the label alone.
    gates : tuple of Gate
        The label against the limits.
    weeds_per_kg : tuple of WeedSeeds
        Weed-grass seeds in a kilogram, at most. [seeds kg⁻¹]
    uses : tuple of LotUse
        Where it went.
    used_g, left_g : float or None
        Used in all, and left; None where it cannot be told. [g]
    age_days : int or None
        Days since closing or test; None if no date is known.
    test : Germination or None
        The latest germination test in the diary.
    tested_by : DiaryEntry or None
        The entry it stands in.
    test_age_days : int or None
        Days since that test. [d]
    namesakes : tuple of str
        Codes of other lots of the same name: each is another seed.
    """

    lot: SeedLot
    mixture: MixtureByNumber | None
    by_label: MixtureByNumber | None
    gates: tuple[Gate, ...]
    weeds_per_kg: tuple[WeedSeeds, ...]
    uses: tuple[LotUse, ...]
    used_g: float | None
    left_g: float | None
    age_days: int | None
    test: Germination | None
    tested_by: DiaryEntry | None
    test_age_days: int | None
    namesakes: tuple[str, ...]

    @property
    def state(self) -> LotState:
        """How the bag stands, by what the diary says went out."""
        if not self.uses:
            return LotState.UNOPENED
        if self.left_g is None or self.lot.bought_g is None:
            return LotState.OPEN
        if self.left_g <= 0:
            return LotState.USED_UP
        nearly = self.left_g < value("seed_lot_nearly_used") * self.lot.bought_g
        return LotState.KEPT if nearly else LotState.OPEN

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why its germination is doubtful: ``old``, ``untested`` or neither."""
        ages = [age for age in (self.age_days, self.test_age_days) if age is not None]
        if not ages:
            return ("untested",)
        return ("old",) if min(ages) > value("seed_test_old_days") else ()

    @property
    def failed(self) -> tuple[Gate, ...]:
        """Statutory gates that the label does not pass."""
        return tuple(
            gate
            for gate in self.gates
            if gate.passed is False and gate.standard is Standard.STATUTORY
        )

    @property
    def viable_per_kg(self) -> float | None:
        """Seeds in a kilogram that can come up: by a test, else by the label [seeds kg⁻¹]."""
        return None if self.mixture is None else 1000 * self.mixture.viable_seeds_per_g

    @property
    def viable_per_kg_by_label(self) -> float | None:
        """Seeds in a kilogram that can come up, by the label alone [seeds kg⁻¹]."""
        return None if self.by_label is None else 1000 * self.by_label.viable_seeds_per_g

    @property
    def viable_per_kg_tested(self) -> tuple[float, float, float] | None:
        """The same by the latest test: low, middle, high [seeds kg⁻¹]; None without one."""
        if self.test is None or self.mixture is None:
            return None
        low, high = self.mixture.viable_range
        return 1000 * low, 1000 * self.mixture.viable_seeds_per_g, 1000 * high

    @property
    def promised(self) -> float | None:
        """Share of its pure seed that the label says germinates, of all parts together [-]."""
        if self.by_label is None:
            return None
        pure = sum(p.seeds_per_g * p.component.purity.value for p in self.by_label.parts)
        return self.by_label.viable_seeds_per_g / pure if pure else None

    @property
    def promised_by(self) -> str:
        """Who says so: the label, or the least allowed where it is silent."""
        parts = () if self.by_label is None else self.by_label.parts
        given = {part.component.germination.source for part in parts} == {"label"}
        return "the label's" if given else "the least allowed, as the label is silent:"

    @property
    def below_label(self) -> bool:
        """Whether the latest test lies clearly below what the label says."""
        promised = self.promised
        return self.test is not None and promised is not None and self.test.high < promised


@dataclass(frozen=True, slots=True)
class LiveSeed:
    """Seed of a lot that can come up, at a rate.

    Parameters
    ----------
    per_m2, low_per_m2, high_per_m2 : float
        How much, and by the ends of a test's range. [seeds m⁻²]
    is_tested : bool
        Whether a germination test says so and not the label.
    rate_as_label_g_m2 : float
        Rate that puts down as much live seed as the label would have. [g m⁻²]
    """

    per_m2: float
    low_per_m2: float
    high_per_m2: float
    is_tested: bool
    rate_as_label_g_m2: float


def live_seed(ground: Ground, lot: SeedLot, rate_g_m2: float) -> LiveSeed | None:
    """Say how much of a lot's seed can come up; None where the label names no components.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    lot : SeedLot
        The lot.
    rate_g_m2 : float
        Rate. [g m⁻²]
    """
    found = latest_test(ground, lot)
    mixture, label = _by_number(lot, found.test if found else None), _by_number(lot)
    if mixture is None or label is None:
        return None
    low, high = mixture.viable_range
    live = mixture.viable_seeds_per_g
    as_label = rate_g_m2 * label.viable_seeds_per_g / live if live else rate_g_m2
    return LiveSeed(
        rate_g_m2 * live, rate_g_m2 * low, rate_g_m2 * high, mixture.is_tested, as_label
    )


@dataclass(frozen=True, slots=True)
class LotAdded:
    """What came of recording a lot.

    Parameters
    ----------
    card : LotCard
        The lot as kept.
    told : str
        What was made of the lot number.
    namesakes : tuple of SeedLot
        Lots of the same name: this one counts as another seed.
    changed : tuple of SeedLot
        Those of them with other components or varieties.
    """

    card: LotCard
    told: str
    namesakes: tuple[SeedLot, ...]
    changed: tuple[SeedLot, ...]


def add_lot(book: Book, lot: SeedLot, put_right: bool = False) -> LotAdded:
    """Record a bag of seed.

    Parameters
    ----------
    book : Book
        The opened book.
    lot : SeedLot
        The label; a lot number that is only the name is kept as unknown.
    put_right : bool
        Whether it corrects the lot of that number; the diary keeps both.

    Returns
    -------
    LotAdded
        The lot as kept, and what else there is of its name.

    Raises
    ------
    BadInputError
        If the lot number is there already with another label, or its test lies in the future.
    """
    code, told = read_lot_code(lot.code, lot.mixture)
    lot = replace(lot, code=code, mixture=lot.mixture or code)
    _by_number(lot)
    if lot.tested_on is not None and lot.tested_on > book.today:
        raise BadInputError(
            "the date of test", lot.tested_on.isoformat(), "a day up to today", "Is the year right?"
        )
    lots = book.ground().lots
    same = [each for each in lots if each.code.casefold() == code.casefold()]
    if same and same[0] != lot and not put_right:
        raise BadInputError(
            "the lot", code, "a lot number that is not in the book yet",
            "Same number, other label. Start a second lot under its own number, or give"
            " --put-right to correct this one.",
        )  # fmt: skip
    namesakes = tuple(
        each
        for each in lots
        if each.mixture.casefold() == lot.mixture.casefold() and each not in same
    )
    book.store.save_lot(lot, on=book.today)
    card = lot_card(book.ground(), lot.code, book)
    return LotAdded(card, told, namesakes, changed_components(lot, namesakes))


def lot_card(ground: Ground, code: str, book: Book) -> LotCard:
    """Put together all that is known of a lot.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    code : str
        The lot number.
    book : Book
        The opened book, for its today.

    Returns
    -------
    LotCard
        The label, by number, gates, weeds, age, tests, where it went and what is left.

    Raises
    ------
    UnknownNameError
        If there is no such lot.
    """
    lot = ground.lot(code)
    uses = lot_uses(ground, lot)
    weights = [use.grams for use in uses]
    used = None if None in weights else sum(grams for grams in weights if grams is not None)
    left = None if used is None or lot.bought_g is None else lot.bought_g - used
    standard = Standard.STATUTORY if lot.statutory_only else Standard.VOLUNTARY
    found = latest_test(ground, lot)
    test, tested_by = (None, None) if found is None else (found.test, found.entry)
    return LotCard(
        lot=lot,
        mixture=_by_number(lot, test),
        by_label=_by_number(lot),
        gates=gates(lot.parts),
        weeds_per_kg=weed_seeds(lot.parts, 1000.0, standard),
        uses=uses,
        used_g=used,
        left_g=left,
        age_days=None if lot.tested_on is None else (book.today - lot.tested_on).days,
        test=test,
        tested_by=tested_by,
        test_age_days=None if tested_by is None else (book.today - tested_by.day).days,
        namesakes=tuple(
            each.code
            for each in ground.lots
            if each.mixture.casefold() == lot.mixture.casefold() and each.code != lot.code
        ),
    )


def lot_cards(book: Book) -> tuple[LotCard, ...]:
    """Put together the cards of all lots, in the order of the book."""
    ground = book.ground()
    return tuple(lot_card(ground, lot.code, book) for lot in ground.lots)


def _by_number(lot: SeedLot, test: Germination | None = None) -> MixtureByNumber | None:
    named = any(part.species != OTHERS for part in lot.parts)
    return by_number(lot.parts, test) if named else None


def lot_uses(ground: Ground, lot: SeedLot) -> tuple[LotUse, ...]:
    """List where seed of a lot went, in the order in which it did."""
    found = []
    for entry in ground.diary:
        what = entry.what
        if isinstance(what, Sow | Refill) and what.lot.casefold() == lot.code.casefold():
            grams = _grams(ground, entry)
            found.append(LotUse(entry, None if grams is None else grams * entry.number))
    return tuple(found)


def _grams(ground: Ground, entry: DiaryEntry) -> float | None:
    what = entry.what
    if isinstance(what, Sow):
        if what.used_g is not None or what.rate_g_m2 is None:
            return what.used_g
        if what.area_m2 is not None:
            return what.rate_g_m2 * what.area_m2
        return what.rate_g_m2 * ground.zone(entry.zone).area_m2 if entry.zone else None
    return what.used_g if isinstance(what, Refill) else None
