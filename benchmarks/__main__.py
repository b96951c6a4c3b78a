"""Run every benchmark module and write the page: `python -m benchmarks [NAME ...]`.

With names only those run, and the page stays as it is.
"""

from __future__ import annotations

import platform
import sys
from importlib import import_module
from importlib.metadata import version
from os import cpu_count, getloadavg
from pathlib import Path
from time import perf_counter

from benchmarks._measuring import ROOT, Row

PAGE = ROOT / "docs" / "reference" / "performance.md"
TITLES = {
    "model": "The compiled model",
    "growth": "How cost grows, and the same bits",
    "planner": "A search for a programme",
    "draws": "Random numbers",
    "weather": "Weather",
    "trials": "Trials",
    "photos": "Photographs",
    "commands": "Whole commands",
    "use_cases": "Each use case on the made-up ground",
}


def names() -> list[str]:
    """List the benchmark modules."""
    found = {path.stem for path in Path(__file__).parent.glob("*.py")}
    found = {name for name in found if not name.startswith("_")}
    return [*TITLES, *sorted(found - set(TITLES))]


def machine() -> str:
    """Describe the machine in general words."""
    told = Path("/proc/cpuinfo").read_text() if Path("/proc/cpuinfo").exists() else ""
    models = [line.split(":", 1)[1].strip() for line in told.splitlines() if "model name" in line]
    packages = ", ".join(f"{name} {version(name)}" for name in ("numpy", "numba", "scipy"))
    return (
        f"{models[0] if models else platform.machine()}, {cpu_count()} cores;"
        f" Python {platform.python_version()}, {packages}"
    )


def page(found: dict[str, list[Row]], seconds: float, load: float) -> str:
    """Write the page."""
    rows = [row for each in found.values() for row in each]
    met = sum(row.is_met is True for row in rows)
    missed = [row for row in rows if row.is_met is False]
    parts = [
        "# Performance",
        "<!-- Written by `make bench`; run it on your own machine and compare. -->",
        f"Measured in one run of {seconds / 60:.0f} minutes on: {machine()}. Load was {load:.1f}"
        " when it began and other work ran beside it, so trust ratios, not nanoseconds. Works that"
        " are compared are taken in turn; times are CPU time, medians, unless a row says"
        " otherwise.",
        f"**{met} goals met, {len(missed)} not met.** "
        + ("Not met: " + "; ".join(row.metric for row in missed) + "." if missed else ""),
    ]
    for name, each in found.items():
        table = ["| what | measured | goal | |", "|---|---|---|---|"]
        table += [f"| {r.metric} | {r.measured} | {r.goal} | {r.verdict} |" for r in each]
        parts += [f"## {TITLES.get(name, name)}", "\n".join(table)]
    return "\n\n".join(part.rstrip() for part in parts) + "\n"


def main() -> None:
    """Import each module and call its `run`."""
    chosen, began, load = sys.argv[1:], perf_counter(), getloadavg()[0]
    found = {}
    for name in chosen or names():
        print(f"== {name}")
        found[name] = import_module(f"benchmarks.{name}").run()
        for row in found[name]:
            print(f"{row.verdict:14}{row.metric}: {row.measured} [{row.goal}]")
    if not chosen:
        PAGE.write_text(page(found, perf_counter() - began, load), encoding="utf-8")


if __name__ == "__main__":
    main()
