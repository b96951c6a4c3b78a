"""Whatever goes on paper is tagged and titled for those who hear it, and the same twice."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files

import pypdf
import pytest

from swardbook import figures
from swardbook.figures.card_sheet import card_sheet_pdf
from swardbook.figures.letter_sheet import (
    LetterSheet,
    RangeBar,
    RangePicture,
    Section,
    SheetTable,
    letter_pdf,
)
from swardbook.figures.rota_sheet import RotaSheet, StripRow, rota_pdf
from swardbook.figures.trial_sheets import papers_pdf
from swardbook.figures.waterproof_sheet import PlaceRow, PlantSigns, WaterproofSheet, waterproof_pdf
from swardbook.figures.week_sheet import LawnRow, SheetDay, WeekSheet, week_pdf
from tests.support.pdf_ua import alternative_texts, faults_of
from tests.unit.figures.test_trial_sheets import papers

LETTER = LetterSheet(
    "Letter about the ground",
    "8 October 2011.",
    (
        Section(
            "In short",
            ("Text.",),
            ("A point.",),
            SheetTable(("A", "B", "C", "D"), (tuple("abcd"),)),
        ),
        Section("Found", ("Text.",), is_pictured=True),
        Section(
            "Cost", table=SheetTable(("For", "Spent"), (("Seed", "£1.00"),) * 9, "money", True)
        ),
    ),
    (
        RangePicture(
            "Then and now",
            (
                RangeBar("Court", "then", 14, 10, 19, False, "%", "14 (10 to 19)"),
                RangeBar("Court", "now", 0, 0, 4, True, "%", "0 (0 to 4)"),
            ),
        ),
    ),
    "Nothing is promised.",
)
WET = WaterproofSheet(
    "Court",
    "240 m².",
    ("Fact one.",),
    (PlaceRow("P1", "4.2 m from the post", "6 of 25"),),
    "8 Oct 2011",
    ("sown", "bare"),
    (PlantSigns("Couch", "Elymus repens", "weed", (("ears", "long"),)),),
)
ROTA = RotaSheet(
    "Court", "Strips.", (StripRow("strip 1", "60", "2.1", "126", "1 to 2 h"),), ("Mind.",)
)
WEEK = WeekSheet(
    "Ines",
    (SheetDay("Mon 10 October", "2 to 3 h.",
              (LawnRow("Court", "2 km", "Wash.", (("Cut", "1 h"),), "1 to 2 h"),), ("Mind.",)),),
    ("Beside.",),
    ("Note.",),
)  # fmt: skip
PAPERS: dict[str, Callable[[], bytes]] = {
    "trial": lambda: papers_pdf(papers()),
    "cards": card_sheet_pdf,
    "letter": lambda: letter_pdf(LETTER),
    "waterproof": lambda: waterproof_pdf(WET),
    "rota": lambda: rota_pdf(ROTA),
    "week": lambda: week_pdf(WEEK),
}
"""Each sheet of the program, with something on it."""


def test_every_sheet_is_looked_through() -> None:
    there = {each.name.removesuffix(".typ") for each in (files(figures) / "sheets").iterdir()}
    assert there - {"common"} == set(PAPERS)


def test_what_is_drawn_is_told_too() -> None:
    assert alternative_texts(PAPERS["letter"]()) == [
        "Then and now. Court, then: 14 (10 to 19); Court, now: 0 (0 to 4)."
    ]


@pytest.mark.parametrize("name", PAPERS)
def test_it_has_what_pdf_ua_asks(name: str) -> None:
    assert faults_of(PAPERS[name]()) == []


@pytest.mark.parametrize("name", PAPERS)
def test_the_same_facts_give_the_same_bytes(name: str) -> None:
    assert PAPERS[name]() == PAPERS[name]()


def test_the_check_finds_a_pdf_without_tags() -> None:
    import io

    bare = pypdf.PdfWriter()
    bare.add_blank_page(100, 100)
    held = io.BytesIO()
    bare.write(held)
    told = faults_of(held.getvalue())
    assert "7.1: no structure tree" in told
    assert "7.1: not marked as tagged" in told
    assert "7.2: no language" in told
    assert any(each.startswith("5:") for each in told)


@pytest.mark.parametrize(
    ("body", "clause"),
    [("= One\n=== Three", "7.4.2"), ("no heading", "7.4.2"), ("= T\n#table([a], [b])", "7.5"),
     ('= T\n#image(bytes("<svg xmlns=\'http://www.w3.org/2000/svg\' width=\'9\' height=\'9\'>'
      '<rect width=\'5\' height=\'5\'/></svg>"), format: "svg")', "7.3")],
)  # fmt: skip
def test_the_check_finds_what_a_tagged_pdf_may_lack(body: str, clause: str) -> None:
    import typst

    source = f'#set document(title: "T", date: none)\n#set text(lang: "en")\n{body}'
    told = faults_of(typst.compile(source.encode(), format="pdf", timestamp=0))
    assert any(each.startswith(f"{clause}:") for each in told)
    assert any(each.startswith("5:") for each in told)
