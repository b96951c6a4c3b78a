"""The page on photographs works as written, with two drawn pictures of the made-up plots."""

from pathlib import Path

import pytest

from tests.support.books import put_made_up_ground
from tests.support.pages import DOCS, empty_home, work_through
from tests.support.photographs import write_photograph
from tests.support.pixels import ROOT


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = empty_home(tmp_path, monkeypatch)
    monkeypatch.setenv("SWARDBOOK_CACHE", str(ROOT / ".cache" / "swardbook"))
    put_made_up_ground(home / "home")
    write_photograph(home / "1-01.jpg", cover=0.8, leaf=(60, 100, 46), has_place=True)
    write_photograph(
        home / "1-02.jpg", "2011:10:06 10:20:00", cover=0.55, leaf=(88, 122, 56), seed=4
    )
    assert work_through(DOCS / "how-to" / "photograph-plots.md") == 5
    assert (home / "cards.pdf").exists()
    assert (home / "plot.svg").exists()
