"""One row of an old record becomes one entry, or says why not."""

from datetime import date
from typing import Any

import pytest

from swardbook.book.history_rows import RowRead, read_old_row
from swardbook.feeds.history_sheet import OldRow
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    Brush,
    Cut,
    Dress,
    Feed,
    Happening,
    Note,
    Pull,
    Roll,
    Scarify,
    Sow,
    Tine,
    Verticut,
    Water,
)
from tests.support.books import LOT, MAIN, SHORT, SITE, TODAY

GROUND = Ground(SITE, (MAIN, SHORT), lots=(LOT,))


def read(**said: str) -> RowRead:
    told = {"date": "2010-09-04", "zone": "Main court", **said}
    return read_old_row(OldRow(7, "as it came", told), "old.csv", GROUND, TODAY)


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ({"job": "sown", "seed": "Bobbin", "amount": "30 g/m2"}, Sow("BB-0417", 30.0)),
        ({"job": "sown", "seed": "bb-0417", "amount": "13,8 kg"}, Sow("BB-0417", used_g=13_800)),
        ({"job": "cut and boxed", "height": "25"}, Cut(25.0, True)),
        ({"job": "mowed", "amount": '1"', "boxed": "clippings left"}, Cut(25.4, False)),
        ({"job": "fed", "product": "spring feed", "rate": "25"}, Feed("spring feed", 25.0)),
        ({"job": "verticut", "depth": "2 mm", "boxed": "yes"}, Verticut(2.0, boxed=True)),
        ({"job": "scarified", "amount": "3 mm"}, Scarify(3.0)),
        ({"job": "spiked", "depth": "4 in"}, Tine(depth_mm=101.6)),
        ({"job": "topdressed", "product": "sand", "rate": "2 kg/m2"}, Dress("sand", 2000.0)),
        ({"job": "watered", "amount": "4 mm"}, Water(depth_mm=4.0)),
        ({"job": "watered", "amount": "100 litres"}, Water(litres=100.0)),
        ({"job": "watered", "amount": "20 min"}, Water(minutes=20.0)),
        ({"job": "weeded", "plants": "220"}, Pull(plants=220)),
        ({"job": "brushed"}, Brush()),
        ({"job": "rolled"}, Roll()),
        ({"note": "tea"}, Note("tea")),
        ({"height": "25 mm"}, Cut(25.0)),
        ({"seed": "Bobbin"}, Sow("BB-0417")),
    ],
)
def test_a_row_is_read_by_its_job_and_its_units(said: dict[str, str], what: Happening) -> None:
    found = read(**said)
    assert found.slip is None
    assert found.what == what


@pytest.mark.parametrize(
    ("said", "column", "words"),
    [
        ({"date": ""}, "date", "a day, such as"),
        ({"date": "2012-01-01"}, "date", "a day up to today"),
        ({"job": "cut", "height": "tall"}, "height", "a number"),
        ({"job": "cut", "height": "-25"}, "height", "0 to"),
        ({"job": "cut", "height": "25 g"}, "height", "mm, cm"),
        ({"job": "cut", "boxed": "perhaps"}, "boxed", "yes or no"),
        ({"job": "pull", "plants": "2.5"}, "plants", "a whole number"),
        ({"job": "cut", "hours": "20000"}, "hours", "from 0 to 10000"),
        ({"job": "count", "found bare": "3"}, "place", "the peg"),
        ({"job": "count", "found bare": "3", "place": "P1", "points": "many"}, "points", "whole"),
        ({"job": "count", "place": "P1"}, "count", "at least one kind"),
        ({}, "job", "what was done"),
        ({"zone": "Mian court"}, "zone", "Main court"),
        ({"job": "polished"}, "job", "sow, cut, count"),
    ],
)
def test_a_row_that_cannot_be_read_is_parked_with_what_would_do(
    said: dict[str, str], column: str, words: str
) -> None:
    found = read(**said)
    assert found.what is None
    assert found.slip is not None
    assert (found.slip.column, found.slip.line, found.slip.source) == (column, 7, "old.csv")
    assert words in f"{found.slip.allowed} {found.slip.likely}"
    assert found.slip.about["as_it_came"] == "as it came"


def test_what_a_job_has_no_field_for_goes_into_the_note() -> None:
    found = read(job="rolled", seed="Bobbin", note="damp")
    assert found.note == "damp; seed: Bobbin"


def test_seed_that_is_no_lot_is_kept_in_the_note_and_told() -> None:
    found: Any = read(job="sown", seed="Thimble", rate="30 g/m2")
    assert (found.what.lot, found.note) == ("", "seed: Thimble")
    assert any("Thimble: no lot in the book" in guess for guess in found.guessed)


def test_a_rate_that_only_makes_sense_in_grams_is_asked_about() -> None:
    assert "Did you mean 35 g/m²?" in read(job="sown", rate="35 oz/yd2").asked[0].text


def test_words_for_the_whole_site_name_no_zone() -> None:
    found = read_old_row(
        OldRow(1, "", {"date": "2010-09-04", "zone": "all lawns", "job": "cut"}), "old.csv",
        GROUND, date(2011, 1, 1), "Short court",
    )  # fmt: skip
    assert (found.zone, found.what) == ("", Cut())
