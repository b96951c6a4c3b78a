"""The page on nights and jobs works as it stands, in a book made by its own commands."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through


def test_a_night_and_jobs_work_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    empty_home(tmp_path, monkeypatch)
    assert work_through(DOCS / "how-to" / "nightly.md") == 8
