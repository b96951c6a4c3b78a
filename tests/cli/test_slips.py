"""Slips in the commands from survey to care: what was read, what is allowed, the likely slip."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.books import put_made_up_ground

SHORT = "-z 'Short court'"
SLIPS: dict[str, tuple[str, ...]] = {
    # what was typed: what the refusal names of it, and of what would do
    "survey rings forty --keep -z 'Short court'": ("forty", "25 mm in 22 min"),
    "survey cores 5 x": ("'x'", "unit if it is not mm"),
    "survey cores 5000 4 3": ("5000", "from 0 to 500", "10 cm is 100 mm"),
    "survey slope --fall 2 --run 0": ("run is 0", "0.1"),
    "survey wear heaps": ("heaps", "Did you mean heavy"),
    "route compare -z Nowhere": ("Nowhere", "Short court"),
    f"mixture choose {SHORT} --height 8000": ("8000", "2 to 150", "8 cm is 80 mm"),
    f"mixture choose {SHORT} --sow-on yesterday": ("7 October 2011", "a day after", "year"),
    f"mixture compare Bobbin Gatpost {SHORT}": ("Gatpost", "Did you mean Gatepost"),
    f"mixture build {SHORT} --take BB-0417=x": ("'x'", "kg"),
    f"sow when {SHORT} --from yesterday": ("7 October 2011", "a day after", "year"),
    f"sow when {SHORT} --what Bobin": ("Bobin", "Did you mean Bobbin"),
    f"sow when {SHORT} --slope steep": ("steep", "1:20"),
    f"sow watch {SHORT} --frames 84,ninety": ("84,ninety", "84,90,51"),
    f"cut plan {SHORT} --height 80000": ("80000", "2 to 150", "8 cm is 80 mm"),
    f"cut plan {SHORT} --line across": ("across", "degrees, such as 20"),
    f"cut plan {SHORT} --sides 3x4": ("3x4", "460.8", "make 12"),
    "cut machine --gears 63": ("63", "63:14"),
    "cut machine --speed '12 knots'": ("12 knots", "4.3 km/h"),
    f"cut blades {SHORT} --did ground --paper 99": ("99", "from 0 to 10", "bottom blade"),
    f"verticut plan {SHORT} --depth 500": ("500", "0 to 40", "no verticut"),
    f"verticut strips {SHORT} --sides 24x19.2 --pairs 900": ("900", "Fewer say nothing"),
    f"verticut strips {SHORT} --sides 24x19.2 --keep --when '30 February'": (
        "30 february",
        "8 October 2011",
    ),
    f"feed plan {SHORT} --nitrogen 800": ("800", "0 to 60", "10 g/m2 is 100 kg/ha"),
    f"water plan {SHORT} --here Ines": ("Ines", "Ines=mon,wed:1.5"),
    f"water plan {SHORT} --here Ines=funday:2": ("funday", "Ines=mon,wed:1.5", "No weekday"),
    f"water plan {SHORT} --here Ines=mon:90": (
        "mon:90",
        "A day has 24 hours",
        "90 minutes are 1.5 h",
    ),
    "tins 12 x 13": ("'x'", "mm"),
    f"clumps check {SHORT} --looked 3 5": ("3 5", "looked at first", "Did you mean 5 3"),
    f"refill {SHORT} --check 3 5": ("3 5", "looked at first", "Did you mean 5 3"),
    "materials seed --area 100 --rate 300": ("300", "up to 100", "300 kg/ha are 30 g/m2"),
    "materials seed --area 100 --rate 30 --bay north": ("north", "north=409.6"),
    "materials dressing --area 100 --depth 3 --material gold": (
        "No material called 'gold'",
        "sand",
    ),
    "materials refill --holes 20 --size 80000": ("80000", "5 to 3000", "150 mm is 15 cm"),
    "materials feed --area 100 --npk 12-0 --nitrogen 2": ("12-0", "12-0-9"),
    "materials need --nitrogen 10 --test Kalium": ("Kalium", "K=45"),
    "square-up --left BB-0417": ("BB-0417", "BB-0417=23.6 kg"),
    "square-up --sown '3 May 1999'": ("3 May 1999", "Tue 13 September 2011"),
    "what-is-wrong -z 'Short court' --seen purple": ("purple", "pink threads"),
    "catch-up -z Nowhere": ("Nowhere", "Short court"),
    "fit mow": ("mow", "Did you mean cut"),
    "look-over -z Shrot": ("Shrot", "Short court"),
}


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The made-up ground, built once."""
    home = tmp_path_factory.mktemp("slips") / "book"
    put_made_up_ground(home)
    return home


@pytest.fixture
def demo(run: Run, book_home: Path, made_up: Path) -> Run:
    """A copy of it for each test."""
    shutil.copytree(made_up, book_home, dirs_exist_ok=True)
    return run


def everything(home: Path) -> bytes:
    """All that the book holds."""
    return (home / "book.sqlite3").read_bytes()


@pytest.mark.parametrize("typed", SLIPS)
def test_a_slip_is_answered_in_full_and_nothing_is_lost_or_half_kept(
    demo: Run, book_home: Path, typed: str
) -> None:
    before = everything(book_home)
    told = demo(*shlex.split(typed), code=None)
    assert told.code == 2, told.text
    text = " ".join(told.text.split())
    for words in SLIPS[typed]:
        assert words in text, text
    assert "Traceback" not in text
    assert everything(book_home) == before


def test_an_answer_that_cannot_be_kept_is_shown_all_the_same(demo: Run) -> None:
    told = demo("route", "compare", "-z", "Short court", "--keep")
    text = " ".join(told.text.split())
    assert "Weeks out of use" in text
    assert "Not kept. Not enough data for which route" in text
    assert demo("route", "compare", "-z", "Short court", "--keep", "--json").json["kept_as"] is None
