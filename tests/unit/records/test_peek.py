"""A look at the site of a book, without opening it."""

from pathlib import Path

from swardbook.records.peek import peek_at_site
from tests.support.books import SITE, TODAY, small_book


def test_what_the_site_says_is_seen(tmp_path: Path) -> None:
    book = small_book(tmp_path, TODAY)
    assert peek_at_site(book.settings.book_file)["name"] == SITE.name
    assert peek_at_site(book.settings.book_file)["units"] is None


def test_no_book_and_no_database_say_nothing(tmp_path: Path) -> None:
    assert peek_at_site(tmp_path / "none.sqlite3") == {}
    text = tmp_path / "book.sqlite3"
    text.write_text("no database", encoding="utf-8")
    assert peek_at_site(text) == {}
