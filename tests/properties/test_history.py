"""Whatever an old file holds, every row of it is understood or parked, and nothing breaks."""

from datetime import date

from hypothesis import event, given
from hypothesis import strategies as st

from swardbook.book.count_sheet import OTHER_KINDS, read_kind
from swardbook.book.history_rows import RowRead, read_old_row
from swardbook.feeds.history_notebook import Names, read_notebook
from swardbook.feeds.history_sheet import OldFile, read_old_sheet
from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.quantities import read_quantity
from swardbook.husbandry.codec import plain_happening, read_happening
from swardbook.husbandry.ground import Ground, Peg
from tests.support.books import LOT, MAIN, SHORT, SITE

GROUND = Ground(SITE, (MAIN, SHORT), pegs=(Peg("P1", MAIN.name),), lots=(LOT,))
TODAY = date(2011, 10, 8)
HEADS = [
    "date", "zone", "job", "seed", "rate", "rate (oz/yd2)", "height (in)", "boxed", "hours", "cost",
    "poa annua", "bare %", "peg", "points", "frame (m2)", "amount", "unit", "note", "gang", "depth",
]  # fmt: skip
CELLS = st.one_of(
    st.sampled_from([
        "4/9/10", "9/13/2010", "4 Sept 2010", "31 Sept 2010", "2030-01-01", '"', "do.", "",
        "Main court", "short court", "sown", "mowed", "cut and boxed", "count", "fed", "polished",
        "Bobbin", "35",
        "3,5", "1 1/4", '5/16"', "35 g/m2", "1 oz per sq yd", "6 lb per 1000 sq ft", "-3", "nan",
        "1e400", "yes", "no", "P1", "<1", "tr", "27", "g/m2", "£12.50",
    ]),
    st.text(max_size=8),
)  # fmt: skip


def kind_of(name: str) -> str:
    try:
        return read_kind(name) if name.strip() else ""
    except UnknownNameError:
        return ""


NAMES = Names(
    (MAIN.name, SHORT.name), ("BB-0417", "Bobbin"), ("P1",), kind_of, ("poa annua", *OTHER_KINDS)
)


def read_all(file: OldFile) -> list[RowRead]:
    return [read_old_row(row, file.name, GROUND, TODAY) for row in file.rows]


def check(read: RowRead) -> None:
    """Hold that a row is either an entry that can be kept, or parked with a reason."""
    assert (read.what is None) == (read.slip is not None)
    if read.slip is not None:
        event("parked")
        assert read.slip.allowed
        assert read.slip.about["as_it_came"] == read.as_it_came
        return
    event("taken")
    assert read.what is not None
    assert read_happening(plain_happening(read.what)) == read.what
    assert read.when is not None
    assert read.when.first <= TODAY
    numbers = [held for held in plain_happening(read.what).values() if isinstance(held, float)]
    assert all(number >= 0 for number in numbers)
    assert read.hours is None or 0 <= read.hours <= 10_000


@given(
    st.lists(st.sampled_from(HEADS), min_size=1, max_size=8, unique=True),
    st.lists(st.lists(CELLS, min_size=1, max_size=10), max_size=6),
    st.sampled_from([",", ";", "\t"]),
)
def test_every_row_of_a_sheet_is_understood_or_parked(
    heads: list[str], rows: list[list[str]], delimiter: str
) -> None:
    lines = [delimiter.join(["date", *(head for head in heads if head != "date")])]
    lines += [delimiter.join(cells) for cells in rows]
    file = read_old_sheet("\n".join(lines), "old.csv", kind_of)
    if file is None:
        event("no heading")
        return
    for read in read_all(file):
        check(read)


@given(st.lists(st.one_of(st.lists(CELLS, max_size=8).map(" ".join), st.text(max_size=30))))
def test_every_line_of_a_notebook_is_understood_or_parked(lines: list[str]) -> None:
    file = read_notebook("\n".join(lines), "old.txt", NAMES)
    for read in read_all(file):
        check(read)


@given(
    st.floats(0.01, 200, allow_nan=False),
    st.sampled_from(
        ["g/m2", "oz per sq yd", "oz/yd2", "lb per 1000 sq ft", "lbs per thousand square feet",
         "kg/ha", "lb/ac"]
    ),
)  # fmt: skip
def test_a_rate_in_any_unit_a_hundred_times_out_and_in_does_not_drift(
    rate: float, unit: str
) -> None:
    factor = read_quantity(f"1 {unit}", "g/m2", "rate").value
    number = rate
    for _ in range(100):
        number = read_quantity(f"{number!r} {unit}", "g/m2", "rate").value / factor
    assert abs(number - rate) <= 1e-9 * rate
