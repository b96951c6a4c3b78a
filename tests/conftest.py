"""One cache of compiled model code for the whole suite, in the clone; text as wide as a pipe's."""

import os
from pathlib import Path

os.environ.pop("COLUMNS", None)
os.environ.setdefault("SWARDBOOK_CACHE", str(Path(__file__).parents[1] / ".cache" / "swardbook"))


def pytest_configure() -> None:
    """Set Django up with the pages before any test opens a book: it can be done only once."""
    from swardbook.book.opening import prepare_pages
    from swardbook.web.wiring import pages_settings

    prepare_pages(pages_settings())
