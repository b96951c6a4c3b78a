"""The page on many lawns works as written, in an empty home."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = empty_home(tmp_path, monkeypatch)
    assert work_through(DOCS / "how-to" / "many-lawns.md") == 8
    assert (here / "almshouse.zip").exists()
