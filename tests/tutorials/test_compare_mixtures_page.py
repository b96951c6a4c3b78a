"""The page on comparing mixtures works as written, on the made-up ground."""

from pathlib import Path

import pytest

from tests.support.books import put_made_up_ground
from tests.support.pages import work_through

PAGE = Path(__file__).parents[2] / "docs" / "how-to" / "compare-mixtures.md"


@pytest.mark.long
def test_every_command_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "book"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    put_made_up_ground(tmp_path / "book")
    assert work_through(PAGE) == 11
    assert (tmp_path / "paths.svg").exists()
