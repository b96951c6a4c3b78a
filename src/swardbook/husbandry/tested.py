"""Germination tests of a lot in the diary: the latest one goes before the label."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import GerminationTest
from swardbook.seed.germination_test import Germination, read_test
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.seed.mixture import as_tested


@dataclass(frozen=True, slots=True)
class Tested:
    """A germination test of a lot.

    Parameters
    ----------
    test : Germination
        What it found.
    entry : DiaryEntry
        Where it stands.
    """

    test: Germination
    entry: DiaryEntry


def latest_test(ground: Ground, lot: SeedLot) -> Tested | None:
    """Find the latest germination test of a lot that the diary holds; None without one.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    lot : SeedLot
        The lot.
    """
    tests = [
        (entry, entry.what)
        for entry in ground.diary
        if isinstance(entry.what, GerminationTest)
        and entry.what.lot.casefold() == lot.code.casefold()
    ]
    if not tests:
        return None
    entry, what = max(tests, key=lambda pair: pair[0].day)
    return Tested(read_test(what.germinated, what.seeds), entry)


def parts_as_known(ground: Ground, lot: SeedLot) -> tuple[LotPart, ...]:
    """Give a lot's label with the germination its latest test found, where there is one.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    lot : SeedLot
        The lot.
    """
    found = latest_test(ground, lot)
    return as_tested(lot.parts, None if found is None else found.test)
