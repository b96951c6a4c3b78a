"""Counts as people type them."""

from pathlib import Path

import pytest

from swardbook.book.count_sheet import Frame, choose_frame, read_kind, read_sheet, typed_place
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.observations.counts import Method

POINTS = Frame(Method.POINTS, 25.0)
EYE = Frame(Method.BY_EYE, 100.0)


def sheet(folder: Path, text: str) -> Path:
    path = folder / "counts.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_27_in_a_25_point_frame_is_asked_about() -> None:
    """F11."""
    typed = typed_place("A01", POINTS, ["annual meadow-grass=27"], "")
    assert typed.place is None
    assert typed.slip is not None
    assert "you have 27. Recount, or drop to 25" in typed.slip.words
    assert typed.slip.cells["annual meadow-grass"] == "27"


def test_layers_by_eye_may_add_up_to_115() -> None:
    """F12."""
    typed = typed_place("A01", EYE, ["poa annua=40", "sown=50", "bare=25"], "")
    assert typed.place is not None
    assert sum(typed.place.found.values()) == 115


def test_the_eye_is_kept_to_the_nearest_five() -> None:
    """F13."""
    typed = typed_place("A01", EYE, ["annual meadow-grass=17.43"], "")
    assert typed.words == ("annual meadow-grass: by eye, to the nearest 5: 15 %",)


def test_blank_is_not_counted_and_0_is_looked_and_none(tmp_path: Path) -> None:
    """F14 and F41."""
    rows = read_sheet(
        sheet(tmp_path, "place,Poa annua,bare\nA01,5,n/a\nA02,<1,\nA03,tr,0\nA04,,\n"),
        POINTS,
        "Ines",
    )
    found = [dict(each.place.found) if each.place else None for each in rows]
    assert found == [
        {"annual meadow-grass": 5},
        {"annual meadow-grass": 0.5},
        {"annual meadow-grass": 0.5, "bare": 0},
        None,
    ]
    assert rows[1].words == (
        "annual meadow-grass: below 1, neither 0 nor 1",
        "bare: blank, kept as not counted",
    )
    assert rows[2].words[1] == "bare: 0, looked and none"


def test_a_sheet_can_carry_counter_frame_and_placement(tmp_path: Path) -> None:
    rows = read_sheet(
        sheet(tmp_path, "place;counter;placement;area_m2;bare\nH1;Odalys;2;0.25;3\n"),
        Frame(Method.PLANTS, 1.0), "Ines",
    )  # fmt: skip
    place = rows[0].place
    assert place is not None
    assert (place.counter, place.placement, place.looked) == ("Odalys", 2, 0.25)


def test_a_cell_that_is_no_number_is_parked_with_its_line_and_the_good_rows_are_taken(
    tmp_path: Path,
) -> None:
    rows = read_sheet(sheet(tmp_path, "place,bare\nA01,3\nA02,1O\nA03,\n"), POINTS, "Ines")
    assert [each.place.found if each.place else None for each in rows] == [{"bare": 3}, None, None]
    slip = rows[1].slip
    assert slip is not None
    assert (slip.line, slip.column, slip.read, slip.likely) == (3, "bare", "1O", "10?")
    assert slip.about == {"method": "points", "looked": "25", "counter": "Ines"}
    assert rows[0].slip is rows[2].slip is None


@pytest.mark.parametrize(
    ("row", "column", "words"),
    [
        (",3,1,", "place", "Which place"),
        ("A01,3,1,,9", "cell 5", "Decimal commas"),
        ("A01,3,0,", "placement", "whole number from 1"),
        ("A01,-3,1,", "bare", "0 or more"),
        ("A01,3,1,25", "area_m2", "0.25 m2, or is that its crossings"),
        ("A01,3,1,0", "the frame", "more than 0"),
    ],
)
def test_a_row_that_makes_no_sense_is_parked_whole(
    tmp_path: Path, row: str, column: str, words: str
) -> None:
    text = f"place,bare,placement,area_m2\n{row}\n"
    [read] = read_sheet(sheet(tmp_path, text), Frame(Method.PLANTS, 1.0), "")
    assert read.place is None
    assert read.slip is not None
    assert (read.slip.column, read.slip.line) == (column, 2)
    assert words in read.slip.words
    assert [cell for cell in read.slip.cells.values() if cell] == [
        cell for cell in row.split(",") if cell
    ]


def test_a_sheet_without_a_place_column_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="a column called place"):
        read_sheet(sheet(tmp_path, "peg,bare\nA01,3\n"), POINTS, "")
    with pytest.raises(BadInputError):
        read_sheet(tmp_path / "none.csv", POINTS, "")


def test_an_unknown_weed_offers_the_nearest_names() -> None:
    with pytest.raises(UnknownNameError, match="Annual meadow-grass"):
        read_kind("anual meadow gras")
    assert read_kind("Bare") == "bare"
    assert read_kind("Holcus lanatus") == "yorkshire fog"


def test_the_way_of_counting_follows_from_the_frame() -> None:
    assert choose_frame("", None, None) == POINTS
    assert choose_frame("", None, 0.25) == Frame(Method.PLANTS, 0.25)
    assert choose_frame("by-eye", None, None) == EYE
    with pytest.raises(BadInputError, match="area"):
        choose_frame("plants", None, None)
    with pytest.raises(BadInputError, match="points, plants"):
        choose_frame("guess", None, None)


def test_half_a_crossing_is_parked_with_the_likely_slip() -> None:
    for text, words in (("2.5", "by-eye"), ("-2", "0 or more"), ("two", "a number")):
        slip = typed_place("A01", POINTS, [f"bare={text}"], "").slip
        assert slip is not None
        assert words in slip.words
        assert slip.read == text
    too_much = typed_place("A01", EYE, ["bare=170"], "").slip
    assert too_much is not None
    assert too_much.likely == "17 %?"
    with pytest.raises(BadInputError, match="kind=number"):
        typed_place("A01", POINTS, ["bare"], "")
