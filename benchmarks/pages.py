"""Pages: what the first load weighs, what a page costs over its own parts, and among many lawns.

Run: ``python -m benchmarks pages``. Nothing here is asserted.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from datetime import date
from functools import cache
from pathlib import Path
from statistics import median
from typing import Any

from benchmarks._measuring import CACHE, ROOT, Row

FEW, MANY, YEARS = 3, 300, 3
LAWN = "1-plover-row"
FIRST_LOAD_KB, OVER_BARE, OVER_FEW = 150, 1.5, 1.3
THROTTLE, LOADS = 4, 5
TODAY = date(2011, 10, 8)
READY = """() => { const told = performance.getEntriesByType("navigation")[0];
  return [told.domContentLoadedEventEnd, told.loadEventEnd]; }"""


def run() -> list[Row]:
    """Write the books, each asked in a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        ground, few, many = (Path(folder) / each for each in ("ground", "few", "many"))
        _write(ground, few, many)
        return [
            *_weight(_asked("weight", ground)),
            *_ready(ground),
            *_over_bare(_asked("bare", ground)),
            *_among_many(_asked("lawn", few, LAWN), _asked("lawn", many, LAWN)),
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


def _ready(home: Path) -> list[Row]:
    """Load the morning look in a browser whose processor is slowed down, nothing kept before."""
    what = f"Ready time of the morning look, processor slowed {THROTTLE} times, nothing kept"
    try:
        taken = _loads(home)
    except ImportError:
        taken = []
    if not taken:
        return [Row(what, "there is no Chromium here")]
    drawn, loaded = (median(each) for each in zip(*taken, strict=True))
    return [
        Row(what, f"{loaded:.0f} ms; its scripts ran at {drawn:.0f} ms (median of {LOADS} loads)")
    ]


def _loads(home: Path) -> list[tuple[float, float]]:
    from playwright.sync_api import sync_playwright
    from tests.web.conftest import CHROMIUM, Server

    if CHROMIUM is None:
        return []
    server, taken = Server(home), []
    server.begin()
    try:
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            for _ in range(LOADS):
                context = browser.new_context(
                    viewport={"width": 360, "height": 740}, service_workers="block"
                )
                page = context.new_page()
                context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
                page.goto(server.address, wait_until="load")
                page.wait_for_timeout(50)
                drawn, loaded = page.evaluate(READY)
                taken.append((drawn, loaded))
                context.close()
            browser.close()
    finally:
        server.end()
    return taken


def _over_bare(found: dict[str, dict[str, float]]) -> list[Row]:
    """Compare each page with its own queries and its template, both bare."""
    ratios = sorted(((each["page"] / each["bare"], at) for at, each in found.items()), reverse=True)
    within = sum(ratio <= OVER_BARE for ratio, _ in ratios)
    worst = "; ".join(f"`{at}` {ratio:.1f}" for ratio, at in ratios[:6])
    return [
        Row(
            f"Pages within {OVER_BARE} times their own queries and template rendered bare",
            f"{within} of {len(ratios)}; median {median(r for r, _ in ratios):.2f} times",
            "all", within == len(ratios),
        ),
        Row("The worst of them, in times", worst),
        Row("Queries of a page that was asked before, most",
            f"{max(each['queries'] for each in found.values()):.0f}"),
    ]  # fmt: skip


def _among_many(few: dict[str, Any], many: dict[str, Any]) -> list[Row]:
    rows = []
    for page, told in few.items():
        ratio = many[page]["seconds"] / told["seconds"]
        rows.append(
            Row(
                f"`{page}` of one lawn: p50 among {MANY} lawns against {FEW}",
                f"{ratio:.2f} times ({1000 * told['seconds']:.1f} and"
                f" {1000 * many[page]['seconds']:.1f} ms)",
                f"≤ {OVER_FEW} times", ratio <= OVER_FEW,
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
