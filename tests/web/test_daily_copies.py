"""While pages are served the day's copy is made beside them, once, and the settings say so."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from swardbook.book.check_up_machine import how_copies_stand
from swardbook.book.copying import copies_of, make_copy
from swardbook.settings import Settings
from swardbook.web import daily_copies
from tests.support.books import small_book

NOW = datetime(2011, 10, 9, 2, 30, tzinfo=UTC)


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Settings:
    book = small_book(tmp_path / "home")
    book.store.close()
    monkeypatch.setenv("SWARDBOOK_HOME", str(book.settings.home))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    return book.settings


def test_the_days_copy_is_asked_for_only_while_there_is_none(settings: Settings) -> None:
    asked: list[bool] = []

    def make() -> bool:
        asked.append(True)
        return bool(make_copy(settings, NOW, "daily"))

    assert daily_copies.make_if_due(settings, NOW, make)
    assert daily_copies.make_if_due(settings, NOW + timedelta(hours=3), make)
    assert len(asked) == 1
    assert daily_copies.make_if_due(settings, NOW + timedelta(days=1), make)
    assert len(asked) == 2


def test_it_is_made_by_a_process_of_its_own(settings: Settings) -> None:
    assert daily_copies.make_apart()
    [copy] = copies_of(settings)
    assert (copy.why, copy.entries) == ("daily", 0)


def test_a_copy_that_fails_is_told_and_tried_again_later(
    settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    settings.copies.write_text("a file where the folder should be", encoding="utf-8")
    assert not daily_copies.make_apart()
    assert "was not made" in capsys.readouterr().err


def test_how_old_the_newest_copy_is_is_told(settings: Settings) -> None:
    assert how_copies_stand(settings, NOW).findings[0].words == "there is no safe copy"
    make_copy(settings, NOW)
    stand = how_copies_stand(settings, NOW + timedelta(days=4))
    assert "the newest is 4 days old" in [each.words for each in stand.findings]
    assert "9 October 2011" in stand.words
