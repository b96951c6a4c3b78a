"""From a lot to every lawn that was sown with it, what was seen there since, and a note to each."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from swardbook.book.firm import rows_seen
from swardbook.book.lots import lot_uses
from swardbook.book.opening import Book
from swardbook.foundation.dates import say
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    Count,
    Disease,
    GerminationTest,
    Refill,
    RefillCheck,
    Seedlings,
    Sow,
    TugTest,
    WalkNoneFound,
)
from swardbook.records.among import parts_of_grounds
from swardbook.seed.lot import SeedLot

SEEN = (GerminationTest, Seedlings, RefillCheck, TugTest, Count, WalkNoneFound, Disease)
KINDS = (Sow.kind, Refill.kind, *(each.kind for each in SEEN))
MOST_SEEN = 6
"""Things seen since that are told of one sowing; the latest."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One thing that was seen after a sowing."""

    day: date
    words: str


@dataclass(frozen=True, slots=True)
class Sown:
    """One time seed of the lot went out.

    Parameters
    ----------
    slug, ground, zone : str
        Where.
    day : date
        When.
    kind : str
        ``sow`` or ``refill``.
    area_m2 : float or None
        Over how much; None where it cannot be told. [m²]
    grams : float or None
        How much; None where it was neither weighed nor a rate said. [g]
    plots : tuple of str
        Plots of a trial that have its mixture there.
    seen : tuple of Seen
        What was seen there since, the latest last.
    more_seen : int
        Things seen before those.
    entry : UUID
        The entry.
    """

    slug: str
    ground: str
    zone: str
    day: date
    kind: str
    area_m2: float | None
    grams: float | None
    plots: tuple[str, ...]
    seen: tuple[Seen, ...]
    more_seen: int
    entry: UUID


@dataclass(frozen=True, slots=True)
class LotTrace:
    """Where a lot went.

    Parameters
    ----------
    code, mixture : str
        The lot; the mixture is empty where no label is kept.
    sown : tuple of Sown
        Every sowing and refill, lawn by lawn, the oldest first.
    in_hand_at : tuple of str
        Lawns that have its label and never sowed it.
    notes : tuple of (str, str, str)
        Short name, name, and a drafted note to the owner, of each lawn that was sown with it.
    """

    code: str
    mixture: str
    sown: tuple[Sown, ...]
    in_hand_at: tuple[str, ...]
    notes: tuple[tuple[str, str, str], ...]

    @property
    def grams(self) -> float:
        """What went out, as far as it is known [g]."""
        return sum(each.grams or 0.0 for each in self.sown)

    @property
    def lawns(self) -> int:
        """How many lawns were sown with it."""
        return len({each.slug for each in self.sown})


def trace_lot(
    book: Book, code: str, among: Collection[str] | None = None, because: str = ""
) -> LotTrace:
    """Find every sowing and refill with a lot over all lawns, by a fixed number of questions.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    code : str
        The lot number.
    among : collection of str or None
        Grounds that whoever asks may see, by short name; None: all.
    because : str
        What is wrong with the lot, for the notes.

    Raises
    ------
    UnknownNameError
        If no lawn has a lot of that number, or was sown with it.
    """
    wanted = code.strip()
    rows = rows_seen(book, among)
    grounds = parts_of_grounds(
        book.store, KINDS, [row.slug for row in rows], book.today, holding=wanted
    ) if wanted else {}  # fmt: skip
    label = next((lot for ground in grounds.values() for lot in ground.lots
                  if lot.code.casefold() == wanted.casefold()), None)  # fmt: skip
    lot = label or SeedLot(wanted, "", ())
    sown = [each for slug, ground in grounds.items() for each in _sown(slug, ground, lot)]
    if label is None and not sown:
        there_are = parts_of_grounds(book.store, (), [row.slug for row in rows])
        codes = {lot.code for ground in there_are.values() for lot in ground.lots}
        raise UnknownNameError("lot", code, sorted(codes))
    there = {each.slug for each in sown}
    idle = [ground.site.name for slug, ground in grounds.items() if slug not in there
            and any(each.code.casefold() == wanted.casefold() for each in ground.lots)]  # fmt: skip
    notes = [
        (slug, ground.site.name,
         owner_note(ground.site.name, lot, [e for e in sown if e.slug == slug], because))
        for slug, ground in grounds.items() if slug in there
    ]  # fmt: skip
    return LotTrace(lot.code, lot.mixture, tuple(sown), tuple(idle), tuple(notes))


def weight(grams: float) -> str:
    """Say a weight.

    Parameters
    ----------
    grams : float
        How much. [g]
    """
    if abs(grams) >= 1000:
        return f"{grams / 1000:.3g} kg"
    return f"{grams:.0f} g" if abs(grams) >= 10 else f"{grams:.2g} g"


def owner_note(name: str, lot: SeedLot, sown: list[Sown], because: str = "") -> str:
    """Draft a note to an owner: what was sown, what was seen, what is not known, what comes next.

    Parameters
    ----------
    name : str
        Name of the lawn.
    lot : SeedLot
        The lot.
    sown : list of Sown
        What went onto this lawn.
    because : str
        What is wrong with it; empty where that is not said.
    """
    called = f"{lot.mixture}, lot {lot.code}" if lot.mixture else f"lot {lot.code}"
    reason = f" The reason: {because.strip().rstrip('.')}." if because.strip() else ""
    lines = [
        f"To the owner of {name}",
        "",
        f"We are looking again at every lawn that was sown with one bag of seed: {called}.{reason}"
        " Yours is one of them.",
        "",
    ]
    for each in sown:
        lines.append(f"- {say(each.day)}: {sowing_words(each)}.")
        lines += [f"  Since then, {say(seen.day)}: {seen.words}." for seen in each.seen]
        if not each.seen:
            lines.append("  Nothing was noted of it since.")
    return "\n".join([
        *lines,
        "",
        "What this means for your lawn is not known yet. Until we have looked, please let nobody"
        " sow more of this bag. We come to look at it and then tell you what we found and what, if"
        " anything, is to be done.",
    ])  # fmt: skip


def sowing_words(each: Sown) -> str:
    """Say one sowing in a few words."""
    done = "sown" if each.kind == Sow.kind else "holes refilled"
    where = each.zone or "the whole site"
    area = "" if each.area_m2 is None else f", {each.area_m2:,.4g} m²"
    grams = ", weight not noted" if each.grams is None else f", {weight(each.grams)}"
    plots = f", plots {', '.join(each.plots)}" if each.plots else ""
    return f"{where} {done}{area}{grams}{plots}"


def _sown(slug: str, ground: Ground, lot: SeedLot) -> Iterator[Sown]:
    for use in lot_uses(ground, lot):
        entry, what = use.entry, use.entry.what
        assert isinstance(what, Sow | Refill)
        plots = tuple(plot.name for plot in ground.plots
                      if lot.mixture and plot.zone.casefold() == entry.zone.casefold()
                      and plot.mixture.casefold() == lot.mixture.casefold())  # fmt: skip
        area = what.area_m2
        areas = {each.name.casefold(): each.area_m2 for each in ground.zones}
        if area is None and isinstance(what, Sow) and not plots:
            area = areas.get(entry.zone.casefold())
        seen = _seen(ground, entry, lot)
        yield Sown(
            slug, ground.site.name, entry.zone, entry.day, what.kind, area, use.grams,
            plots if isinstance(what, Sow) else (), seen[-MOST_SEEN:],
            max(len(seen) - MOST_SEEN, 0), entry.id,
        )  # fmt: skip


def _seen(ground: Ground, sowing: DiaryEntry, lot: SeedLot) -> tuple[Seen, ...]:
    found = []
    for entry in ground.diary:
        what = entry.what
        if entry.day < sowing.day or not isinstance(what, SEEN):
            continue
        if isinstance(what, GerminationTest):
            is_ours = what.lot.casefold() == lot.code.casefold()
        else:
            is_there = not entry.zone or entry.zone.casefold() == sowing.zone.casefold()
            of_refills = isinstance(what, RefillCheck), sowing.what.kind == Refill.kind
            is_ours = is_there and of_refills[0] == of_refills[1]
        if is_ours:
            found.append(Seen(entry.day, _words(entry)))
    return tuple(found)


def _words(entry: DiaryEntry) -> str:
    what = entry.what
    if isinstance(what, GerminationTest):
        return f"{what.germinated} of {what.seeds} seeds germinated"
    if isinstance(what, Seedlings):
        thick = "" if what.per_m2 is None else f", {what.per_m2:,.0f} a m²"
        return f"{what.species or 'seedlings'} {'first ' if what.first_seen else ''}seen{thick}"
    if isinstance(what, RefillCheck):
        return f"{what.taken} of {what.looked} refills had taken"
    if isinstance(what, TugTest):
        return f"the tug test {'held' if what.passed else 'did not hold'}"
    if isinstance(what, Count):
        return _count_words(what)
    if isinstance(what, WalkNoneFound):
        return f"walked over, and no {what.species} found"
    assert isinstance(what, Disease)
    return f"{what.name or 'a disease'} seen"


def _count_words(what: Count) -> str:
    """Say what a count by points found, kind by kind, without a range: the counts' page has it."""
    found: dict[str, float] = {}
    looked = sum(place.looked for place in what.places)
    for place in what.places:
        for kind, many in place.found.items():
            found[kind] = found.get(kind, 0.0) + many
    told = ", ".join(f"{kind} {many:g}" for kind, many in sorted(found.items()))
    return f"counted at {len(what.places)} places, {looked:g} looked at: {told}"
