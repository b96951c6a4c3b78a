"""Seed over all lawns: added up once, planned until sown, and a lot traced to every lawn."""

import csv
from collections.abc import Iterator
from dataclasses import replace
from io import StringIO
from pathlib import Path
from uuid import UUID

import pytest

from swardbook.book.firm_seed import Shed, firm_stock
from swardbook.book.firm_seed_words import age_of_lot, doubts_of_lot, plan_of_lot, shed_notes
from swardbook.book.lot_trace import trace_lot
from swardbook.book.lot_trace_out import save_notes, trace_table
from swardbook.book.lots import lot_card
from swardbook.book.opening import Book
from swardbook.book.squaring import BAGS
from swardbook.book.worked_out import Answer, keep_answer
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import GerminationTest, Note, Sow
from tests.support.firms import PLACELESS, TODAY, YARD, at, firm_book

CODE = "BB-0100"
FIRST = "1-plover-row"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    opened = firm_book(tmp_path / "home")
    yield opened
    opened.store.close()


def lot_in(shed: Shed, code: str = CODE):  # type: ignore[no-untyped-def]
    return next(each for each in shed.lots if each.lot.code == code)


def questions(book: Book, code: str = "") -> int:
    from django.db import connections
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connections[book.store._rows.alias]) as caught:
        trace_lot(book, code) if code else firm_stock(book)
    return len(caught)


def entry(number: int, what, zone: str, **more) -> DiaryEntry:  # type: ignore[no-untyped-def]
    return DiaryEntry(UUID(int=number), When.on(TODAY), what, zone=zone, **more)


def test_what_went_out_is_the_sum_of_what_each_lawns_card_says(book: Book) -> None:
    found = lot_in(firm_stock(book))
    cards = [lot_card(at(book, slug).ground(), CODE, book) for slug in found.lawns]
    assert found.used_g == pytest.approx(sum(each.used_g or 0.0 for each in cards))
    assert found.bought_g == sum(each.lot.bought_g or 0.0 for each in cards)
    assert found.left_g == pytest.approx(sum(each.left_g or 0.0 for each in cards))


def test_a_label_at_the_yard_counts_once(book: Book) -> None:
    before = lot_in(firm_stock(book))
    at(book, YARD).store.save_lot(replace(before.lot, bought_g=100_000.0))
    found = lot_in(firm_stock(book))
    assert (found.at_yard, found.bought_g, found.used_g) == (True, 100_000.0, before.used_g)
    assert any("yard" in each for each in doubts_of_lot(found))


def test_one_bag_or_several_is_asked_as_long_as_it_cannot_be_told(book: Book) -> None:
    unused = lot_in(firm_stock(book), "BB-0200")
    assert unused.is_one_bag is None
    assert "If it is one bag" in " ".join(doubts_of_lot(unused))
    assert lot_in(firm_stock(book)).is_one_bag is False


def test_what_is_planned_counts_until_it_is_sown_and_shows_what_is_short(book: Book) -> None:
    lawn = at(book, FIRST)
    zone = lawn.ground().zones[0].name
    bags = {"bay 1 bag_g": 90_000.0, "spare_g": 9_000.0, "rate_g_m2": 30.0}
    keep_answer(lawn, Answer(BAGS, "99 kg in 1 bays", {}, bags, {"lot": CODE}), zone=zone)
    found = lot_in(firm_stock(book))
    assert [each.grams for each in found.planned] == [99_000.0]
    assert found.short_g == pytest.approx(99_000.0 - (found.left_g or 0.0))
    assert "short" in plan_of_lot(found)
    assert firm_stock(book).lots[0] == found
    lawn.store.add([entry(1, Sow(CODE.lower(), used_g=88_000.0), zone)])
    assert lot_in(firm_stock(book)).planned == ()


def test_a_germination_test_of_any_lawn_dates_the_lot(book: Book) -> None:
    assert "not dated" in age_of_lot(lot_in(firm_stock(book)))
    at(book, PLACELESS).store.add([entry(1, GerminationTest(CODE, 100, 61), "")])
    found = lot_in(firm_stock(book))
    assert found.test_age_days == 0
    assert "61 % germinated 0 days ago" in age_of_lot(found)


def test_seed_without_a_label_is_named(book: Book) -> None:
    at(book, PLACELESS).store.add([entry(1, Sow("XX-1", 30.0), "Green")])
    assert firm_stock(book).without_label == ("XX-1",)
    assert any("XX-1" in each for each in shed_notes(firm_stock(book)))


def test_the_questions_are_as_many_for_one_lawn_as_for_all(book: Book) -> None:
    among = frozenset({FIRST})
    firm_stock(book, among)
    assert questions(book) <= 6
    assert questions(book, CODE) <= 8
    at(book, YARD).store.save_lot(lot_in(firm_stock(book)).lot)
    assert questions(book) <= 6


def test_a_lot_is_traced_to_every_sowing_with_what_was_seen_since(book: Book) -> None:
    found = trace_lot(book, f" {CODE.lower()} ")
    told = {(each.slug, each.entry) for each in found.sown}
    there = {
        (name.slug, each.id) for name in book.store.grounds()
        for each in at(book, name.slug).ground().diary
        if getattr(each.what, "lot", "") == CODE and each.what.kind in {"sow", "refill"}
    }  # fmt: skip
    assert told == there
    sowing = next(each for each in found.sown if each.kind == "sow")
    ground = at(book, sowing.slug).ground()
    assert sowing.area_m2 == ground.zone(sowing.zone).area_m2
    assert all(each.day >= sowing.day for each in sowing.seen)
    assert sowing.seen
    assert found.grams == pytest.approx(lot_in(firm_stock(book)).used_g)


def test_a_corrected_sowing_is_traced_as_it_stands(book: Book) -> None:
    before = trace_lot(book, CODE)
    one = before.sown[0]
    lawn = at(book, one.slug)
    lawn.store.add([entry(1, Sow("BB-0200", used_g=1.0), one.zone, corrects=one.entry)])
    assert one.entry not in {each.entry for each in trace_lot(book, CODE).sown}
    assert UUID(int=1) in {each.entry for each in trace_lot(book, "BB-0200").sown}
    two = trace_lot(book, CODE).sown[0]
    at(book, two.slug).store.add([entry(2, Note("not sown"), two.zone, corrects=two.entry)])
    assert two.entry not in {each.entry for each in trace_lot(book, CODE).sown}


def test_plots_with_its_mixture_are_named_and_no_area_is_made_up(book: Book) -> None:
    lawn = at(book, FIRST)
    zone = lawn.ground().zones[0].name
    for name, mixture in (("1-01", "Bobbin"), ("1-02", "Gatepost")):
        lawn.store.save_plot(Plot(name, zone, 1, 1, mixture))
    sown = [each for each in trace_lot(book, CODE).sown
            if (each.slug, each.zone, each.kind) == (FIRST, zone, "sow")]  # fmt: skip
    assert [each.plots for each in sown] == [("1-01",)]
    assert [each.area_m2 for each in sown] == [None]


def test_a_note_tells_an_owner_of_their_own_lawn_alone_and_promises_nothing(book: Book) -> None:
    found = trace_lot(book, CODE, because="half of it came up")
    names = [name for _, name, _ in found.notes]
    assert len(names) == found.lawns
    for _, name, note in found.notes:
        assert name in note
        assert not any(other in note for other in names if other != name)
        assert "half of it came up" in note
        assert "not known yet" in note


def test_what_needs_a_look_and_private_notes_are_in_no_note(book: Book) -> None:
    one = trace_lot(book, CODE).sown[0]
    sent = entry(1, GerminationTest(CODE, 100, 40), "", note="owner is cross", needs_a_look="Look.")
    at(book, one.slug).store.add([sent])
    notes = "".join(note for _, _, note in trace_lot(book, CODE).notes)
    assert "40 of 100 seeds germinated" in notes
    assert "cross" not in notes
    assert "Look." not in notes


def test_only_lawns_that_somebody_may_see_are_traced(book: Book) -> None:
    found = trace_lot(book, CODE, among=frozenset({FIRST}))
    assert {each.slug for each in found.sown} == {FIRST}
    with pytest.raises(UnknownNameError) as refused:
        trace_lot(book, "BB-0999", among=frozenset({YARD}))
    assert CODE not in str(refused.value)


@pytest.mark.parametrize("code", ["", "BB-01", "ZZ", '"', "%"])
def test_a_number_that_no_lawn_has_is_refused(book: Book, code: str) -> None:
    with pytest.raises(UnknownNameError):
        trace_lot(book, code)


def test_notes_and_an_open_table_are_written_and_nothing_is_written_over(
    book: Book, tmp_path: Path
) -> None:
    found = trace_lot(book, CODE)
    paths = save_notes(tmp_path / "notes", found)
    assert len(paths) == found.lawns + 1
    rows = list(csv.reader(StringIO(trace_table(found), newline="")))
    assert len(rows) == len(found.sown) + 1
    with pytest.raises(BadInputError):
        save_notes(tmp_path / "notes", found)
