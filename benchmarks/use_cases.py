"""Each use case from seed to sward: a command on the made-up ground, over an empty Python.

CPU time. Run: ``python -m benchmarks use_cases``. Nothing here is asserted.
"""

from __future__ import annotations

import shlex
import tempfile
from pathlib import Path
from statistics import median

from benchmarks._measuring import Row, the_kernel
from benchmarks.commands import spent

USE_CASES = {
    "survey: area": "survey area --zone 'Main court' --sides 32x25.6",
    "survey: light": "survey shade --zone 'Lime Walk' --by-month 'apr 2.5; jul 4'",
    "survey: drainage": "survey rings '25 mm in 22 min' 52 44 --zone 'Main court'",
    "survey: what is known and missing": "survey show 'Main court'",
    "mend or start again": "route compare --zone 'Main court'",
    "stale seedbed": "route stale-seedbed --zone 'Trial ground' --on '2 September 2010'",
    "choose a mixture (grown on under past years)": "mixture choose --zone 'Short court'",
    "a mixture by number": "mixture --lot BB-0417 --rate 30 --area 819.2",
    "when to sow (chances by date)": "sow when --zone 'Short court' --what BB-0417 --dates 4",
    "materials: seed by bay": "materials seed --zone 'Main court' --rate 30 --lot BB-0417",
    "materials: dressing": "materials dressing --area 819.2 --depth 3 --material rootzone",
    "materials: feed by its label": "materials feed --area 819.2 --npk 6-5-10 --nitrogen 2.4",
    "materials: refills": "materials refill --holes 286 --size 100 --zone 'Main court'"
    " --lot BB-0417",
    "square up after sowing": "square-up --zone 'Main court' --used 'Main court=9.83 kg'",
    "germination watch": "sow watch --zone 'Main court' --frames 84,90,51,77,120,60",
    "mowing: the next cut": "cut plan --zone 'Main court'",
    "mowing: clip and bench height": "cut machine --blades 10 --turns 720 --speed '1.2 m/s'"
    " --height '8 mm'",
    "verticutting: plan": "verticut plan --zone 'Main court'",
    "feeding: the year's plan": "feed plan --zone 'Main court'",
    "feeding: ledger": "feed ledger --zone 'Main court'",
    "watering: the days ahead": "water plan --zone 'Main court'",
    "watering: tins": "tins 6 8.5 7 9 5 7.5 8 6.5 9.5 4.5 7 8.5 --minutes 20",
    "name the plant": "name-plant",
    "disease and pests": "what-is-wrong --zone 'Main court'",
    "clumps: register": "clumps register",
    "refills: register": "refill register",
    "catching up": "catch-up",
    "look over the book": "look-over",
    "history in": "history-in notebook.txt",
}
"""What is asked, and the command; each reads the book and keeps nothing."""
NOTEBOOK = """2009
4 Sept  Main court  sown Bobbin 30 g/m2, dry
11 Sept  Main court  cut 12.5 mm boxed
"""
GOES = 3
SLOW = 1.0
"""CPU time from which one go has to do [s]."""


def run() -> list[Row]:
    """Measure."""
    the_kernel()
    book = ["-m", "swardbook"]
    with tempfile.TemporaryDirectory() as home:
        spent([*book, "demo"], home)
        notebook = Path(home) / "notebook.txt"
        notebook.write_text(NOTEBOOK, encoding="utf-8")
        empty = median(spent(["-c", "pass"], home) for _ in range(2 * GOES + 1))
        rows = []
        for name, words in USE_CASES.items():
            command = [*book, *shlex.split(words.replace("notebook.txt", str(notebook)))]
            taken = [spent(command, home)]
            while len(taken) < GOES and taken[0] < SLOW:
                taken.append(spent(command, home))
            used = median(taken)
            once = ", one go" if len(taken) == 1 else ""
            rows.append(
                Row(
                    f"{name}: `swardbook {words}`",
                    f"{used / empty:.0f} times an empty Python ({used * 1e3:,.0f} ms{once})",
                )
            )
    return rows
