"""The compiled model's folder, where it cannot be used."""

from pathlib import Path

import pytest

from swardbook.book import compiled
from swardbook.book.compiled import kernel_of
from swardbook.foundation.errors import StorageError
from swardbook.settings import Settings


def settings(tmp_path: Path, cache: Path) -> Settings:
    return Settings(tmp_path, "", 256, 1, cache)


def test_a_folder_that_cannot_be_made_is_refused_in_words(tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("a file, not a folder", encoding="utf-8")
    with pytest.raises(StorageError, match="SWARDBOOK_CACHE") as refused:
        kernel_of(settings(tmp_path, taken / "cache"))
    assert str(taken) in str(refused.value)


def test_a_folder_that_numba_may_not_write_is_refused_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read_only(*_: object) -> None:
        raise RuntimeError("cannot cache function 'run_block': no locator available for file")

    monkeypatch.setattr(compiled, "load_kernel", read_only)
    with pytest.raises(StorageError, match="read-only"):
        kernel_of(settings(tmp_path, tmp_path / "cache"))


def test_another_fault_of_the_compiler_is_not_dressed_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("something else")

    monkeypatch.setattr(compiled, "load_kernel", broken)
    with pytest.raises(RuntimeError, match="something else"):
        kernel_of(settings(tmp_path, tmp_path / "cache"))
