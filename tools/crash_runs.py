"""Whether anything that was kept is ever lost: `python -m tools.crash_runs`, `make test-crash`.

A thousand times a child that writes all sorts of things is killed at a random moment (SQLite), two
hundred times on PostgreSQL, two hundred times the disk fills up, two hundred files are torn or have
bits flipped. Whatever was acknowledged must be there afterwards; whatever damage alters an entry
must be found and named. The page `docs/explanation/crash-runs.md` is written from one run. It goes
on where it was broken off, in parts of twenty, unless the code has changed meanwhile.
"""

from __future__ import annotations

import argparse
import atexit
import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

from swardbook.settings import Settings
from tools.crash_damage import damage_once
from tools.crash_page import page
from tools.crash_server import cluster, fresh_database
from tools.crash_writing import (
    child,
    look,
    lost,
    make_book,
    read_all,
    wait_for,
    with_home,
    write_mixed,
)
from tools.trial_runs import Parts

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "explanation" / "crash-runs.md"
STATE = ROOT / "build" / "crash-runs.json"
CODE = ("swardbook.records.", "swardbook.book.checking", "tools.crash_")
PART = 20
"""Crashes of one part; each part begins from a fresh book."""
MOST, LONGEST = 30, 0.05
"""A child is killed within so many acknowledged writes and so much time after that. [1, s]"""
KILLS, SERVER_KILLS, FULL, TORN = 1000, 200, 200, 200
Tell = Callable[[str], None]


@contextmanager
def begun_book() -> Iterator[Settings]:
    """Give a fresh book in a folder of its own."""
    with tempfile.TemporaryDirectory(prefix="crash-") as folder:
        shutil.copytree(first_book(), Path(folder) / "home")
        yield Settings(Path(folder) / "home")


@cache
def first_book() -> Path:
    """Make the book that each part begins from, once; it goes when the run ends."""
    folder = Path(tempfile.mkdtemp(prefix="crash-first-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    in_child(lambda: make_book(Settings(folder / "home")))
    return folder / "home"


def warm_up() -> None:
    """Take in all code that children need, so that each is born with it; nothing stays open."""
    with tempfile.TemporaryDirectory(prefix="crash-") as folder:
        settings = Settings(Path(folder) / "home")
        make_book(settings)
        write_mixed(settings, 0, lambda sort, name: void((sort, name)), most=30)


def in_child(work: Callable[[], None]) -> None:
    """Do something in a child, so that this process never has a database open."""
    process = os.fork()
    if not process:
        code = 1
        try:
            work()
            code = 0
        finally:
            os._exit(code)
    _, status = os.waitpid(process, 0)
    if status:
        raise AssertionError(f"a child failed ({status})")


def kill_part(part: int, settings: Settings) -> dict[str, int]:
    """Kill a writing child again and again, on one book; each time look for what was kept."""
    found: Counter[str] = Counter()
    told: list[str] = []
    for number in range(PART):
        seed = part * PART + number
        chance = random.Random(seed)
        process, reads = child(settings, seed)
        before = wait_for(reads, chance.randrange(MOST))
        time.sleep(chance.uniform(0, LONGEST))
        os.kill(process, signal.SIGKILL)
        now = read_all(reads, before)
        _, status = os.waitpid(process, 0)
        slips = [line for line in now if line.startswith("slip")]
        if slips:
            raise AssertionError(slips)
        told += now
        held = look(settings)
        missing = lost(told, held)
        found += Counter(
            crashes=1, acknowledged=len(now), lost=len(missing), damaged=len(held.damage),
            killed_in_writing=int(os.WIFSIGNALED(status)),
        )  # fmt: skip
        if missing or held.damage:
            raise AssertionError((missing[:3], held.damage[:3]))
    return dict(found)


def kills(part: int) -> dict[str, int]:
    """Kill children that write into a SQLite file."""
    with begun_book() as settings:
        return kill_part(part, settings)


def server_kills(part: int) -> dict[str, int]:
    """Kill children that write into PostgreSQL; in each part the server itself once."""
    with cluster() as served, tempfile.TemporaryDirectory(prefix="crash-") as folder:
        settings = Settings(Path(folder), database=fresh_database(served))
        in_child(lambda: make_book(settings))
        found = Counter(kill_part(part, settings))
        told: list[str] = []
        process, reads = child(settings, 10_000 + part)
        before = wait_for(reads, MOST)
        served.crash()
        os.waitpid(process, 0)
        told = read_all(reads, before)
        served.begin()
        held = look(settings)
        missing = lost(told, held)
        if missing or held.damage:
            raise AssertionError((missing[:3], held.damage[:3]))
        found += Counter(server_crashes=1, acknowledged=len(told))
        return dict(found)


def full_disk(part: int) -> dict[str, int]:
    """Let the file grow only so far; then let it grow again, and write once more."""
    found: Counter[str] = Counter()
    with begun_book() as settings:
        told: list[str] = []
        for number in range(PART):
            seed = 20_000 + part * PART + number
            room = random.Random(seed).randrange(4_096, 200_000)
            size = max(file.stat().st_size for file in settings.home.iterdir() if file.is_file())

            def limited(most: int = size + room) -> None:
                signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
                resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

            process, reads = child(settings, seed, limited)
            now = read_all(reads)
            os.waitpid(process, 0)
            slips = [line for line in now if line.startswith("slip")]
            if not all(line.startswith("slip StorageError") for line in slips):
                raise AssertionError(slips)
            told += [line for line in now if not line.startswith("slip")]
            held = look(settings)
            missing = lost(told, held)
            found += Counter(
                crashes=1, acknowledged=len(now) - len(slips), lost=len(missing),
                damaged=len(held.damage), refused_in_words=len(slips),
            )  # fmt: skip
            if missing or held.damage:
                raise AssertionError((missing[:3], held.damage[:3]))
    return dict(found)


def torn(part: int) -> dict[str, int]:
    """Damage copies of a book, and look whether what alters an entry is found and named."""
    found: Counter[str] = Counter()
    with begun_book() as settings:
        for number in range(PART):
            seed = 30_000 + part * PART + number
            with tempfile.TemporaryDirectory(prefix="torn-") as folder:
                shutil.copytree(settings.home, Path(folder) / "home")
                found += Counter(damage_once(with_home(settings, Path(folder) / "home"), seed))
    return dict(found)


WORK: dict[str, tuple[int, Callable[[int], dict[str, int]]]] = {
    "killed": (KILLS, kills), "killed on a server": (SERVER_KILLS, server_kills),
    "full disk": (FULL, full_disk), "torn": (TORN, torn),
}  # fmt: skip


def run(names: list[str], share: float, tell: Tell, state: Path | None = STATE) -> dict[str, Any]:
    """Do all parts that are not done, and give the sums by name."""
    parts, sums = Parts(state, CODE), {}
    for name in names:
        many, work = WORK[name]
        total: Counter[str] = Counter()
        for part in range(max(1, round(many * share / PART))):
            total += Counter(parts.get(f"{name} {part}", lambda: work(part)))  # noqa: B023
            tell(f"{name}: {total['crashes']} of {many}")
        sums[name] = dict(total)
    return sums


def main() -> int:
    """Run, and write the page when all of it was run."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", choices=list(WORK), action="append")
    parser.add_argument("--share", type=float, default=1.0, help="a part of all crashes")
    asked = parser.parse_args()
    names = asked.only or [
        name for name in WORK if name != "killed on a server" or shutil.which("pg_config")
        or Path("/usr/lib/postgresql").is_dir()
    ]  # fmt: skip
    began = time.monotonic()
    warm_up()
    sums = run(names, asked.share, lambda line: void(sys.stdout.write(f"{line}\n")))
    sys.stdout.write(f"{sums}\n{time.monotonic() - began:.0f} s\n")
    if len(names) == len(WORK) and asked.share >= 1:
        PAGE.write_text(page(sums), encoding="utf-8")
    return 0


def void(_: object) -> None:
    """Give nothing."""


if __name__ == "__main__":
    sys.exit(main())
