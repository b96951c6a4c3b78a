"""Everything `make test` runs, in order; stops at the end with the first failure's exit code."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

BIN = Path(sys.executable).parent
STEPS = (
    ("style", [BIN / "ruff", "check", "--quiet", "."]),
    ("format", [BIN / "ruff", "format", "--check", "--quiet", "."]),
    ("import contracts", [BIN / "lint-imports", "--no-logo"]),
    ("types", [BIN / "mypy"]),
    ("tests", [sys.executable, "-m", "pytest", "-n", "2", "-q", *sys.argv[1:]]),
)


def main() -> int:
    """Run each step, print how long it took, and give the first failure's code."""
    failed = 0
    for name, command in STEPS:
        print(f"== {name}", flush=True)
        began = time.monotonic()
        code = subprocess.run([str(part) for part in command], check=False).returncode
        print(f"== {name}: {'passed' if code == 0 else 'FAILED'}, {time.monotonic() - began:.0f} s")
        failed = failed or code
    return failed


if __name__ == "__main__":
    sys.exit(main())
