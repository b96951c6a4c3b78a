"""A second factor: a key beside the book, codes that are good once, waits, and another key."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from swardbook.book.opening import Book
from swardbook.book.people import WrongLogInError, add_person, log_in
from swardbook.book.phones import device_of
from swardbook.book.second_factor import (
    RECOVERY_CODES,
    WrongCodeError,
    begin,
    code_at,
    end_for,
    end_own,
    finish_log_in,
    renew_recovery,
    standing,
    turn_on,
)
from swardbook.book.waits import WaitError
from swardbook.foundation.errors import BadInputError, RefusedError
from tests.support.books import small_book
from tests.support.people import hash_lightly

NOW = datetime(2026, 4, 3, 8, 0, tzinfo=UTC)
NAME, WORDS = "Ines Marlow", "four quiet moles dig"


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Book]:
    hash_lightly(monkeypatch)
    opened = small_book(tmp_path / "book")
    add_person(opened, NAME, "", "owner", WORDS, NOW)
    yield opened
    opened.store.close()


def step(when: datetime) -> int:
    return int(when.timestamp()) // 30


def switched_on(book: Book) -> tuple[str, tuple[str, ...]]:
    """Set one up; gives the secret and the recovery codes."""
    secret = begin(book, NAME, WORDS, NOW).secret.replace(" ", "")
    return secret, turn_on(book, NAME, code_at(secret, step(NOW)), NOW)


def half(book: Book, when: datetime) -> str:
    found = log_in(book, NAME, WORDS, "192.0.2.7", when)
    assert found.is_half
    return found.token


def test_the_secret_is_made_from_the_book_and_a_key_beside_it(book: Book) -> None:
    secret, codes = switched_on(book)
    key = book.settings.home / "second-factor.key"
    assert key.stat().st_mode & 0o077 == 0
    held = book.settings.book_file.read_bytes()
    held += (book.settings.home / "book.sqlite3-wal").read_bytes()
    for told in (secret, key.read_text().strip(), codes[0], codes[0][2:].replace("-", "")):
        assert told.encode() not in held
    assert len(set(codes)) == RECOVERY_CODES


def test_nothing_is_asked_for_before_the_first_code_was_right(book: Book) -> None:
    begin(book, NAME, WORDS, NOW)
    with pytest.raises(WrongCodeError):
        turn_on(book, NAME, "000000", NOW)
    assert not log_in(book, NAME, WORDS, "192.0.2.7", NOW).is_half
    assert not standing(book, NAME).is_on


def test_a_clock_half_a_minute_off_will_do_and_two_minutes_will_not(book: Book) -> None:
    secret, _codes = switched_on(book)
    later = NOW + timedelta(minutes=10)
    for drift, fits in ((-1, True), (1, True), (-2, False), (4, False)):
        later += timedelta(minutes=10)
        token, code = half(book, later), code_at(secret, step(later) + drift)
        if fits:
            assert finish_log_in(book, token, code, "192.0.2.7", later).token
        else:
            with pytest.raises(WrongCodeError):
                finish_log_in(book, token, code, "192.0.2.7", later)


def test_no_code_is_right_again_nor_one_before_it(book: Book) -> None:
    secret, _codes = switched_on(book)
    later = NOW + timedelta(minutes=10)
    used = code_at(secret, step(later))
    assert finish_log_in(book, half(book, later), used, "192.0.2.7", later).token
    for code in (used, code_at(secret, step(later) - 1)):
        with pytest.raises(WrongCodeError):
            finish_log_in(book, half(book, later), code, "192.0.2.7", later)


def test_wrong_codes_wait_and_half_a_log_in_ends(book: Book) -> None:
    secret, _codes = switched_on(book)
    token = half(book, NOW)
    for _ in range(4):
        with pytest.raises(WrongCodeError):
            finish_log_in(book, token, "000000", "192.0.2.7", NOW)
    right = code_at(secret, step(NOW) + 1)
    with pytest.raises(WaitError):
        finish_log_in(book, token, right, "192.0.2.8", NOW)
    with pytest.raises(WrongLogInError):
        finish_log_in(book, token, right, "192.0.2.7", NOW + timedelta(minutes=6))
    with pytest.raises(WrongLogInError):
        finish_log_in(book, "made up", right, "192.0.2.7", NOW)


def test_a_recovery_code_is_good_once_and_new_ones_end_the_old(book: Book) -> None:
    _secret, codes = switched_on(book)
    assert finish_log_in(book, half(book, NOW), codes[3].upper(), "192.0.2.7", NOW).token
    assert standing(book, NAME).recovery_left == RECOVERY_CODES - 1
    with pytest.raises(WrongCodeError):
        finish_log_in(book, half(book, NOW), codes[3], "192.0.2.7", NOW)
    fresh = renew_recovery(book, NAME, WORDS, NOW)
    with pytest.raises(WrongCodeError):
        finish_log_in(book, half(book, NOW), codes[0], "192.0.2.7", NOW)
    assert finish_log_in(book, half(book, NOW), fresh[0], "192.0.2.7", NOW).token


@pytest.mark.parametrize("code", ["", "1", "-", "9-bcdf", "x" * 500, "1-", "1-é", "٣٣٣٣٣٣"])
def test_nonsense_is_a_wrong_code_and_no_fault(book: Book, code: str) -> None:
    switched_on(book)
    with pytest.raises(WrongCodeError):
        finish_log_in(book, half(book, NOW), code, "192.0.2.7", NOW)


def test_another_key_beside_the_book_is_told_and_a_recovery_code_still_opens(book: Book) -> None:
    secret, codes = switched_on(book)
    (book.settings.home / "second-factor.key").unlink()
    later = NOW + timedelta(minutes=10)
    with pytest.raises(WrongCodeError, match=r"second-factor\.key"):
        finish_log_in(book, half(book, later), code_at(secret, step(later)), "192.0.2.7", later)
    assert finish_log_in(book, half(book, later), codes[0], "192.0.2.7", later).token


def test_it_is_ended_by_its_own_password_or_by_who_owns_all_grounds_of_theirs(book: Book) -> None:
    switched_on(book)
    with pytest.raises(WrongLogInError):
        end_own(book, NAME, "another one", NOW)
    with pytest.raises(RefusedError):
        begin(book, NAME, WORDS, NOW)
    other = add_person(book, "Odalys Fenn", "", "worker", "seven grey herons", NOW)
    with pytest.raises(BadInputError):
        end_for(book, NAME, other.key)
    end_own(book, NAME, WORDS, NOW)
    assert not log_in(book, NAME, WORDS, "192.0.2.7", NOW).is_half
    switched_on(book)
    end_for(book, NAME, None)
    assert standing(book, NAME).recovery_left == 0


@pytest.mark.parametrize(
    ("told", "named"),
    [
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 17_5) Mobile Safari/604.1", "iPhone, Safari"),
        ("Mozilla/5.0 (X11; Linux x86_64; rv:128.0) Firefox/128.0", "Linux, Firefox"),
        ("Mozilla/5.0 (Windows NT 10.0) Chrome/130 Safari/537.36 Edg/130.0", "Windows, Edge"),
        ("<script>alert(1)</script>", ""),
        ("", ""),
    ],
)  # fmt: skip
def test_a_phone_is_named_by_known_words_alone(told: str, named: str) -> None:
    assert device_of(told) == named
