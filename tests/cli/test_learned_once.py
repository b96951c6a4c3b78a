"""A look-ahead asked for again is read, not learned again, and prints the same bytes."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from swardbook.book import kept_learning
from swardbook.model.past import live_through
from tests.cli.conftest import Run
from tests.support.model import kernel

ASK = ("look-ahead", "--zone", "Lime Walk", "--draws", "64", "--programme", "Cut only", "--json")


@pytest.fixture
def cache(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The made-up book, the model compiled for the tests, and nothing learned before."""
    name, found = kernel().identity, tmp_path / "cache"
    run("demo")
    shared = Path(os.environ["SWARDBOOK_CACHE"]) / f"model-{name}"
    shutil.copytree(shared, found / shared.name)
    monkeypatch.setenv("SWARDBOOK_CACHE", str(found))
    return found


@pytest.mark.long
def test_fresh_kept_and_kept_after_a_restart_print_the_same_bytes(
    run: Run, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fresh = run(*ASK).result
    (file,) = (cache / "learned").iterdir()
    content = file.read_bytes()
    # Whoever learned again now would fail.
    monkeypatch.setattr(kept_learning, "live_through", None)
    assert run(*ASK).result.stdout == fresh.stdout
    restarted = [sys.executable, "-m", "swardbook", *ASK]
    told = subprocess.run(restarted, check=True, capture_output=True, text=True)
    assert told.stdout == fresh.stdout
    assert [each.read_bytes() for each in (cache / "learned").iterdir()] == [content]
    file.write_bytes(content[:1000])
    monkeypatch.setattr(kept_learning, "live_through", live_through)
    again = run(*ASK).result
    assert (again.stdout, again.stderr) == (fresh.stdout, fresh.stderr)
    assert file.read_bytes() == content
