"""The restore drill: from a copy to serving in one command, checked against the export.

``make restore-drill`` makes a firm's made-up book, copies it, spoils the book's file as a failing
disk would, brings the copy back and asks the pages. It writes its figures into
``docs/explanation/safer-than-paper.md``. With ``--book FOLDER`` it drills on a copy of your own
book instead, which is only read, and writes no figures.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.request import urlopen

PAGE = Path(__file__).parents[1] / "docs" / "explanation" / "safer-than-paper.md"
BEGIN, END = "<!-- drill -->", "<!-- end of drill -->"
SERVED = "one command: from the copy to the first page"
_WAIT_S = 300.0


@dataclass
class Drill:
    """What was measured."""

    home: Path
    seconds: dict[str, float] = field(default_factory=dict)
    processor: dict[str, float] = field(default_factory=dict)
    facts: dict[str, Any] = field(default_factory=dict)

    @contextmanager
    def timed(self, step: str) -> Iterator[None]:
        """Measure a step."""
        began, worked = time.perf_counter(), _worked()
        yield
        self.seconds[step] = time.perf_counter() - began
        self.processor[step] = _worked() - worked
        print(f"{step}: {self.seconds[step]:.1f} s", flush=True)

    def ask(self, *words: str, expected: int = 0) -> dict[str, Any]:
        """Run a command and read what it answers."""
        done = subprocess.run(
            [*_command(), *words, "--json"], env=_environment(self.home), capture_output=True,
            text=True, check=False,
        )  # fmt: skip
        if done.returncode != expected:
            raise RuntimeError(f"{' '.join(words)}: {done.stdout}{done.stderr}")
        found: dict[str, Any] = json.loads(done.stdout)
        return found


def drill(home: Path, ground: str, seed: int) -> Drill:
    """Copy a book, spoil it, bring the copy back while pages are served, and compare.

    Parameters
    ----------
    home : Path
        A folder with a book that may be spoiled.
    ground : str
        The ground whose export is held against the restored book's.
    seed : int
        Of where the file is spoiled.
    """
    run = Drill(home)
    archive = home / "before.zip"
    named = ("--ground", ground) if ground else ()
    with run.timed("export of one ground"):
        run.ask("export", str(archive), *named)
    with run.timed("copy, read through"):
        made = run.ask("copy")["copy"]
    run.facts |= {"entries": made["entries"], "grounds": len(made["grounds"]),
                  "book_mb": made["size_bytes"] / 1e6, "pictures": made["pictures"]}  # fmt: skip
    spoil(home / "book.sqlite3", seed)
    with run.timed("check-up that finds the damage"):
        told = run.ask("check-up", expected=1)
    worst = [each for each in told["findings"] if each["severity"] == "act now"]
    if not any(each["about"] in {"entries", "database"} for each in worst):
        raise RuntimeError(f"the damage was not found: {told}")
    began = time.perf_counter()
    with run.timed(SERVED):
        served = serving(home, archive)
        to_the_page = time.perf_counter() - began
        served.process.terminate()
        served.process.wait(60)
    run.seconds[SERVED] = to_the_page
    if b"<html" not in served.page:
        raise RuntimeError("what was served is no page")
    after = home / "after.zip"
    run.ask("export", str(after), *named)
    if after.read_bytes() != archive.read_bytes():
        raise RuntimeError("the export of the restored book is not the one from before")
    run.facts["damage"] = worst[0]["found"]
    return run


@dataclass
class Served:
    """The restored book, served."""

    process: subprocess.Popen[str]
    page: bytes


def serving(home: Path, archive: Path) -> Served:
    """Restore and serve by one command; gives the first page."""
    command = [*_command(), "restore", "newest", "--against", str(archive), "--serve", "--json"]
    process = subprocess.Popen(
        command, env=_environment(home), stdout=subprocess.PIPE, text=True, bufsize=1
    )
    address, printed = "", ""
    assert process.stdout is not None
    for line in process.stdout:
        printed += line
        if found := re.search(r'"address": "([^"]+)"', line):
            address = found[1]
            break
    if not address:
        raise RuntimeError(f"nothing was served: {printed}")
    until = time.monotonic() + _WAIT_S
    while time.monotonic() < until:
        try:
            with urlopen(address, timeout=60) as answer:
                return Served(process, answer.read())
        except OSError:
            time.sleep(0.1)
    process.kill()
    raise RuntimeError(f"no page came from {address}")


def spoil(file: Path, seed: int) -> None:
    """Overwrite a few pages of a book's file, as a failing disk does."""
    drawn = random.Random(seed)
    size = file.stat().st_size
    with file.open("r+b") as handle:
        for _ in range(5):
            handle.seek(drawn.randrange(size // 4096) * 4096)
            handle.write(drawn.randbytes(4096))


def page_with(run: Drill) -> str:
    """Put the figures of a drill into the page."""
    facts = run.facts
    rows = [
        f"| {step} | {took:.1f} | {run.processor[step]:.1f} |" for step, took in run.seconds.items()
    ]
    lines = [
        BEGIN,
        f"Last run: a made-up firm's book of {facts['grounds']} grounds, {facts['entries']:,} diary"
        f" entries, {facts['book_mb']:.0f} MB; five pages of its file overwritten with noise.",
        "",
        "| step | seconds | of them at work |",
        "|---|---|---|",
        *rows,
        "",
        "The first column is as long as it took on a machine with other work; the second counts the"
        " processor's seconds for it. Each command begins anew, at about two seconds.",
        "",
        "The export of the restored book was the one from before the damage, byte for byte.",
        END,
    ]
    text = PAGE.read_text(encoding="utf-8")
    before, _, rest = text.partition(BEGIN)
    return before + "\n".join(lines) + rest.partition(END)[2]


def _worked() -> float:
    """Give the processor's time of the commands that have ended [s]."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _command() -> list[str]:
    return [sys.executable, "-m", "swardbook"]


def _environment(home: Path) -> Mapping[str, str]:
    return {**os.environ, "SWARDBOOK_HOME": str(home), "SWARDBOOK_DATABASE": "",
            "SWARDBOOK_COPIES": "", "SWARDBOOK_GROUND": ""}  # fmt: skip


def main() -> int:
    """Run the drill."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--lawns", type=int, default=100, help="lawns of the made-up firm")
    asked.add_argument("--seed", type=int, default=20111008)
    asked.add_argument("--book", type=Path, help="folder of your own book, which is only read")
    asked.add_argument("--ground", default="", help="the ground of your book that is compared")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory(prefix="swardbook-drill-") as folder:
        home = Path(folder) / "book"
        if given.book:
            home.mkdir(mode=0o700)
            copy = Drill(given.book).ask("copy")
            shutil.copy2(Path(copy["folder"]) / copy["copy"]["name"] / "book.sqlite3", home)
            drill(home, given.ground, given.seed)
            return 0
        from swardbook.demo.many_lawns import Firm, write_firm
        from swardbook.settings import Settings

        slugs = write_firm(Settings(home), Firm(lawns=given.lawns))
        run = drill(home, slugs[0], given.seed)
    PAGE.write_text(page_with(run), encoding="utf-8")
    print(f"The figures are in {PAGE.name}.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
