"""Twenty phones and five desks at one server for ten minutes: `python -m tools.soak`, `make soak`.

Phones send an entry every few seconds, some of them twice, and look at the pages of the lawn; desks
go through the pages of the ground. Before that one client alone asks the same pages, which is the
idle server. There may be no error; how long the slowest twentieth waits is told as a ratio to idle;
the memory of the server must stay flat over the second half. Figures go into
``docs/explanation/soak.md``.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path
from statistics import median
from uuid import UUID

from swardbook.book.opening import open_book
from swardbook.demo.build import build
from swardbook.settings import Settings
from tools.crash_writing import today

PAGE = Path(__file__).parents[1] / "docs" / "explanation" / "soak.md"
PHONES, DESKS, MINUTES = 20, 5, 10.0
PHONE_EVERY, DESK_EVERY = 6.0, 8.0
"""Seconds between two things that a phone, and a desk, asks; with some chance in it. [s]"""
LAWN = ("/", "/done/cut/", "/lawn/frame/", "/lawn/waiting/", "/plan/find-peg/")
GROUND = ("/week/", "/ground/", "/ground/Main%20court/", "/diary/", "/plan/", "/seed/", "/weather/")
SAMPLES = 120
"""Times that the memory is read."""


@dataclass
class Heard:
    """What clients heard.

    Parameters
    ----------
    seconds : list of tuple
        Page, and how long its answer took. [s]
    errors : list of str
        What went wrong.
    sent : set of str
        Ids of entries that were acknowledged.
    resent : int
        How many were sent a second time.
    """

    seconds: list[tuple[str, float]] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    sent: set[str] = field(default_factory=set)
    resent: int = 0


class Client:
    """One phone or desk: a connection that stays, a cookie, and a chance of its own."""

    def __init__(self, port: int, seed: int, heard: Heard) -> None:
        self.port, self.heard = port, heard
        self.chance = random.Random(seed)
        self.line = HTTPConnection("127.0.0.1", port, timeout=120)
        self.token = ""

    def ask(self, method: str, path: str, body: str = "") -> tuple[int, bytes]:
        """Ask once, and note how long it took."""
        headers = (
            {"Cookie": f"csrftoken={self.token}", "X-CSRFToken": self.token} if self.token else {}
        )
        if body:
            headers["Content-Type"] = "application/json"
        began = time.perf_counter()
        self.line.request(method, path, body or None, headers)
        answer = self.line.getresponse()
        told = answer.read()
        self.heard.seconds.append((f"{method} {path}", time.perf_counter() - began))
        for each in answer.headers.get_all("Set-Cookie") or []:
            if each.startswith("csrftoken="):
                self.token = each.partition("=")[2].partition(";")[0]
        if answer.status not in {200, 201, 202}:
            self.heard.errors.append(f"{method} {path}: {answer.status} {told[:80]!r}")
        return answer.status, told

    def send(self) -> None:
        """Send an entry; one in five again, as after a lost reply."""
        made = str(UUID(int=self.chance.getrandbits(128), version=4))
        told = json.dumps({
            "id": made, "kind": "note", "fields": {"text": f"soak {made[:8]}"},
            "zone": self.chance.choice(("Main court", "Short court")), "when": "today",
        })  # fmt: skip
        status, _ = self.ask("POST", "/api/entries/", told)
        if status in {200, 201}:
            self.heard.sent.add(made)
        if self.chance.random() < 0.2:
            self.heard.resent += 1
            self.ask("POST", "/api/entries/", told)

    def go(self, pages: tuple[str, ...], sends: bool, every: float, until: float) -> None:
        """Go on until the end."""
        try:
            self.ask("GET", pages[0])
            while time.monotonic() < until:
                if sends and self.chance.random() < 0.5:
                    self.send()
                else:
                    self.ask("GET", self.chance.choice(pages))
                time.sleep(every * self.chance.uniform(0.5, 1.5))
        except Exception as slip:
            self.heard.errors.append(f"{type(slip).__name__}: {slip}")
        finally:
            self.line.close()


@contextmanager
def served(home: Path) -> Iterator[tuple[int, int]]:
    """Serve a book, and give its port and its process."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port = asked.getsockname()[1]
    command = [sys.executable, "-m", "swardbook", "serve", "--port", str(port), "--no-browser"]
    environment = {**os.environ, "SWARDBOOK_HOME": str(home), "SWARDBOOK_DATABASE": ""}
    with subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL) as server:
        try:
            for _ in range(600):
                try:
                    socket.create_connection(("127.0.0.1", port), 1).close()
                    break
                except OSError:
                    time.sleep(0.2)
            yield port, server.pid
        finally:
            server.terminate()


def memory_of(process: int) -> float:
    """Read how much memory a process and those it began hold [MB]."""
    held = 0
    for status in Path("/proc").glob("[0-9]*/status"):
        try:
            told = dict(
                line.split(":\t", 1) for line in status.read_text().splitlines() if ":\t" in line
            )
        except OSError:
            continue
        if int(told["Pid"]) == process or int(told["PPid"]) == process:
            held += int(told.get("VmRSS", "0 kB").split()[0])
    return held / 1024


def alone(port: int, rounds: int) -> Heard:
    """Ask every page as the only client."""
    heard = Heard()
    client = Client(port, 1, heard)
    for _ in range(rounds):
        for page in (*LAWN, *GROUND):
            client.ask("GET", page)
        client.send()
    client.line.close()
    return heard


def together(port: int, process: int, minutes: float) -> tuple[Heard, list[float]]:
    """Let all phones and desks ask at once; gives what they heard and the memory over time."""
    heard, until = Heard(), time.monotonic() + 60 * minutes
    ways: list[Callable[[], None]] = []
    for seed in range(PHONES + DESKS):
        client, is_phone = Client(port, 100 + seed, heard), seed < PHONES
        pages, every = (LAWN, PHONE_EVERY) if is_phone else (GROUND, DESK_EVERY)
        ways.append(lambda c=client, p=pages, e=every, s=is_phone: c.go(p, s, e, until))  # type: ignore[misc]
    threads = [threading.Thread(target=way) for way in ways]
    for thread in threads:
        thread.start()
    memory = []
    while time.monotonic() < until:
        memory.append(memory_of(process))
        time.sleep(60 * minutes / SAMPLES)
    for thread in threads:
        thread.join()
    return heard, memory


def kept(home: Path) -> set[str]:
    """Read the ids of all entries from the book."""
    book = open_book(Settings(home), today)
    found = {str(each.id) for each in book.store.whole_diary()}
    book.store.close()
    return found


def slowest_twentieth(heard: Heard) -> float:
    """Give the time within which nineteen of twenty answers came [s]."""
    times = sorted(seconds for _, seconds in heard.seconds)
    return times[min(len(times) - 1, int(0.95 * len(times)))]


def main() -> int:
    """Run it and write the page; ends with 1 if anything went wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=MINUTES)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="soak-") as folder:
        home = Path(folder) / "home"
        build(Settings(home), today, tell=lambda line: None)
        with served(home) as (port, process):
            alone(port, 3)  # until all is warm
            idle = alone(port, 10)
            heard, memory = together(port, process, asked.minutes)
        lost = heard.sent - kept(home)
    half = memory[len(memory) // 2 :]
    third = max(1, len(half) // 3)
    growth = median(half[-third:]) / median(half[:third])
    ratio = slowest_twentieth(heard) / slowest_twentieth(idle)
    told = page(asked.minutes, idle, heard, memory, growth, ratio, len(lost))
    sys.stdout.write(told)
    for error in heard.errors[:10]:
        sys.stdout.write(f"{error}\n")
    is_well = not heard.errors and not lost and growth < 1.1
    if is_well and asked.minutes >= MINUTES:
        PAGE.write_text(told, encoding="utf-8")
    return 0 if is_well else 1


def page(
    minutes: float, idle: Heard, heard: Heard, memory: list[float], growth: float, ratio: float,
    lost: int,
) -> str:  # fmt: skip
    """Write the page."""
    middle = median(s for _, s in heard.seconds) / median(s for _, s in idle.seconds)
    return f"""# Soak: {PHONES} phones and {DESKS} desks at one server

Written by `make soak` from one run of {minutes:g} minutes on the made-up ground, server and clients
on one machine. Each phone asks or sends something about every {PHONE_EVERY:g} s, half of the
time an entry, one in five of them twice; each desk opens a page about every {DESK_EVERY:g} s.

| what | found |
|---|---|
| questions answered | {len(heard.seconds):,} |
| errors | {len(heard.errors)} |
| entries acknowledged, sent again | {len(heard.sent):,}, {heard.resent:,} |
| acknowledged entries not in the book afterwards | {lost} |
| nineteen of twenty answers within, against one client alone | {ratio:.1f} times |
| median answer, against one client alone | {middle:.1f} times |
| memory of the server at the end of the run against its middle | {growth:.2f} times |
| memory at the end | {memory[-1]:.0f} MB |

Ratios are of one run; times of another machine will differ, ratios less so.
"""


if __name__ == "__main__":
    sys.exit(main())
