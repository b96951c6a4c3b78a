"""Run every benchmark module and write the page: `python -m benchmarks [NAME ...]`.

With names only those run, and the page stays as it is; with ``--anew`` before them their
sections of the page are written anew, and say so.
"""

from __future__ import annotations

import platform
import re
import sys
from importlib import import_module
from importlib.metadata import version
from os import cpu_count, getloadavg
from pathlib import Path
from time import perf_counter

from benchmarks._measuring import ROOT, Row

COUNTED = "**0 goals met, 0 not met.**"
PAGE = ROOT / "docs" / "reference" / "performance.md"
TITLES = {
    "model": "The compiled model",
    "growth": "How cost grows, and the same bits",
    "planner": "A search for a programme",
    "draws": "Random numbers",
    "weather": "Weather",
    "trials": "Trials",
    "photos": "Photographs",
    "lawns": "Many lawns in one book",
    "pages": "Pages",
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
    parts = [
        "# Performance",
        "<!-- Written by `make bench`; run it on your own machine and compare. -->",
        f"Measured in one run of {seconds / 60:.0f} minutes on: {machine()}. Load was {load:.1f}"
        " when it began and other work ran beside it, so trust ratios, not nanoseconds. Works that"
        " are compared are taken in turn; times are CPU time, medians, unless a row says"
        " otherwise.",
        COUNTED,
        *(section(name, rows) for name, rows in found.items()),
    ]
    return counted("\n\n".join(part.rstrip() for part in parts) + "\n")


def section(name: str, rows: list[Row], said: str = "") -> str:
    """Write the section of one module."""
    table = ["| what | measured | goal | |", "|---|---|---|---|"]
    table += [f"| {r.metric} | {r.measured} | {r.goal} | {r.verdict} |" for r in rows]
    return "\n\n".join(part for part in (f"## {title_of(name)}", said, "\n".join(table)) if part)


def title_of(name: str) -> str:
    """Give the heading of a module's section."""
    return TITLES.get(name, name)


def counted(text: str) -> str:
    """Put into a page how many goals it says are met, and which are not."""
    missed = re.findall(r"^\| (.+?) \| .* \| not met \|$", text, re.MULTILINE)
    met = len(re.findall(r" \| met \|$", text, re.MULTILINE))
    told = f"**{met} goals met, {len(missed)} not met.**"
    told += f" Not met: {'; '.join(missed)}." if missed else ""
    return re.sub(r"^\*\*.* not met\.\*\*.*$", lambda _: told, text, flags=re.MULTILINE)


def written_anew(text: str, name: str, rows: list[Row], load: float) -> str:
    """Put a section into a page in the place of its old one, or at the end if it is new."""
    said = f"Measured again in a run of its own; load was {load:.1f} when it began."
    old = re.compile(rf"^## {re.escape(title_of(name))}\n.*?(?=^## |\Z)", re.MULTILINE | re.DOTALL)
    made = section(name, rows, said) + "\n\n"
    text = old.sub(lambda _: made, text) if old.search(text) else f"{text.rstrip()}\n\n{made}"
    return counted(text.rstrip() + "\n")


def main() -> None:
    """Import each module and call its `run`."""
    chosen, began, load = sys.argv[1:], perf_counter(), getloadavg()[0]
    is_anew = chosen[:1] == ["--anew"]
    chosen = chosen[is_anew:]
    found = {}
    for name in chosen or names():
        print(f"== {name}")
        found[name] = import_module(f"benchmarks.{name}").run()
        for row in found[name]:
            print(f"{row.verdict:14}{row.metric}: {row.measured} [{row.goal}]")
    for name in chosen if is_anew else ():
        PAGE.write_text(
            written_anew(PAGE.read_text(encoding="utf-8"), name, found[name], load), "utf-8"
        )
    if not chosen:
        PAGE.write_text(page(found, perf_counter() - began, load), encoding="utf-8")


if __name__ == "__main__":
    main()
