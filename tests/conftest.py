"""One cache of compiled model code for the whole suite, in the clone; text as wide as a pipe's."""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

os.environ.pop("COLUMNS", None)
os.environ.setdefault("SWARDBOOK_CACHE", str(Path(__file__).parents[1] / ".cache" / "swardbook"))


def pytest_configure() -> None:
    """Set Django up with the pages before any test opens a book: it can be done only once."""
    from swardbook.book.opening import prepare_pages
    from swardbook.web.wiring import pages_settings

    prepare_pages(pages_settings())
    make_empty_once()


def make_empty_once() -> None:
    """Make the tables of an empty book once for a process; each further one is a copy of it.

    Every migration is run for the first one, and for each in its own tests.
    """
    from swardbook.records import schema

    real, first = schema.make_empty, Path(tempfile.mkdtemp(prefix="empty-book-")) / "book.sqlite3"
    atexit.register(shutil.rmtree, first.parent, ignore_errors=True)

    def copied(made: Path) -> None:
        if not first.exists():
            real(first)
        shutil.copyfile(first, made)

    copied.__wrapped__ = real  # type: ignore[attr-defined]
    schema.make_empty = copied
