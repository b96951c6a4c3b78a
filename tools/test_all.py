"""Everything `make test` runs, in order; stops at the end with the first failure's exit code."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from shutil import disk_usage
from subprocess import PIPE, STDOUT, Popen

BIN = Path(sys.executable).parent
STEPS = (
    ("style", [BIN / "ruff", "check", "--quiet", "."]),
    ("format", [BIN / "ruff", "format", "--check", "--quiet", "."]),
    ("import contracts", [BIN / "lint-imports", "--no-logo"]),
    ("tests", [sys.executable, "-m", "pytest", "-n", "2", "--dist", "loadfile", "-q",
               *sys.argv[1:]]),
)  # fmt: skip
TYPES = BIN / "mypy"
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
    """Run the steps, print how long each took, and give the first failure's code.

    The types are gone through beside the tests: by itself that takes one core of two.
    """
    types = Popen([str(TYPES)], stdout=PIPE, stderr=STDOUT, text=True, env=surroundings())
    began, failed = time.monotonic(), 0
    for name, command in STEPS:
        print(f"== {name}", flush=True)
        since = time.monotonic()
        words = [str(part) for part in command]
        code = subprocess.run(words, check=False, env=surroundings()).returncode
        print(f"== {name}: {_word(code)}, {time.monotonic() - since:.0f} s", flush=True)
        failed = failed or code
    told, _ = types.communicate()
    print(f"== types\n{told}== types: {_word(types.returncode)}")
    print(f"== all: {time.monotonic() - began:.0f} s")
    return failed or types.returncode


def _word(code: int) -> str:
    return "FAILED" if code else "passed"


if __name__ == "__main__":
    sys.exit(main())
