"""Everything `make test` runs, in order; stops at the end with the first failure's exit code."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from shutil import disk_usage

BIN = Path(sys.executable).parent
STEPS = (
    ("style", [BIN / "ruff", "check", "--quiet", "."]),
    ("format", [BIN / "ruff", "format", "--check", "--quiet", "."]),
    ("import contracts", [BIN / "lint-imports", "--no-logo"]),
    ("types", [BIN / "mypy"]),
    ("tests", [sys.executable, "-m", "pytest", "-n", "2", "--dist", "loadfile", "-q",
               *sys.argv[1:]]),
)  # fmt: skip
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1"}
"""Two processes share two cores; threads within them would only wait for each other."""
MEMORY, ROOM = Path("/dev/shm"), 6_000_000_000
"""Books of tests lie in memory where there is so much room. [byte]"""


def surroundings() -> dict[str, str]:
    """Give the variables that the steps are run with."""
    found = {**os.environ, **ONE_THREAD}
    if MEMORY.is_dir() and os.access(MEMORY, os.W_OK) and disk_usage(MEMORY).free > ROOM:
        found.setdefault("TMPDIR", str(MEMORY))
    return found


def main() -> int:
    """Run each step, print how long it took, and give the first failure's code."""
    failed = 0
    for name, command in STEPS:
        print(f"== {name}", flush=True)
        began = time.monotonic()
        words = [str(part) for part in command]
        code = subprocess.run(words, check=False, env=surroundings()).returncode
        print(f"== {name}: {'passed' if code == 0 else 'FAILED'}, {time.monotonic() - began:.0f} s")
        failed = failed or code
    return failed


if __name__ == "__main__":
    sys.exit(main())
