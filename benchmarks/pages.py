"""Pages: what the first load weighs, what a page costs over its own parts, and among many lawns.

Run: ``python -m benchmarks pages``. Nothing here is asserted.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from datetime import date
from functools import cache, partial
from pathlib import Path
from statistics import median
from typing import Any
from urllib.request import urlopen

from benchmarks._measuring import CACHE, ROOT, Row, wall

FEW, MANY, YEARS = 3, 300, 3
LAWN = "1-plover-row"
FIRST_LOAD_KB, OVER_BARE, OVER_FEW = 150, 1.5, 1.3
THROTTLE, LOADS = 4, 5
TODAY = date(2011, 10, 8)
READY = """() => { const told = performance.getEntriesByType("navigation")[0];
  return [told.domContentLoadedEventEnd, told.loadEventEnd]; }"""
CUT = """() => new Promise(done => {
  const said = document.getElementById("said"), taken = [], began = performance.now();
  new MutationObserver(() => {
    if (!said.hidden && !taken.length) taken.push(performance.now() - began);
    if (said.textContent.includes(said.dataset.sent)) done([...taken, performance.now() - began]);
  }).observe(said, {attributes: true, childList: true, characterData: true, subtree: true});
  document.querySelector("form[data-kind=cut] button").click(); })"""
LATER = 15
"""How long a new server is left alone before its first look is asked for. [s]"""


def run() -> list[Row]:
    """Write the books, each asked in a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        ground, few, many = (Path(folder) / each for each in ("ground", "few", "many"))
        _write(ground, few, many)
        return [
            *_weight(_asked("weight", ground)),
            *_cold(ground),
            *_over_bare(_asked("bare", ground)),
            *_in_a_browser(ground),  # last, since it writes into the book
            *_among_many(*_asked("lawn", few, LAWN, str(few), str(many))),
        ]


def _write(ground: Path, few: Path, many: Path) -> None:
    from swardbook.demo.build import build
    from swardbook.demo.many_lawns import Firm, write_firm
    from swardbook.settings import Settings

    build(Settings(ground), lambda: TODAY, tell=lambda _: None).book.store.close()
    write_firm(Settings(few), Firm(lawns=FEW, years=YEARS))
    write_firm(Settings(many), Firm(lawns=MANY, years=YEARS))


def _asked(sort: str, home: Path, *more: str) -> Any:
    done = subprocess.run(
        [sys.executable, "-m", "benchmarks._pages_asked", sort, str(home), *more],
        check=True, capture_output=True, text=True, cwd=ROOT, env=_environment(home),
    )  # fmt: skip
    return json.loads(done.stdout.splitlines()[-1])


@cache
def _environment(home: Path) -> dict[str, str]:
    return {**os.environ, "SWARDBOOK_HOME": str(home), "SWARDBOOK_CACHE": str(CACHE)}


def _weight(found: dict[str, float]) -> list[Row]:
    total = (found["page"] + found["rest"]) / 1000
    fonts = found["fonts"] / 1000
    return [
        Row(
            f"First load of the morning look: page and {found['files']:.0f} files, packed",
            f"{total:.0f} kB", f"≤ {FIRST_LOAD_KB} kB", total <= FIRST_LOAD_KB,
        ),
        Row(
            "First load of a page with charts: their letters too", f"{total + fonts:.0f} kB",
            f"≤ {FIRST_LOAD_KB} kB", total + fonts <= FIRST_LOAD_KB,
        ),
    ]  # fmt: skip


def _cold(home: Path) -> list[Row]:
    """Ask a new server for its first look: at once, and after it had time to make ready."""
    taken = {wait: _first_look(home, wait) for wait in (0, LATER)}
    (at_once, again), (later, _) = taken.values()
    return [
        Row(
            "First morning look of a new server, on the clock: asked the moment its port is open,"
            f" and {LATER} s later, when it had made ready what is asked first",
            f"{at_once:.1f} s and {1000 * later:.0f} ms; asked again {1000 * again:.0f} ms",
        )
    ]


def _first_look(home: Path, wait: float) -> tuple[float, float]:
    from tests.web.conftest import Server

    server = Server(home)
    address, server.address = server.address, f"{server.address}/static/swardbook/look.js"
    server.begin()  # a file comes as soon as the port is open
    try:
        time.sleep(wait)
        return wall(partial(_fetched, address)), wall(partial(_fetched, address))
    finally:
        server.end()


def _fetched(address: str) -> None:
    urlopen(address, timeout=120).close()


def _in_a_browser(home: Path) -> list[Row]:
    """Load the morning look and log a cut in a browser whose processor is slowed down."""
    slowed = f"processor slowed {THROTTLE} times"
    what = f"Ready time of the morning look, {slowed}, nothing kept"
    try:
        loads, cuts = _taken_in_a_browser(home)
    except ImportError:
        loads, cuts = [], []
    if not loads:
        return [Row(what, "there is no Chromium here")]
    drawn, loaded = (median(each) for each in zip(*loads, strict=True))
    kept, sent = (median(each) for each in zip(*cuts, strict=True))
    return [
        Row(what, f"{loaded:.0f} ms; its scripts ran at {drawn:.0f} ms (median of {LOADS} loads)"),
        Row(
            f"Logging a cut by one tap, {slowed}",
            f"kept on the phone after {kept:.0f} ms, in the book after {sent:.0f} ms"
            f" (median of {LOADS})",
        ),
    ]


def _taken_in_a_browser(home: Path) -> tuple[list[list[float]], list[list[float]]]:
    from playwright.sync_api import sync_playwright
    from tests.web.conftest import CHROMIUM, Server

    loads: list[list[float]] = []
    cuts: list[list[float]] = []
    if CHROMIUM is None:
        return loads, cuts
    server = Server(home)
    server.begin()
    try:
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            for _ in range(LOADS):
                context = browser.new_context(
                    viewport={"width": 360, "height": 740}, service_workers="block"
                )
                page = context.new_page()
                told = context.new_cdp_session(page)
                told.send("Emulation.setCPUThrottlingRate", {"rate": THROTTLE})
                page.goto(server.address, wait_until="load")
                page.wait_for_timeout(50)
                loads.append(page.evaluate(READY))
                page.goto(f"{server.address}/done/cut/", wait_until="networkidle")
                cuts.append(page.evaluate(CUT))
                context.close()
            browser.close()
    finally:
        server.end()
    return loads, cuts


def _over_bare(found: dict[str, dict[str, float]]) -> list[Row]:
    """Compare each page with its own queries and its template, both bare."""
    ratios = sorted(((each["page"] / each["bare"], at) for at, each in found.items()), reverse=True)
    within = sum(ratio <= OVER_BARE for ratio, _ in ratios)
    worst = "; ".join(f"`{at}` {ratio:.2f}" for ratio, at in ratios[:6])
    without = [
        (each["page"] - each["connection"]) / (each["bare"] - each["connection"])
        for each in found.values()
    ]
    return [
        Row(
            f"Pages within {OVER_BARE} times their own questions and template by themselves: asked"
            " by a browser that was here before, what is held is held; the questions put in the"
            " database's own words to a connection opened for them and closed, as for the page;"
            " the template drawn with what the page gave it",
            f"{within} of {len(ratios)}; median {median(r for r, _ in ratios):.2f} times",
            "all", within == len(ratios),
        ),
        Row("The worst of them, in times", worst),
        Row("The same with the opening and closing of the connection left out on both sides",
            f"median {median(without):.2f} times, most {max(without):.2f}"),
        Row("Questions of a page that was asked before, most",
            f"{max(each['queries'] for each in found.values()):.0f}"),
    ]  # fmt: skip


def _among_many(few: dict[str, Any], many: dict[str, Any]) -> list[Row]:
    rows = []
    for page in few:
        one, other = few[page]["seconds"], many[page]["seconds"]
        rows.append(
            Row(
                f"`{page}` of one lawn: p50 among {MANY} lawns against {FEW}",
                f"{other / one:.2f} times ({1000 * one:.1f} and {1000 * other:.1f} ms)",
                f"≤ {OVER_FEW} times", other <= OVER_FEW * one,
            )
        )  # fmt: skip
    counts = {page: (told["queries"], many[page]["queries"]) for page, told in few.items()}
    told = ", ".join(f"`{page}` {one}" for page, (one, _) in counts.items())
    off = [f"{page} {one} and {other}" for page, (one, other) in counts.items() if one != other]
    rows.append(
        Row(f"Questions to the database of these pages with {FEW} and {MANY} lawns",
            "; ".join(off) or f"the same: {told}", "the same", not off)
    )  # fmt: skip
    return rows
