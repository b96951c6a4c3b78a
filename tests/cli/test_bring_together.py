"""Two books of one ground made one at the terminal."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.cli.conftest import Run


def test_what_came_and_what_clashes_is_told(ground: Run, book_home: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    shutil.copytree(book_home, other)
    ground("cut", "--zone", "Main court", "--boxed")
    ground("zone", "set", "Main court", "--height-of-cut", "7 mm", "--reason", "drier")
    shutil.move(book_home, tmp_path / "mine")
    shutil.move(other, book_home)
    ground("zone", "set", "Main court", "--height-of-cut", "9 mm", "--reason", "wetter")
    told = ground("bring-together", str(tmp_path / "mine"))
    assert "came" in told.text
    assert "zone Main court: height_of_cut_mm" in " ".join(told.text.split())
    again = ground("bring-together", str(tmp_path / "mine"), "--json").json
    assert (again["entries"], again["pieces"], again["results"]) == (0, 0, 0)


def test_what_is_no_book_is_refused(ground: Run, tmp_path: Path) -> None:
    told = ground("bring-together", str(tmp_path / "nothing"), code=2)
    assert "an archive, or the folder or file of a book" in told.text
