"""The generated pages are what the code says."""

import subprocess
import sys

import pytest
from tools.write_reference import FOLDER, PAGES


@pytest.mark.parametrize("name", PAGES)
def test_a_reference_page_is_up_to_date(name: str) -> None:
    """Run `make docs` when this fails."""
    # In a process of its own, as `make docs` does: commands remember how they were first asked.
    made = subprocess.run(
        [sys.executable, "-m", "tools.write_reference", name], capture_output=True, check=True,
        cwd=FOLDER.parents[1],
    ).stdout  # fmt: skip
    assert (FOLDER / name).read_text(encoding="utf-8") == made.decode()
