from datetime import date
from decimal import Decimal
from pathlib import Path
from uuid import UUID

import pytest

from swardbook.book.diary import (
    find,
    fixes,
    put_right,
    read_alike,
    read_past,
    show,
    withdraw,
    write,
)
from swardbook.book.fields import (
    quantity,
    rate_and_doubt,
    read_kind,
    read_money,
    read_pairs,
    refills_looked_at,
    species_key,
    with_fields,
)
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.husbandry.happenings import (
    Closure,
    Cut,
    Dress,
    Feed,
    Happening,
    Note,
    Pull,
    Reading,
    Scarify,
    Sow,
    TugTest,
    Water,
)
from tests.support.books import MAIN, TODAY, small_book

NOW = When.on(TODAY)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return small_book(tmp_path)


def test_an_entry_is_kept_with_the_names_of_the_book(book: Book) -> None:
    kept = write(book, Sow("bb-0417", 30), NOW, zone="MAIN court", who="Ines")
    assert (kept.zone, kept.what, kept.written_on) == (MAIN.name, Sow("BB-0417", 30), TODAY)
    assert book.ground().diary == (kept,)


@pytest.mark.parametrize(
    ("what", "zone", "near"),
    [(Cut(8.0), "Main cort", "Main court"), (Sow("BB-0471"), "", "BB-0417"),
     (Pull("yorksire fog"), "", "fog")],
)  # fmt: skip
def test_a_name_that_is_not_there_offers_the_nearest(
    book: Book, what: Happening, zone: str, near: str
) -> None:
    with pytest.raises(UnknownNameError, match=near):
        write(book, what, NOW, zone=zone)
    assert book.store.whole_diary() == ()


def test_f05_the_name_of_a_mixture_is_not_taken_for_a_lot(book: Book) -> None:
    with pytest.raises(BadInputError, match="That is the name"):
        write(book, Sow("Bobbin"), NOW)


def test_a_save_that_looks_odd_is_kept_and_its_fix_is_a_ready_command(book: Book) -> None:
    kept = write(book, Sow("BB-0417", 20, 8192), NOW, zone=MAIN.name)
    assert "ten times" in kept.needs_a_look
    ready = fixes(book, kept)
    short = str(kept.id)[:8]
    assert ready[0] == f"swardbook put-right {short} --set area_m2=819.2 --reason 'typed wrong'"
    fresh = put_right(book, short, {"area_m2": "819.2"}, "typed wrong")
    assert fresh.what == Sow("BB-0417", 20, 819.2)
    assert fresh.needs_a_look == ""
    assert fixes(book, fresh) == ()


def test_a_look_can_find_that_it_is_right_as_it_stands(book: Book) -> None:
    write(book, Cut(8.0), NOW, zone=MAIN.name, who="Bram")
    second = write(book, Cut(8.0), NOW, zone=MAIN.name, who="Ines")
    assert second.needs_a_look
    assert [each.entry for each in show(book, only_to_look_at=True)] == [second]
    put_right(book, second.id, {}, "two cuts, crossing")
    assert show(book, only_to_look_at=True) == ()
    assert len(book.ground().diary) == 2


def test_n29_a_correction_keeps_old_value_who_when_and_why(book: Book) -> None:
    old = write(book, Cut(52.0), NOW, zone=MAIN.name, who="Bram", note="wet")
    fresh = put_right(
        book, old.id, {"height_of_cut_mm": "1 in", "when": "7 Oct", "zone": "short court",
                       "hours": "90 min", "money": "£1,200.50", "number": "2"}, "wrong mark",
    )  # fmt: skip
    assert fresh.what == Cut(25.4)
    assert (fresh.day, fresh.zone, fresh.hours) == (date(2011, 10, 7), "Short court", 1.5)
    assert (fresh.money, fresh.number, fresh.who) == (Decimal("1200.50"), 2, "Bram")
    assert fresh.note == "wet Put right: wrong mark"
    both = show(book, with_corrected=True)
    assert [(each.entry, each.corrected_by) for each in both] == [(fresh, None), (old, fresh.id)]
    assert [each.entry for each in show(book)] == [fresh]


def test_a_second_correction_by_the_old_id_keeps_the_first(book: Book) -> None:
    old = write(book, Cut(12.0), NOW, zone=MAIN.name)
    put_right(book, old.id, {"height_of_cut_mm": "8"}, "misread")
    fresh = put_right(book, old.id, {"boxed": "yes"}, "Bram says so")
    assert fresh.what == Cut(8.0, True)
    assert fresh.needs_a_look == ""
    assert book.ground().diary == (fresh,)


def test_an_entry_that_never_happened_leaves_every_answer_but_not_the_diary(book: Book) -> None:
    old = write(book, Cut(8.0), NOW, zone=MAIN.name)
    gone = withdraw(book, old.id, "it rained")
    assert book.ground().entries(MAIN.name, "cut") == ()
    assert gone.what == Note("Withdrawn: cut of Sat 8 October 2011. it rained")
    assert len(book.store.whole_diary()) == 2


@pytest.mark.parametrize("reason", ["", "  "])
def test_a_correction_needs_a_reason(book: Book, reason: str) -> None:
    old = write(book, Cut(8.0), NOW)
    with pytest.raises(BadInputError, match="--reason"):
        put_right(book, old.id, {"note": "x"}, reason)
    with pytest.raises(BadInputError, match="--reason"):
        withdraw(book, old.id, reason)


def test_an_unknown_field_or_entry_offers_the_nearest(book: Book) -> None:
    old = write(book, Cut(8.0), NOW)
    with pytest.raises(UnknownNameError, match="height_of_cut_mm"):
        put_right(book, old.id, {"height_of_cut": "8"}, "why")
    with pytest.raises(UnknownNameError, match=str(old.id)[:8]):
        find(book, "no such")
    with pytest.raises(UnknownNameError):
        find(book, "")


def test_the_beginning_of_an_id_that_two_share_is_not_enough(book: Book) -> None:
    for n in (1, 2):
        write(book, Cut(8.0 + n), NOW, id=UUID(int=n))
    with pytest.raises(BadInputError, match="more letters"):
        find(book, "0000")


def test_hours_below_nothing_are_refused(book: Book) -> None:
    with pytest.raises(OutOfRangeError):
        write(book, Cut(8.0), NOW, hours=-1)


def test_f07_a_date_in_the_future_offers_the_year_before() -> None:
    with pytest.raises(BadInputError, match="Use Wed 14 March 2012"):
        read_past("14 March 2013", date(2012, 5, 1))
    with pytest.raises(BadInputError, match="Is the year right"):
        read_past("14 March 2029", date(2012, 5, 1))


def test_f08_a_date_with_strokes_is_day_first_and_said_with_the_month_as_a_word() -> None:
    assert read_past("03/04/2011", TODAY) == When.on(date(2011, 4, 3))


@pytest.mark.parametrize(
    ("words", "number", "rest"),
    [("about five in mid-July", 5, "mid-July"), ("5 times in July", 5, "July"),
     ("three in early June", 3, "early June"), ("mid-July", 1, "mid-July"),
     ("in June", 1, "in June"), ("5 days ago", 1, "5 days ago"), ("3 May", 1, "3 May"),
     ("some in June", 1, "some in June")],
)  # fmt: skip
def test_e27_about_five_in_mid_july_is_five_undated(words: str, number: int, rest: str) -> None:
    assert read_alike(words) == (number, rest)


@pytest.mark.parametrize(
    ("what", "typed", "expected"),
    [
        (Cut(), {"height_of_cut_mm": "5/16 in", "boxed": "no"}, Cut(7.9375, False)),
        (Cut(8.0, True), {"boxed": "unknown", "height_of_cut_mm": ""}, Cut()),
        (Feed(), {"rate_g_m2": "250 kg/ha", "nitrogen_percent": "12"}, Feed("", 25.0, 12.0)),
        (Closure(), {"until": "14 July 2011", "what": "hose"}, Closure(date(2011, 7, 14), "hose")),
        (Scarify(), {"spoil_m3": "3.8 m3", "passes": "2"}, Scarify(passes=2, spoil_m3=3.8)),
        (Scarify(), {"spoil_m3": "5.5"}, Scarify(spoil_m3=5.5)),
        (Water(), {"litres": "10", "minutes": "2 h"}, Water(litres=10.0, minutes=120.0)),
        (Dress(), {"material": "sand, dry", "depth_mm": "1 cm"}, Dress("sand, dry", None, 10.0)),
        (Pull(), {"species": "Yorkshire fog"}, Pull("yorkshire fog")),
        (TugTest(), {"passed": "yes", "species": "browntop"}, TugTest(True, "browntop bent")),
    ],
)  # fmt: skip
def test_fields_are_read_by_their_type_and_unit(
    what: Happening, typed: dict[str, str], expected: Happening
) -> None:
    assert with_fields(what, typed, TODAY) == expected


@pytest.mark.parametrize(
    ("what", "typed", "refusal"),
    [(Cut(), {"boxed": "maybe"}, "yes or no"), (Cut(), {"height_of_cut_mm": "8 g"}, "g is no mm"),
     (Scarify(), {"passes": "1.5"}, "whole number"), (Cut(), {"colour": "green"}, "No field")],
)  # fmt: skip
def test_a_value_that_cannot_be_read_names_its_field(
    what: Happening, typed: dict[str, str], refusal: str
) -> None:
    with pytest.raises((BadInputError, UnknownNameError), match=refusal):
        with_fields(what, typed, TODAY)


@pytest.mark.parametrize(
    ("text", "amount"),
    [("", None), ("12.50", "12.50"), ("£ 12", "12"), ("12,50", "12.50"), ("1,200 GBP", "1200")],
)
def test_money_is_read_as_it_is_typed(text: str, amount: str | None) -> None:
    assert read_money(text) == (None if amount is None else Decimal(amount))


@pytest.mark.parametrize("text", ["5 kg", "20l", "3.5 hours", "£5/kg", "12 per m", "7 KG."])
def test_a_quantity_is_no_money(text: str) -> None:
    with pytest.raises(BadInputError, match="is it what was used, not what it cost"):
        read_money(text)


@pytest.mark.parametrize("text", ["5 pounds", "5 EUR", "5 €", "$5", "5 kr."])
def test_money_keeps_its_own_words(text: str) -> None:
    assert read_money(text) == 5


def test_f39_a_decimal_comma_is_understood() -> None:
    assert quantity("3,5", "mm", "height") == 3.5


@pytest.mark.parametrize(
    ("typed", "kept", "note"),
    [
        (Reading("soil temperature", 50, "°F"), Reading("soil temperature", 10, "°C"), "50 °F"),
        (Reading("thatch", 0.5, "in"), Reading("thatch", 12.7, "mm"), "0.5 in"),
        (Reading("thatch", 18, "mm"), Reading("thatch", 18, "mm"), ""),
        (Reading("infiltration", 20, "mm/h"), Reading("infiltration", 20, "mm/h"), ""),
        (Reading("pH", 6.4), Reading("pH", 6.4), ""),
    ],
)
def test_a_reading_is_kept_in_one_unit_with_what_was_typed(
    book: Book, typed: Reading, kept: Reading, note: str
) -> None:
    entry = write(book, typed, NOW)
    assert isinstance(entry.what, Reading)
    assert entry.what.value == pytest.approx(kept.value)
    assert entry.what.unit == kept.unit
    assert entry.note == (f"Typed {note}." if note else "")


def test_a_rate_in_ounces_is_read_and_asked_about() -> None:
    rate, asked = rate_and_doubt("35 oz/yd2")
    assert rate == pytest.approx(1186.7, abs=0.1)
    assert len(asked) == 1
    assert rate_and_doubt("") == (None, [])


def test_small_readers_refuse_what_they_cannot_read() -> None:
    assert read_kind("tug-test") is TugTest
    assert read_pairs(["a-b = c=d"]) == {"a_b": "c=d"}
    assert species_key("AMG") == "annual meadow-grass"
    for wrong in (lambda: read_pairs(["x"]), lambda: read_money("dear"),
                  lambda: refills_looked_at(3, 4, None, "")):  # fmt: skip
        with pytest.raises(BadInputError):
            wrong()
    with pytest.raises(UnknownNameError, match="frost"):
        read_kind("frosty")
