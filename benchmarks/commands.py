"""Whole commands on the made-up ground, in CPU time over that of an empty Python.

Run: ``python -m benchmarks commands``. Nothing here is asserted.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from resource import RUSAGE_CHILDREN, getrusage
from statistics import median

from benchmarks._measuring import CACHE, Row, the_kernel

COMMANDS = {
    "--help": ["--help"],
    "cut (writes one entry)": ["cut", "--zone", "Lime Walk", "--height", "30", "--boxed"],
    "morning": ["morning"],
    "clock": ["clock"],
    "compare": ["compare"],
}
LOOK = ["look-ahead", "--zone", "Main court"]
GOALS = {"--help": 5.0}
_LEARNED = shutil.ignore_patterns("learned")


def children() -> float:
    """CPU time of all finished children [s]."""
    used = getrusage(RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def spent(arguments: list[str], home: str, cache: str = str(CACHE)) -> float:
    """CPU time of one process [s]."""
    keep = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    began = children()
    subprocess.run(
        [sys.executable, *arguments], check=True, capture_output=True,
        env=keep | {"SWARDBOOK_HOME": home, "SWARDBOOK_CACHE": cache},
    )  # fmt: skip
    return children() - began


def run() -> list[Row]:
    """Measure."""
    the_kernel()
    book = ["-m", "swardbook"]
    with tempfile.TemporaryDirectory() as home:
        spent([*book, "demo"], home)
        works = {"empty": ["-c", "pass"]}
        works["click"] = ["-c", "import click"]
        works |= {name: [*book, *arguments] for name, arguments in COMMANDS.items()}
        taken: dict[str, list[float]] = {name: [] for name in works}
        for _ in range(5):
            for name, arguments in works.items():
                taken[name].append(spent(arguments, home))
        with tempfile.TemporaryDirectory() as cache:
            shutil.copytree(CACHE, cache, dirs_exist_ok=True, ignore=_LEARNED)
            look, again = (spent([*book, *LOOK], home, cache) for _ in range(2))
    empty, click = median(taken.pop("empty")), median(taken.pop("click"))
    floor = f"{click / empty:.1f} times ({click * 1e3:.0f} ms)"
    rows = [Row("a Python that only imports the library commands are made with", floor)]
    for name, each in taken.items():
        ratio, goal = median(each) / empty, GOALS.get(name)
        rows.append(
            Row(
                f"swardbook {name}, over an empty Python",
                f"{ratio:.1f} times ({median(each) * 1e3:.0f} ms and {empty * 1e3:.0f} ms)",
                f"at most {goal:.0f} times" if goal else "none set",
                ratio <= goal if goal else None,
            )
        )
    rows.append(
        Row(
            "swardbook look-ahead of the main court",
            f"{look / empty:.0f} times an empty Python ({look:.1f} s), the model compiled before",
        )
    )
    rows.append(
        Row(
            "the same look-ahead again, learned before",
            f"{again / empty:.0f} times an empty Python ({again:.1f} s),"
            f" {again / look:.2f} of the first",
        )
    )
    return rows
