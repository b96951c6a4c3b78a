"""The night's round at size: `python -m tools.scale_runs`; resumable.

Made-up lawns are looked over by workers of this machine, as `swardbook nightly` does it: in one
run one worker against two, in one two workers of which one is killed, and in one all of ten
thousand. All answers must have the same bits, whoever worked them out. The page
`docs/reference/scale.md` is written from what was measured; what was broken off goes on.
"""

from __future__ import annotations

import argparse
import json
import os
import pickle
import shutil
import signal
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from pathlib import Path
from statistics import mean, median
from typing import Any
from uuid import uuid4

from swardbook.book.compiled import kernel_of
from swardbook.book.machine_kind import machine_kind
from swardbook.book.night import NightTold, night_of, night_work, task_of
from swardbook.book.nightly import Means, NightRun, nightly
from swardbook.book.opening import at_ground, open_any_book
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.feeds.spread import Spread, Task
from swardbook.feeds.spread_cluster import join
from swardbook.feeds.spread_here import SpreadHere
from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Note
from swardbook.records.extract import grounds_by_key, store_at
from swardbook.records.job import NewJob
from swardbook.records.job_list import jobs_of
from swardbook.records.nights import Found, end_night
from swardbook.records.store import Store
from swardbook.settings import MachineWork, Settings
from tools.scale_page import page

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "reference" / "scale.md"
HOME = ROOT / "build" / "scale"
LAWNS, PAIRED, SAME = 10_000, 120, 22
"""Lawns of the long run, of each round of one worker against two, and of the runs for bits."""
ROUNDS, TASKS, DAYS, COMMITS = 8, 1500, 7, 60
RUNS = (("here", 1, False), ("here", 2, True), ("cluster", 2, False), ("cluster", 2, True))
"""Whose bits are compared: processes or a cluster, how many, and whether one of them is killed."""
LOG = "SWARDBOOK_SCALE_LOG"
Part = Callable[[], dict[str, Any]]


def main() -> None:
    """Do what is not done yet, and write the page."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--lawns", type=int, default=LAWNS)
    asked.add_argument("--home", type=Path, default=HOME)
    asked.add_argument("--page", type=Path, default=PAGE)
    given = asked.parse_args()
    given.home.mkdir(parents=True, exist_ok=True)
    os.environ[LOG] = str(given.home / "begun.log")
    kernel_of(Settings(given.home, cache_folder=given.home / "cache"), print)
    parts: dict[str, Part] = {
        "pairs": lambda: one_against_two(given.home),
        "steps": lambda: steps(given.home),
        "scheduler": lambda: scheduler(given.home),
        "ahead": lambda: looking_ahead(given.home),
        "commits": lambda: commits(given.home),
        "bits": lambda: same_bits(given.home),
        f"long {given.lawns}": lambda: long_run(given.home, given.lawns),
    }
    state = given.home / "state.json"
    done: dict[str, Any] = json.loads(state.read_text()) if state.exists() else {}
    for name, part in parts.items():
        if name not in done:
            print(f"{name} ...", flush=True)
            load = os.getloadavg()[0]
            done[name] = part() | {"load": [load, os.getloadavg()[0]]}
            state.write_text(json.dumps(done))
            given.page.write_text(page(done, given.lawns), encoding="utf-8")
    given.page.write_text(page(done, given.lawns), encoding="utf-8")
    print(f"written: {given.page}", flush=True)


def logged_work(content: bytes) -> bytes:
    """Do a lawn's night, and leave a line when it begins."""
    with Path(os.environ[LOG]).open("a", encoding="ascii") as log:
        log.write(f"{os.getpid()} {sha256(content).hexdigest()[:16]}\n")
    return night_work(content)


def clock() -> date:
    """Give the made-up day."""
    return TODAY


def now() -> datetime:
    """Give the time."""
    return datetime.now(UTC)


def book_of(home: Path, name: str, lawns: int, years: int = 1) -> Path:
    """Write a book of so many lawns, once; gives its folder."""
    folder = home / name
    if not (folder / "book.sqlite3").exists():
        print(f"  writing {lawns} lawns ...", flush=True)
        write_firm(Settings(folder), Firm(lawns=lawns, years=years))
    return folder


def copied(folder: Path, name: str) -> Path:
    """Copy a book, so that each round begins alike."""
    to = folder.with_name(name)
    shutil.rmtree(to, ignore_errors=True)
    to.mkdir()
    shutil.copy2(folder / "book.sqlite3", to)
    return to


@contextmanager
def spread_of(kind: str, workers: int) -> Iterator[Spread]:
    """Begin workers: ``here``, our own processes, or ``cluster``, on this machine."""
    mark = machine_kind().mark
    spread: Spread = SpreadHere(workers) if kind == "here" else join("here", mark, workers)
    try:
        yield spread
    finally:
        spread.close()


def round_of(
    folder: Path, cache: Path, spread: Spread, work: MachineWork,
    watch: Callable[[NightTold], None],
) -> tuple[NightRun, float]:  # fmt: skip
    """Look over all lawns of a book; gives what came of it and how long it took."""
    settings = Settings(folder, cache_folder=cache, machine_work=work)
    book = open_any_book(settings, clock)
    begun = time.perf_counter()
    run = nightly(book, Means(spread, f"scale {os.getpid()}", now, logged_work, watch=watch))
    taken = time.perf_counter() - begun
    book.store.close()
    if run.faults:
        raise SystemExit(f"{run.faults[0].ground}: {run.faults[0].reason}")
    return run, taken


def warmed(spread: Spread, folder: Path, cache: Path) -> None:
    """Let workers take in the program before anything is measured."""
    round_of(copied(folder, "warming"), cache, spread, MachineWork(days=0), lambda _: None)


def same_bits(home: Path) -> dict[str, Any]:
    """Work the same lawns out by processes and by a cluster, one and two, also where one dies.

    Look-aheads are in it, for a seventh of the lawns.
    """
    folder, cache = book_of(home, "same", SAME, 3), home / "cache"
    work, found = MachineWork(draws=64, days=DAYS), dict[str, Any]()
    for kind, workers, kills in RUNS:
        texts: list[str] = []
        killed: list[int] = []
        Path(os.environ[LOG]).write_text("")

        def watch(told: NightTold, texts: list[str] = texts, killed: list[int] = killed,
                  kills: bool = kills) -> None:  # fmt: skip
            texts.append(told.text)
            if kills and not killed and len(texts) == SAME // 3:
                killed.append(int(told.process.split()[-1]))
                os.kill(killed[0], signal.SIGKILL)

        with spread_of(kind, workers) as spread:
            run, taken = round_of(copied(folder, "same-round"), cache, spread, work, watch)
        begun = len(Path(os.environ[LOG]).read_text().splitlines())
        name = f"{workers} by {'processes' if kind == 'here' else 'cluster'}"
        found[name + (", one killed" if kills else "")] = {
            "bits": sha256("\n".join(sorted(texts)).encode()).hexdigest()[:16],
            "looked": run.looked, "ahead": run.ahead, "begun": begun, "seconds": taken,
            "killed": len(killed),
        }  # fmt: skip
        print(f"  {list(found)[-1]}: {taken:.0f} s", flush=True)
    return {"runs": found, "lawns": SAME}


def one_against_two(home: Path) -> dict[str, Any]:
    """Take the same lawns with one worker and with two, in turn; bits must be the same."""
    folder, cache = book_of(home, "paired", PAIRED, 3), home / "cache"
    taken: dict[int, list[float]] = {1: [], 2: []}
    each, bits = list[float](), set[str]()
    with spread_of("cluster", 1) as one, spread_of("cluster", 2) as two:
        spreads = {1: one, 2: two}
        for spread in spreads.values():
            warmed(spread, book_of(home, "few", 8, 3), cache)
        for turn in range(ROUNDS):
            for workers in ((1, 2), (2, 1))[turn % 2]:
                told: list[NightTold] = []
                at = copied(folder, "paired-round")
                _, seconds = round_of(at, cache, spreads[workers], MachineWork(days=0), told.append)
                taken[workers].append(seconds)
                each += [one_told.cpu_seconds for one_told in told]
                bits.add(_bits(told))
            print(f"  {taken[1][-1]:.1f} s and {taken[2][-1]:.1f} s", flush=True)
    gains = [one / (2 * two) for one, two in zip(taken[1], taken[2], strict=True)]
    return {
        "lawns": PAIRED, "one_s": taken[1], "two_s": taken[2], "gains": gains,
        "gain": median(gains), "task_cpu_s": sorted(each)[:: max(1, len(each) // 200)],
        "is_same": len(bits) == 1,
    }  # fmt: skip


def _bits(told: list[NightTold]) -> str:
    return sha256("\n".join(sorted(each.text for each in told)).encode()).hexdigest()


def steps(home: Path) -> dict[str, Any]:
    """Time what a driver does for one lawn: taking it out, packing, writing what was found."""
    folder = copied(book_of(home, "paired", PAIRED, 3), "steps-round")
    book = open_any_book(Settings(folder, machine_work=MachineWork(days=0)), clock)
    outs: list[float] = []
    spent = [time.process_time()]

    def work(content: bytes) -> bytes:
        outs.append(time.process_time() - spent[0])
        answer = night_work(content)
        spent[0] = time.process_time()
        return answer

    class InPlace:
        width = 1

        def each(self, work: Any, tasks: Any) -> Iterator[Any]:
            from swardbook.feeds.spread import Done

            for task in tasks:
                yield Done(task.key, work(task.content))

        def close(self) -> None:
            """Nothing."""

    nightly(book, Means(InPlace(), "scale", now, work))
    book.store.close()
    return {"driver_cpu_s": mean(outs[8:]), "lawns": len(outs)}


def looking_ahead(home: Path) -> dict[str, Any]:
    """Time the look-ahead of one lawn with one zone, beside its look alone."""
    book = open_any_book(
        Settings(book_of(home, "same", SAME, 3), cache_folder=home / "cache"), clock
    )
    lawn = at_ground(book, "1-lime-walk", clock)
    spent = {}
    for draws in (0, 64, 0):
        task = task_of(lawn, draws)
        begun = time.process_time()
        night_of(task)
        spent[draws] = time.process_time() - begun
    zones = len(lawn.ground().zones)
    book.store.close()
    return {"cpu_s": spent[64] - spent[0], "zones": zones}


def scheduler(home: Path) -> dict[str, Any]:
    """Measure what a task costs scheduler and client: tasks of a lawn's size that do nothing."""
    many = TASKS
    content = os.urandom(48_000)
    with spread_of("cluster", 2) as spread:
        list(spread.each(bytes, [Task(f"first {n}", content) for n in range(100)]))
        spent, begun = time.process_time(), time.perf_counter()
        found = [each for each in spread.each(bytes, (Task(str(n), content) for n in range(many)))
                 if each is not None]  # fmt: skip
        cpu, wall = time.process_time() - spent, time.perf_counter() - begun
    if len(found) != many:
        raise SystemExit("tasks were lost")
    return {"cpu_s": cpu / many, "wall_s": wall / many, "tasks": many}


def commits(home: Path) -> dict[str, Any]:
    """Time what is on the disk before the next begins, against bare appends, in turn."""
    folder = copied(book_of(home, "few", 8, 3), "commits-round")
    book = open_any_book(Settings(folder), clock)
    slug, key = next(iter(grounds_by_key(book.store).items()))
    store = store_at(book.store, key)
    ways: dict[str, Callable[[int], Iterator[None]]] = {
        "raw": lambda _: _bare_appends(folder / "raw"),
        "row": lambda _: _bare_rows(store),
        "job": lambda turn: _ends_of_jobs(store, slug, turn),
        "entry": lambda turn: _entries(store, turn),
    }
    rates: dict[str, list[float]] = {name: [] for name in ways}
    for turn in range(8):
        for name, way in ways.items():
            steps = way(turn)
            next(steps)  # what is made ready is not timed
            begun = time.perf_counter()
            many = sum(1 for _ in steps)
            rates[name].append(many / (time.perf_counter() - begun))
    book.store.close()
    shares = {
        name: median(one / raw for one, raw in zip(each[1:], rates["raw"][1:], strict=True))
        for name, each in rates.items()
    }
    return {"per_s": {name: median(each[1:]) for name, each in rates.items()}, "shares": shares}


def _bare_appends(path: Path) -> Iterator[None]:
    content = os.urandom(4096)
    with path.open("ab", buffering=0) as raw:
        yield
        for _ in range(COMMITS):
            raw.write(content)
            os.fdatasync(raw.fileno())
            yield


def _bare_rows(store: Store) -> Iterator[None]:
    """Write rows by SQLite alone, over a connection set as the book sets it."""
    from django.db import connections

    django = connections[store._rows.alias]
    django.ensure_connection()
    bare, text = django.connection, "x" * 400
    bare.execute("CREATE TABLE IF NOT EXISTS bare_rows (id INTEGER PRIMARY KEY, text TEXT)")
    yield
    for _ in range(COMMITS):
        bare.execute("BEGIN IMMEDIATE")
        bare.execute("INSERT INTO bare_rows (text) VALUES (?)", (text,))
        bare.execute("COMMIT")
        yield


def _ends_of_jobs(store: Store, slug: str, turn: int) -> Iterator[None]:
    jobs = jobs_of(store)
    names = [f"commit {turn} {n}" for n in range(COMMITS)]
    jobs.ask([NewJob(name, "night", slug, {}) for name in names], now(), 3)
    held = jobs.take("scale", "v", now(), timedelta(hours=1), COMMITS, ["night"])
    yield
    for each in held:
        found = Found({"stages": {}, "turn": turn}, TODAY, 1, {"look": {}})
        end_night(store, each, found, now())
        yield


def _entries(store: Store, turn: int) -> Iterator[None]:
    zone = store.ground().zones[0].name
    entries = [
        DiaryEntry(uuid4(), When.on(TODAY), Note(f"commit {turn} {n}"), zone=zone)
        for n in range(COMMITS)
    ]
    store.whole_diary()
    yield
    for entry in entries:
        store.add([entry])
        yield


def long_run(home: Path, lawns: int) -> dict[str, Any]:
    """Look over so many lawns with two workers; one that was stopped goes on with the rest."""
    folder, cache = book_of(home, f"long-{lawns}", lawns), home / "cache"
    memory: dict[str, list[int]] = defaultdict(list)
    seconds = list[float]()
    kept = home / f"long-{lawns}.pickle"
    before: list[float] = pickle.loads(kept.read_bytes()) if kept.exists() else [0.0, 0]

    def watch(told: NightTold) -> None:
        memory[told.process].append(told.memory)
        seconds.append(told.cpu_seconds)
        if len(seconds) % 200 == 0:
            print(f"  {len(seconds)} ...", flush=True)

    begun = time.perf_counter()
    try:
        with spread_of("cluster", 2) as spread:
            run, taken = round_of(folder, cache, spread, MachineWork(days=0), watch)
    except BaseException:
        kept.write_bytes(pickle.dumps([before[0] + time.perf_counter() - begun, 0]))
        raise
    return {
        "lawns": run.lawns, "looked": run.looked, "before": run.before, "lost": run.lost,
        "seconds": taken + before[0], "cpu_s": sum(seconds), "task_cpu_s": median(seconds),
        "memory": {str(n): _flat(each) for n, each in enumerate(memory.values())},
    }  # fmt: skip


def _flat(memory: list[int]) -> dict[str, float]:
    """Compare memory after a quarter of a worker's lawns with that at its end [MB]."""
    quarter = max(1, len(memory) // 4)
    return {"after_a_quarter": median(memory[quarter : 2 * quarter] or memory) / 1e6,
            "at_the_end": median(memory[-quarter:]) / 1e6, "lawns": len(memory)}  # fmt: skip


if __name__ == "__main__":
    main()
