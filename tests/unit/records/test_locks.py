"""A book that is open stays locked: opening it again beside takes no lock away from others."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from swardbook.book.copying import make_copy
from swardbook.foundation.errors import DamagedBookError
from swardbook.records.contents import contents_of
from swardbook.records.files import look_at_header
from swardbook.records.opening import create_store, open_store
from swardbook.records.peek import peek_at_site
from swardbook.records.store import Store
from swardbook.settings import Settings
from tests.support.books import filled

NOW = datetime(2011, 10, 8, 9, tzinfo=UTC)
ASK_FROM_BESIDE = (
    "import sys; from pathlib import Path; from swardbook.records.copies import is_open_elsewhere;"
    " print(is_open_elsewhere(Path(sys.argv[1])))"
)


def is_open_for_a_program_beside(settings: Settings) -> bool:
    """Ask in a process of its own: within one process, locks are never in the way."""
    asked = [sys.executable, "-c", ASK_FROM_BESIDE, str(settings.book_file)]
    done = subprocess.run(asked, check=True, capture_output=True, text=True)
    return done.stdout.strip() == "True"


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "home")


@pytest.fixture
def store(settings: Settings) -> Iterator[Store]:
    made = filled(create_store(settings))
    assert made.whole_diary() == ()
    yield made
    made.close()


def open_again_in_a_thread(settings: Settings) -> None:
    def there_and_back() -> None:
        open_store(settings).close()

    beside = threading.Thread(target=there_and_back)
    beside.start()
    beside.join()


LOOKS: dict[str, Callable[[Settings], object]] = {
    "opened": open_again_in_a_thread,
    "looked at": lambda settings: look_at_header(settings.book_file),
    "gone through": lambda settings: contents_of(settings.book_file),
    "peeked at": lambda settings: peek_at_site(settings.book_file),
    "copied": lambda settings: make_copy(settings, NOW),
}


@pytest.mark.parametrize("look", LOOKS)
def test_a_book_stays_locked_for_programs_beside_however_it_is_looked_at_again(
    settings: Settings, store: Store, look: str
) -> None:
    assert is_open_for_a_program_beside(settings)
    LOOKS[look](settings)
    assert is_open_for_a_program_beside(settings)
    store.close()
    assert not is_open_for_a_program_beside(settings)


def test_no_file_of_a_book_that_is_open_is_opened_but_by_sqlite(
    settings: Settings, store: Store
) -> None:
    opened: list[str] = []
    watching = [True]

    def watch(event: str, about: tuple[object, ...]) -> None:
        if watching and event == "open" and str(about[0]) == str(settings.book_file):
            opened.append(event)

    sys.addaudithook(watch)
    for look in LOOKS.values():
        look(settings)
    assert not opened
    settings.book_file.open("rb").close()
    watching.clear()
    assert opened == ["open"], "the watch would have seen it"


def test_a_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    folder = tmp_path / "book.sqlite3"
    folder.mkdir()
    with pytest.raises(DamagedBookError):
        look_at_header(folder)
