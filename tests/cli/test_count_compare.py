"""Counting and comparing at the command line."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root
from swardbook.husbandry.ground import HonestSquare, Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import ClumpCheck, Cut, Pull, RefillCheck, Sow, Verticut
from swardbook.records.opening import create_store, open_store
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.settings import Settings
from tests.support.counted import around, counted, entry, plants, points

TODAY = date(2011, 10, 8)
LEFT = [9, 3, 15, 1, 22, 8, 14, 6]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path))
    store = create_store(Settings(home=tmp_path))
    store.save_site(Site("Fennowick", 52.0, 62.0, made_up_today=TODAY))
    store.save_zone(Zone("Court", 460.8, Use.COURT_OR_GREEN, Tolerance(0.2, 0.05, 2), 8.0))
    for n in range(1, 25):
        store.save_peg(Peg(f"M{n:02d}", "Court"))
    for n in range(1, 9):
        store.save_square(HonestSquare(f"H{n:02d}", "Court"))
    store.add(
        [
            counted("2010-08-07", points(around(35, 24, 16), looked=100)),
            counted("2011-05-07", points(around(26, 24, 12), looked=100)),
            counted("2011-08-06", points(around(21, 24, 14, shift=3), looked=100)),
            counted(
                "2011-09-10",
                (*points([15, 18, 21, 21, 19], letter="V", looked=100),
                 *points([27, 19, 30, 22, 26], letter="U", looked=100)),
            ),
            counted("2011-10-08", (*plants([0] * 24, letter="M"), *plants(LEFT, letter="H"))),
            entry("2011-03-19", Pull(plants=220, pass_name="A"), hours=4.0),
            entry("2011-03-22", Pull(plants=66, pass_name="B"), hours=2.5),
            entry("2011-09-03", Verticut()),
            entry("2011-09-03", Cut(boxed=False)),
            entry("2010-11-06", RefillCheck(58, 52, date(2010, 9, 18))),
            entry("2011-06-04", RefillCheck(60, 31, date(2011, 4, 23))),
            entry("2011-10-08", ClumpCheck(looked=40, regrown=2, margin_mm=100.0)),
            entry("2011-10-07", ClumpCheck(looked=18, regrown=7, margin_mm=0.0)),
        ]
    )  # fmt: skip
    store.close()
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(root, list(words))


def asked(*words: str) -> dict[str, Any]:
    result = run(*words, "--json")
    assert result.exit_code == 0, result.output
    read = json.loads(result.stdout)
    assert isinstance(read, dict)
    return read


def test_a_count_is_kept_and_shown(home: Path) -> None:
    kept = run("count", "add", "-z", "Court", "--place", "M01", "--found", "poa annua=5", "--found",
               "bare=2", "--counter", "Ines")  # fmt: skip
    assert kept.exit_code == 0, kept.output
    assert "Kept " in kept.stdout
    shown = run("count", "show", "-z", "court", "--species", "bare")
    assert "at least 2 places" in shown.stdout


def test_a_sheet_is_read_row_by_row(home: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "s.csv"
    sheet.write_text("place,bare\nM01,3\nM02,n/a\nM03,0\n", encoding="utf-8")
    told = run("count", "add", "-z", "Court", "--file", str(sheet))
    assert told.exit_code == 0, told.output
    assert "line 3: bare: n/a, not counted" in told.stdout
    assert "line 4: bare: 0, looked and none" in told.stdout
    assert "count of 2 places" in told.stdout


def test_ten_alike_are_kept_and_parked_for_a_look(home: Path, tmp_path: Path) -> None:
    """F16."""
    sheet = tmp_path / "s.csv"
    rows = "".join(f"M{n:02d},7\n" for n in range(1, 11))
    sheet.write_text(f"place,annual meadow-grass\n{rows}", encoding="utf-8")
    told = run("count", "add", "-z", "Court", "--file", str(sheet))
    assert told.exit_code == 0, told.output
    assert "Needs a look: 10 places exactly alike" in told.stdout


def test_a_grass_that_was_not_sown_is_kept_and_asked_about(home: Path) -> None:
    """F19."""
    store = open_store(Settings(home=home))
    store.save_lot(SeedLot("BB-0417", "Bobbin", (LotPart("browntop bent", 1.0),)))
    store.add([entry("2010-09-04", Sow("BB-0417", 30.0))])
    store.close()
    told = run("count", "add", "-z", "court", "--place", "M01", "--found", "rye grass=3")
    assert told.exit_code == 0, told.output
    assert "Perennial ryegrass was not sown here. Sure, probably or cannot tell?" in told.stdout
    unsure = run("count", "add", "-z", "court", "--place", "M02", "--found", "cannot tell=3")
    assert "Needs a look" not in unsure.stdout


def test_two_counters_of_one_sheet_are_asked_for_places_in_common(
    home: Path, tmp_path: Path
) -> None:
    """F35."""
    sheet = tmp_path / "s.csv"
    sheet.write_text("place,counter,bare\nM01,Ines,3\nM02,Odalys,1\n", encoding="utf-8")
    told = run("count", "add", "-z", "Court", "--file", str(sheet))
    assert told.exit_code == 0, told.output
    assert "Ines and Odalys counted, no places both." in told.stdout


def test_wrong_use_is_told_plainly(home: Path) -> None:
    slip = run("count", "add", "-z", "Court", "--place", "M01", "--found", "bare=27")
    assert slip.exit_code == 0
    assert "Recount, or drop to 25?" in slip.stdout
    unknown = run("count", "add", "-z", "Court", "--place", "M01", "--found", "anual medow grass=2")
    assert unknown.exit_code == 2
    assert "Did you mean" in unknown.stderr
    nothing = run("count", "add", "-z", "Court", "--place", "M01", "--found", "bare=")
    assert nothing.exit_code == 2
    assert "put 0" in nothing.stderr
    assert run("compare", "--honest").exit_code == 2
    assert run("compare", "-z", "Curt").exit_code == 2


def test_none_found_is_never_called_gone(home: Path) -> None:
    """N11."""
    printed = run("count", "show", "--day", "2011-10-08").stdout
    assert max(map(len, printed.splitlines())) <= 80
    shown = " ".join(printed.split())
    assert "none found in 24 places" in shown
    assert "could still be up to 0.12 a square metre" in shown
    everything = shown + run("compare").stdout + run("compare", "-z", "Court", "--honest").stdout
    for word in ("gone", "eradicated", "weed-free", "guaranteed"):
        assert word not in everything.casefold()


def test_the_year_carries_verdict_range_and_smallest(home: Path) -> None:
    read = asked("compare", "-z", "Court")
    (zone,) = read["zones"]
    august = zone["same_season"][0]
    assert august["verdict"] == "clear"
    assert august["smallest_worth_acting_on_points"] == 5.0
    assert august["n_places"] == 24
    assert zone["honest_squares"]["verdict"] == "clear"
    assert run("compare", "-z", "Court", "--json").stdout == run(
        "compare", "-z", "Court", "--json"
    ).stdout  # fmt: skip


def test_different_seasons_are_refused_with_an_offer(home: Path) -> None:
    """N14."""
    told = run("compare", "-z", "Court", "--from", "2011-05-07", "--to", "2011-08-06")
    assert told.exit_code == 0
    assert "Different seasons: not compared." in told.stdout
    assert "Sat 7 August 2010 and Sat 6 August 2011" in told.stdout
    read = asked("compare", "-z", "Court", "--from", "2011-05-07", "--to", "2011-08-06")
    assert read["verdict"] == "not enough data"
    assert read["refusals"][0]["reason"] == "different season"


def test_strips_lean_and_the_unboxed_cut_stands_beside(home: Path) -> None:
    """T11 and T23."""
    told = run("compare", "-z", "Court", "--treated", "V01,V02,V03,V04,V05",
               "--untreated", "U01,U02,U03,U04,U05")  # fmt: skip
    assert "Leaning: 25 to 19 %, 6 points less (12 less to 0 more)." in told.stdout
    assert "8 places would usually show it" in told.stdout
    assert "Cut unboxed on the day of a verticut: Sat 3 September 2011" in told.stdout
    odd = run("compare", "-z", "Court", "--treated", "V01", "--untreated", "U01,U02")
    assert odd.exit_code == 2


def test_cause_is_never_claimed_for_refills_and_margins(home: Path) -> None:
    """N15, T12, T13."""
    refills = run("compare", "--refills").stdout
    assert "autumn: 52 of 58, 90 %" in refills
    assert "not proof of the cause" in refills
    margins = run("compare", "--margin", "100").stdout
    assert "Clear: 34 points more (12 to 57)" in margins
    assert "cause not shown" in margins


def test_pull_passes_say_what_is_left(home: Path) -> None:
    told = run("compare", "-z", "Court", "--pull").stdout
    assert "28 left (8 to 49); about 314 in all (294 to 335)" in told
    read = asked("compare", "-z", "Court", "--pull")
    (removal,) = read["removals"]
    assert round(removal["left_plants"]) == 28


def test_the_smallest_difference_is_the_owners(home: Path) -> None:
    told = run("compare", "-z", "Court", "--smallest", "20").stdout
    assert "Clear but small" in told
    assert run("compare", "-z", "Court", "--smallest", "0").exit_code == 2
    assert run("compare", "-z", "Court", "--smallest-ratio", "1").exit_code == 2
