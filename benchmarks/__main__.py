"""Run every benchmark module: `python -m benchmarks [NAME ...]`."""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path


def main() -> None:
    """Import each module and call its `run`."""
    here = Path(__file__).parent
    names = sys.argv[1:] or sorted(p.stem for p in here.glob("*.py") if not p.stem.startswith("_"))
    for name in names:
        print(f"== {name}")
        import_module(f"benchmarks.{name}").run()


if __name__ == "__main__":
    main()
