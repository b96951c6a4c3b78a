"""Old spreadsheets and notebooks as people kept them."""

import pytest

from swardbook.book.count_sheet import read_kind
from swardbook.feeds.history_columns import read_headings
from swardbook.feeds.history_dates import settle_dates
from swardbook.feeds.history_notebook import Names, read_notebook
from swardbook.feeds.history_sheet import OldFile, read_old_sheet
from swardbook.feeds.history_words import boxed_of, job_of
from swardbook.foundation.errors import UnknownNameError


def kind_of(name: str) -> str:
    try:
        return read_kind(name)
    except UnknownNameError:
        return ""


NAMES = Names(
    ("Main court", "Short court"), ("BB-0417", "Bobbin"), ("P1", "P2"), kind_of,
    ("annual meadow-grass", "poa annua", "bare"),
)  # fmt: skip


def sheet(text: str) -> OldFile:
    found = read_old_sheet(text, "old.csv", kind_of)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("heading", "meaning", "unit"),
    [
        ("Date", "date", ""), ("LAWN", "zone", ""), ("Rate (oz/yd2)", "rate", "oz/yd2"),
        ("rate lb/1000 sq ft", "rate", "lb/1000ft2"), ("Height of cut, mm", "height", "mm"),
        ("Height (in)", "height", "in"), ("poa annua %", "found annual meadow-grass", "%"),
        ("Bare", "found bare", ""), ("Seed used [kg]", "used", "kg"), ("Gang", "", ""),
        ("Hours", "hours", ""), ("", "", ""),
    ],
)  # fmt: skip
def test_a_heading_is_read_with_its_unit(heading: str, meaning: str, unit: str) -> None:
    [column] = read_headings([heading], kind_of)
    assert (column.meaning, column.unit) == (meaning, unit)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("4/9/10", "2010-09-04"), ("4.9.2010", "2010-09-04"), ("4 Sept 2010", "2010-09-04"),
        ("Sat 4th September 2010", "2010-09-04"), ("4-Sep-10", "2010-09-04"),
        ("2010-09-04", "2010-09-04"), ("Sept 4, 2010", "2010-09-04"), ("4/9/97", "1997-09-04"),
        ("4 Sept '10", "2010-09-04"), ("31 Sept 2010", "31 Sept 2010"), ("soon", "soon"),
    ],
)  # fmt: skip
def test_a_date_is_read_as_people_write_it_or_left_as_it_came(text: str, day: str) -> None:
    [(read, _)], _ = settle_dates([text], "old.csv")
    assert read == day


def test_a_year_of_two_figures_and_one_that_is_missing_are_told_as_guesses() -> None:
    dated, _ = settle_dates(["18/9", "25/9/10", "2 Oct"], "old.csv")
    assert [day for day, _ in dated] == ["2010-09-18", "2010-09-25", "2010-10-02"]
    assert "read as Sat 25 September 2010" in dated[1][1]
    assert "no year, read as 2010" in dated[2][1]


def test_a_file_that_is_month_first_is_read_so_and_told() -> None:
    dated, notes = settle_dates(["9/4/2010", "9/18/2010"], "old.csv")
    assert [day for day, _ in dated] == ["2010-09-04", "2010-09-18"]
    assert "month first" in notes[0]


def test_where_a_file_mixes_orders_the_days_that_could_be_either_are_left_unread() -> None:
    dated, notes = settle_dates(["18/9/2010", "9/25/2010", "3/4/2010", "4 May 2010"], "old.csv")
    assert [day for day, _ in dated] == ["2010-09-18", "2010-09-25", "3/4/2010", "2010-05-04"]
    assert "could be either are parked" in notes[0]


def test_titles_ditto_marks_blanks_and_units_are_understood() -> None:
    text = (
        'The lawn book,,\nDate;Lawn;Job;Rate (oz/yd2);Height (in);Gang\n'
        '4/9/10;Main court;sown;1;;two\n11/9/10;";mowed;;1 1/4;\n;do.;cut;;"1"";"\n'
        ';Short court;cut;;25 mm;\n;;;;;\n'
    )  # fmt: skip
    first, second, *_, last = sheet(text).rows
    assert first.said["rate"] == "1 oz/yd2"
    assert first.left == {"Gang": "two"}
    assert (second.said["zone"], second.said["height"]) == ("Main court", "1 1/4 in")
    assert "as in the row above, Main court" in second.guessed[0]
    assert (last.said["date"], last.said["zone"]) == ("2010-09-11", "Short court")
    assert last.said["height"] == "25 mm"
    assert "blank, read as that of the row above" in last.guessed[0]


def test_a_unit_may_stand_in_a_column_of_its_own() -> None:
    [row] = sheet("date,job,amount,unit\n4/9/2010,sown,35,g/m2\n").rows
    assert row.said["amount"] == "35 g/m2"


def test_a_cell_too_many_is_not_lost() -> None:
    [row] = sheet("date,job,height\n4/9/2010,cut,25,5\n").rows
    assert row.left == {"cell 4": "5"}


def test_a_file_without_a_date_column_is_no_sheet() -> None:
    assert read_old_sheet("lawn,job\nMain court,cut\n", "old.csv", kind_of) is None


def test_a_notebook_is_read_line_by_line() -> None:
    text = (
        'Fennowick 2010\n\n4 Sept  Main court  sown Bobbin 30 g/m2, dry\n11 Sept " cut 35mm boxed\n'
        'Short court mowed 1 1/4", box off\n2 Oct Main court P1 count: 25 points, poa annua 6\n'
        "2011\n3 March Main court fed 25 g/m2\n"
    )
    sown, cut, mowed, count, fed = read_notebook(text, "old.txt", NAMES).rows
    assert {**sown.said, "note": ""} == {
        "date": "2010-09-04", "zone": "Main court", "seed": "Bobbin", "job": "sow",
        "rate": "30 g/m2", "note": "",
    }  # fmt: skip
    assert sown.said["note"] == sown.as_it_came
    assert (cut.said["zone"], cut.said["height"], cut.said["boxed"]) == (
        "Main court", "35 mm", "yes",
    )  # fmt: skip
    assert (mowed.said["date"], mowed.said["height"], mowed.said["boxed"]) == (
        "2010-09-11", "1 1/4 in", "no",
    )  # fmt: skip
    assert (count.said["place"], count.said["points"]) == ("P1", "25")
    assert count.said["found annual meadow-grass"] == "6"
    assert fed.said["date"] == "2011-03-03"


@pytest.mark.parametrize(
    ("words", "job"),
    [("Mowed", "cut"), ("oversown", "sow"), ("hand-weeded", "pull"), ("raked out", "scarify"),
     ("polished", ""), ("", "")],
)  # fmt: skip
def test_a_job_goes_by_many_words(words: str, job: str) -> None:
    assert job_of(words) == job


@pytest.mark.parametrize(
    ("words", "boxed"),
    [("cut and boxed", True), ("box off", False), ("clippings left", False), ("cut", None),
     ("not boxed", False), ("collected", True)],
)  # fmt: skip
def test_whether_clippings_were_boxed_is_read_or_unknown(words: str, boxed: bool | None) -> None:
    assert boxed_of(words) is boxed
