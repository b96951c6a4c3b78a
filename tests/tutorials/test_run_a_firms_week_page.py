"""The page about a firm's week works as it is printed."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through


def test_the_page_about_a_firms_week_works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    empty_home(tmp_path, monkeypatch)
    assert work_through(DOCS / "how-to" / "run-a-firms-week.md") == 20
    assert (tmp_path / "ines.pdf").read_bytes().startswith(b"%PDF")
    assert len(list((tmp_path / "notes").iterdir())) == 2
