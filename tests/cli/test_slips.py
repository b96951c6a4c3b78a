"""Whatever is typed for a number, a name or a range: one clear sentence, and the book as it was."""

from __future__ import annotations

import shlex
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.cli.conftest import Run, fill, made_once
from tests.cli.test_never import BOBBIN, sky

SLIPS = (
    "  ", "abc", "-5", "1e9", "nan", "-inf", "½", "12 parsecs", "20..10", "1/0", '"', "—",
    "9" * 400, "1e400", "7;drop", "=1+1", "🌱", "5 °C", "5 oz/yd2", "5 gal",
)  # fmt: skip
SIZES = (*SLIPS, "0")
"""Slips of what cannot be nothing either."""
NUMBERS = {
    "survey area --sides {}": SIZES, "survey area --sides {}x25": SIZES,
    "survey area --corners {}": SLIPS, "survey cores 12 13 14 15 {}": SLIPS,
    "survey jar 50 30 {}": SLIPS, "survey rings {}": SLIPS, "survey rings '25 mm in {} min'": SIZES,
    "survey shade --hours {}": SLIPS, "survey shade --seen {}": SLIPS,
    "survey slope --fall 0.3 --run {}": SIZES, "survey tap --seconds {}": SIZES,
    "survey soil-test K={} --nitrogen 9": SLIPS, "survey wear {}": SIZES,
    "mixture --part 'browntop bent={}'": SIZES, "mixture --part {}=100": SIZES,
    "mixture build --from {} --zone 'Main court'": SIZES,
    "mixture build --take BB-1={} --zone 'Main court'": SIZES,
    "materials seed --area 20 --rate {}": SIZES, "materials seed --area {} --rate 30": SIZES,
    "materials dressing --area 20 --depth {}": SIZES,
    "materials spoil --area 20 --tine {} --spacing 50 --depth 90": SIZES,
    "materials refill --holes {} --size 100": SIZES, "materials refill --holes 5 --size {}": SIZES,
    "materials feed --area 20 --npk {} --nitrogen 3": SIZES,
    "materials feed --area 20 --npk 12-0-9 --nitrogen {}": SIZES,
    "materials need --test K={} --nitrogen 10": SLIPS,
    "materials spreader {} --width 1 --run 10 --rate 20": SIZES,
    "materials sprayer 0.8 --run {} --seconds 20 --width 1": SIZES,
    "sow when --zone 'Main court' --dates {}": SIZES,
    "sow watch --zone 'Main court' --frames {}": SLIPS[1:],
    "square-up --zone 'Main court' --left BB-1={}": SLIPS,
    "square-up --zone 'Main court' --left {}": SIZES,
    "cut plan --zone 'Main court' --grass {}": SIZES, "cut plan --zone 'Main court' --to {}": SIZES,
    "cut machine --blades 10 --turns 720 --speed {} --height 8": SIZES,
    "cut blades --zone 'Main court' --paper {}": SLIPS,
    "verticut plan --zone 'Main court' --passes {}": SIZES,
    "verticut strips --sides 32x25 --pairs {}": SIZES,
    "feed plan --zone 'Main court' --nitrogen {}": SLIPS,
    "water plan --zone 'Main court' --here Ines=mon:{}": SLIPS,
    "water plan --zone 'Main court' --days {}": SIZES, "tins 6 7 8 9 6 7 8 {} --minutes 15": SLIPS,
    "tins 6 7 8 9 6 7 8 9 --minutes {}": SIZES,
    "name-plant --seen ligule_mm={}": SIZES, "name-plant --seen tip={}": SLIPS,
    "name-plant --show {}": SIZES, "what-is-wrong --zone 'Main court' --seen {}": SIZES,
    "what-is-wrong --zone 'Main court' --grubs chafers --found {}": SLIPS,
    "clumps dig --clumps {}": SIZES, "clumps check --looked 10 {}": SLIPS,
    "refill --holes {}": SIZES, "refill --check 10 {}": SLIPS,
    "catch-up --zone 'Main court' --height {}": SIZES, "sow --rate {}": SLIPS,
    "cut --height {}": SLIPS, "verticut --passes {}": SIZES, "feed --rate {}": SLIPS,
    "water --litres {}": SLIPS, "pull --plants {}": SLIPS, "cut --hours {}": SLIPS,
}  # fmt: skip
"""Commands with one thing left open, and the slips it must not swallow."""
PARKED = {"pull --plants {}", "clumps dig --clumps {}", "refill --holes {}"}
"""Entries of so many that they are kept, and asked about."""
OUNCES = {"sow --rate {}", "feed --rate {}"}
"""A rate may come in ounces."""


@pytest.fixture
def court(run: Run, book_home: Path) -> Run:
    return made_once(run, book_home, "court", lay)


def lay(ground: Run) -> None:
    fill(ground)
    ground("lot", "add", "--code", "BB-1", "--name", "Bobbin", "--weight", "40", *BOBBIN)
    ground("sow", "--lot", "BB-1", "--rate", "30", "--when", "4 September", "--zone", "Main court")
    ground("cut", "--height", "8", "--when", "yesterday", "--zone", "Main court")
    with TemporaryDirectory() as folder:
        sky(ground, Path(folder))


def state(run: Run) -> object:
    kept = run("diary", "show", "--all", "--json").json["entries"]
    return kept, run("zone", "show", "--json").json, run("lot", "show", "--json").json


@pytest.mark.parametrize("command", NUMBERS)
def test_a_slip_is_one_clear_sentence_and_leaves_the_book_as_it_was(
    court: Run, command: str
) -> None:
    before = state(court)
    swallowed = []
    for slip in NUMBERS[command]:
        arguments = [part.replace("{}", slip) for part in shlex.split(command)]
        told = court(*arguments, code=None)
        assert told.code in {0, 1, 2}, told.text
        assert "Traceback" not in told.text
        assert told.text.strip()
        assert max(map(len, told.text.split())) < 120
        is_meant = slip == "5 oz/yd2" and command in OUNCES
        is_parked = command in PARKED and "Typed right?" in told.text
        is_no_data = "Not enough data" in told.text
        if told.code == 0 and not (is_meant or is_parked or is_no_data):
            swallowed.append(slip)
    assert swallowed == []
    if command not in PARKED | OUNCES:
        assert state(court) == before
