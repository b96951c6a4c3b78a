"""The letter: two sides at most whatever the ground, money to the penny, the diary's notes out."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import numpy as np
import pypdf
import pytest
from PIL import Image

from swardbook.book.diary import write
from swardbook.book.letter import (
    LEAVE_OUT,
    Letter,
    LetterAsked,
    letter_paper,
    letter_pictures,
    planned_answer,
    planned_costs,
    write_letter,
)
from swardbook.book.opening import Book
from swardbook.book.worked_out import keep_answer
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.ground import HonestSquare, Peg
from swardbook.husbandry.happenings import Count, Cut, Feed, Note, Tine
from tests.support.books import MAIN, TODAY, small_book
from tests.support.counted import around, points
from tests.support.pdf_ua import faults_of

PRIVATE = "The treasurer grumbled."


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = small_book(tmp_path)
    for day, what, money in (
        ("2011-04-02", Cut(8.0, True), None),
        ("2011-04-09", Cut(8.0, True), None),
        ("2011-05-07", Feed("12-0-9"), "0.10"),
        ("2011-06-04", Tine(), "395.20"),
        ("2011-07-02", Note(PRIVATE), None),
    ):
        write(made, what, When.on(date.fromisoformat(day)), zone="Main court", who="Bram Oaks",
              hours=2.0, money=Decimal(money) if money else None, note=PRIVATE)  # fmt: skip
    return made


def written(book: Book, *leave_out: str, **more: object) -> Letter:
    return write_letter(book, LetterAsked(leave_out, **more))  # type: ignore[arg-type]


def text_of(letter: Letter) -> str:
    pages = pypdf.PdfReader(io.BytesIO(letter_paper(letter))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def crowded(book: Book) -> Book:
    """Fill the ground with fourteen zones of long names, counted twice, with honest squares."""
    store = book.store
    for n in range(14):
        zone = replace(MAIN, name=f"The long walk by the old garden wall, part {n + 1}")
        store.save_zone(zone)
        for i in range(1, 13):
            store.save_peg(Peg(f"{n}P{i:02d}", zone.name))
            store.save_square(HonestSquare(f"{n}H{i:02d}", zone.name))
        for day, mean in (("2010-10-09", 20.0 + n), ("2011-10-01", 12.0 + n)):
            places = (
                *points(around(mean, 12, 5, n % 5), letter=f"{n}P", looked=100),
                *points(around(mean + 20, 12, 5, n % 5), letter=f"{n}H", looked=100),
            )
            write(book, Count(places), When.on(date.fromisoformat(day)), zone=zone.name)
        write(book, Cut(8.0), When.on(TODAY - timedelta(days=9)), zone=zone.name)
    return book


def test_a_small_book_has_a_letter_with_every_section(book: Book) -> None:
    letter = written(book)
    assert [each.head for each in letter.sheet.sections] == [
        "In short", "What was found", "What was done", "What it cost", "What comes next",
        "What we do not know",
    ]  # fmt: skip
    text = text_of(letter)
    assert "Main court was tined once, cut twice and fed once." in text
    assert "10 hours" in text
    assert "Nothing in this letter is a promise." in text
    assert "October 2011: " in text


def test_what_is_spent_is_told_to_the_penny_and_what_is_not_planned_is_said(book: Book) -> None:
    text = text_of(written(book))
    assert "We spent £395.30." in text
    assert "What was planned is not written down." in text


def test_planned_costs_stand_beside_them_as_typed_or_kept(book: Book) -> None:
    typed = {"Tining": "790", "Feed": "0,25"}
    letter = written(book, planned=typed)
    assert letter.costs is not None
    assert letter.costs.planned == Decimal("790.25")
    assert "We planned £790.25. We spent £395.30." in text_of(letter)
    keep_answer(book, planned_answer(planned_costs(book, typed)))
    assert planned_costs(book) == {"Tining": Decimal(790), "Feed": Decimal("0.25")}
    assert written(book).sheet == letter.sheet, "kept and typed give one letter"
    with pytest.raises(BadInputError, match="seed=524"):
        written(book, planned={"Seed": ""})


def test_without_money_it_says_so(tmp_path: Path) -> None:
    assert "No costs are written down." in text_of(written(small_book(tmp_path / "bare")))


def test_notes_and_full_names_are_never_in_it(book: Book) -> None:
    for leave_out in ((), tuple(LEAVE_OUT)):
        text = text_of(written(book, *leave_out))
        assert PRIVATE not in text
        assert "grumbled" not in text
        assert "Oaks" not in text
        assert "Bram" not in text
    assert "B. O." in text_of(written(book))


def test_what_is_left_out_is_out(book: Book) -> None:
    whole, less = text_of(written(book)), text_of(written(book, "names, address", "costs,hours"))
    for word in ("Fennowick", "B. O.", "£", "hours"):
        assert word in whole
        assert word not in less
    assert "Letter about the ground" in less
    assert written(book, "costs").costs is None
    with pytest.raises(UnknownNameError, match="names"):
        written(book, "nams")


def test_it_begins_where_it_is_told_to(book: Book) -> None:
    letter = written(book, since="1 June 2011")
    assert letter.first == date(2011, 6, 1)
    assert "Main court was tined once." in text_of(letter)
    with pytest.raises(BadInputError, match="before today"):
        written(book, since="today")


def test_fourteen_zones_of_long_names_still_fit_two_sides(book: Book) -> None:
    """E12."""
    letter = written(
        crowded(book), planned={f"Line {n} of many": f"{n}.{n:02d}" for n in range(40)}
    )
    pdf = letter_paper(letter)
    assert letter.sides == len(pypdf.PdfReader(io.BytesIO(pdf)).pages)
    assert letter.sides <= 2
    assert faults_of(pdf) == []
    assert "more places" in text_of(letter)
    assert letter.costs is not None
    assert f"£{letter.costs.planned:,.2f}" in text_of(letter)


def test_the_same_letter_gives_the_same_bytes_and_no_colour(book: Book) -> None:
    one, two = written(book), written(book)
    assert letter_paper(one) == letter_paper(two)
    for page in letter_pictures(one, 40):
        pixels = np.asarray(Image.open(io.BytesIO(page)).convert("RGB"), dtype=np.int64)
        assert int(np.ptp(pixels, axis=2).max()) == 0
