"""A trial of the book squares up as planned and, once put right, as sown."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.book.squaring import square_up_sowing
from swardbook.foundation.dates import When
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import Sow
from swardbook.seed.lot import LotPart, SeedLot
from tests.support.books import SHORT, small_book

SOWN = date(2011, 9, 1)
WATCH = SeedLot("PW-0555", "Pocketwatch", (LotPart("perennial ryegrass", 1.0),), bought_g=1000)
CAKE = SeedLot("TC-0771", "Teacake", (LotPart("perennial ryegrass", 1.0),), bought_g=1000)
LEFT = ("PW-0555=730", "TC-0771=895")


@pytest.fixture
def trial(tmp_path: Path) -> Book:
    """Two mixtures on four plots; plot 2-01 was planned as Teacake and got Pocketwatch."""
    book = small_book(tmp_path)
    for lot in (WATCH, CAKE):
        book.store.save_lot(lot)
    plan = (("1-01", "Pocketwatch"), ("1-02", "Teacake"), ("2-01", "Teacake"),
            ("2-02", "Pocketwatch"))  # fmt: skip
    for name, planned in plan:
        sown = "Pocketwatch" if name == "2-01" else ""
        block, number = (int(part) for part in name.split("-"))
        book.store.save_plot(Plot(name, SHORT.name, block, number, planned, sown))
    for code, rate, plots in (("PW-0555", 30.0, 3), ("TC-0771", 35.0, 1)):
        write(book, Sow(code, rate, 3.0 * plots), When.on(SOWN), zone=SHORT.name)
    return book


def test_as_planned_the_weights_point_at_the_two_lots_and_as_sown_they_agree(trial: Book) -> None:
    planned = square_up_sowing(trial, SHORT.name, left=LEFT)
    assert planned.bays_from == "plots as planned"
    [mix_up] = planned.found.mix_ups
    assert (mix_up.used_too_much, mix_up.used_too_little) == ("PW-0555", "TC-0771")
    assert mix_up.where == ("1-02", "2-01")
    sown = square_up_sowing(trial, SHORT.name, left=LEFT, as_sown=True)
    assert sown.found.is_square


def test_two_days_of_sowing_can_be_one_and_a_lot_without_a_weight_is_not_enough(
    trial: Book,
) -> None:
    bare = SeedLot("GP-2240", "Gatepost", (LotPart("perennial ryegrass", 1.0),))
    trial.store.save_lot(bare)
    write(trial, Sow("GP-2240", 35.0, 100.0, 3600), When.on(date(2011, 9, 2)), zone="Main court")
    both = square_up_sowing(trial, sown="1 September 2011", left=LEFT, days=1)
    assert both.last == date(2011, 9, 2)
    [weighed] = both.found.bays
    assert weighed.is_within
    with pytest.raises(NotEnoughDataError, match="the weight bought"):
        square_up_sowing(trial, left=("GP-2240=100",))
