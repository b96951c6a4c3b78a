"""House rules that no linter knows."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = {".py", ".md", ".toml", ".csv", ".txt", ".yaml", ".cfg", ""}


@pytest.mark.parametrize("lock", sorted((ROOT / "locks").glob("*.txt")), ids=lambda path: path.name)
def test_a_lock_holds_names_versions_and_hashes_only(lock: Path) -> None:
    text = lock.read_text(encoding="utf-8")
    assert not re.search(r"https?:|file:|--index|find-links|@ ", text)
    assert "--hash=sha256:" in text


def test_help_names_every_command_without_importing_django_or_numpy() -> None:
    import subprocess
    import sys

    told = subprocess.run(
        [sys.executable, "-c",
         "import sys\nfrom swardbook.cli.main import root\n"
         "try:\n    root.main(['--help'])\nexcept SystemExit:\n    pass\n"
         "heavy = {'django', 'numpy', 'numba', 'scipy', 'pandas', 'altair', 'vl_convert'}\n"
         "heavy &= set(sys.modules)\n"
         "print('heavy:', sorted(heavy))"],
        capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    assert "heavy: []" in told
    assert "look-ahead" in told
