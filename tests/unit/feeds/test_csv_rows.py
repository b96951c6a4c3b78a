from pathlib import Path

import pytest

from swardbook.book.count_sheet import choose_frame, read_sheet
from swardbook.book.plot_sizes import _readings
from swardbook.feeds.csv_rows import cells_of, read_rows
from swardbook.feeds.history_sheet import read_old_sheet
from swardbook.feeds.positions import read_positions
from swardbook.foundation.errors import BadInputError

TOO_LONG = "x" * 140_000


def test_rows_are_read_as_they_stand() -> None:
    assert read_rows(["a;b", '"c;d";e'], ";", "x.csv") == [["a", "b"], ["c;d", "e"]]
    assert cells_of("a,b", ",") == ["a", "b"]
    assert cells_of("", ",") == []


def test_a_cell_too_long_is_refused_by_its_line() -> None:
    with pytest.raises(BadInputError, match=r"line 2 of x\.csv"):
        read_rows(["a,b", TOO_LONG], ",", "x.csv")
    assert cells_of(TOO_LONG, ",") == []


def test_no_way_in_stumbles_over_a_cell_too_long(tmp_path: Path) -> None:
    file = tmp_path / "x.csv"
    file.write_text(f"place,bare\nP1,{TOO_LONG}\n", encoding="utf-8")
    with pytest.raises(BadInputError, match="line 2"):
        read_sheet(file, choose_frame("points", 25, None), "")
    with pytest.raises(BadInputError, match="line 2"):
        _readings(file)
    assert read_old_sheet(TOO_LONG, "x.csv", lambda _: "") is None
    file.write_text(f"latitude,longitude\n{TOO_LONG},1\n", encoding="utf-8")
    with pytest.raises(BadInputError, match="line 2"):
        read_positions(file)
