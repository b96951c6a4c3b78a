"""`swardbook weather`."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.book.opening import new_book
from swardbook.cli.main import root
from swardbook.husbandry.ground import Site
from swardbook.settings import Settings
from swardbook.weather.thermal import degree_days, growth_potential
from tests.support.arrays import days

ROWS = ["date,tmin,tmax,rain", "2024-06-20,9,21,0", "2024-06-21,10,22.5,4.5", "2024-06-22,11,19,0"]
KEYS = ["date", "et0_mm", "extraterrestrial_radiation_mj_m2", "daylength_h", "degree_days",
        "growth_potential", "soil_temperature_5cm_c"]  # fmt: skip


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    path = tmp_path / "garden.csv"
    path.write_text("\n".join(ROWS), encoding="utf-8")
    return path


def run(*arguments: object) -> Result:
    return CliRunner().invoke(root, ["weather", *map(str, arguments)])


def answer(*arguments: object) -> dict[str, Any]:
    result = run(*arguments, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.output)
    return found


def test_derive_gives_one_object_with_a_row_a_day_and_needs_no_book(file: Path) -> None:
    found = answer("derive", file, "--latitude", 51.5, "--elevation", 15)

    assert [list(row) for row in found["days"]] == [KEYS] * 3
    assert (found["method"], found["base_c"], found["upper_c"]) == ("single-sine", 5, 30)
    middle = found["days"][1]
    assert middle["date"] == "2024-06-21"
    assert middle["extraterrestrial_radiation_mj_m2"] == pytest.approx(41.71, abs=0.02)
    assert middle["daylength_h"] == pytest.approx(16.40, abs=0.01)
    assert middle["growth_potential"] == pytest.approx(growth_potential(days(16.25))[0], abs=1e-6)
    assert 3 < middle["et0_mm"] < 5
    assert 10 <= middle["soil_temperature_5cm_c"] <= 22.5


@pytest.mark.parametrize(
    "method", ["average", "modified-average", "single-sine", "single-triangle"]
)
def test_derive_takes_each_method_with_its_limits(file: Path, method: str) -> None:
    found = answer("derive", file, "--latitude", 51.5, "--elevation", 15, "--method", method,
                   "--base", 12, "--upper", 20)  # fmt: skip

    wanted = degree_days(days(9, 10, 11), days(21, 22.5, 19), base=12, upper=20, method=method)
    assert [row["degree_days"] for row in found["days"]] == pytest.approx(wanted.tolist(), abs=1e-6)
    assert found["method"] == method


def test_derive_works_in_the_south(file: Path) -> None:
    found = answer("derive", file, "--latitude", -37.8, "--elevation", 30)

    assert found["days"][0]["daylength_h"] < 10


def test_derive_gives_the_same_bytes_twice(file: Path) -> None:
    one, two = (run("derive", file, "--latitude", 52, "--elevation", 9, "--json") for _ in "ab")

    assert one.output == two.output


def test_derive_can_give_every_series(file: Path) -> None:
    found = answer("derive", file, "--latitude", 52, "--elevation", 9, "--all")

    assert found["days"][0]["leaf_wet_hours"] is None
    assert found["days"][0]["light_mol_m2"] > 20


def test_derive_tells_a_person_a_table_by_month_and_how_it_was_reached(file: Path) -> None:
    result = run("derive", file, "--latitude", 52, "--elevation", 9)

    assert "Jun 2024" in result.output
    assert "without a unit: read as °C" in result.output
    assert "right to about 2 °C" in result.output


def test_derive_up_to_a_day_leaves_the_rest_unread(file: Path) -> None:
    found = answer("derive", file, "--latitude", 52, "--elevation", 9, "--on", "2024-06-21")

    assert [row["date"] for row in found["days"]] == ["2024-06-20", "2024-06-21"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--latitude", 99, "--elevation", 9), "South is negative"),
        (("--latitude", 52, "--elevation", 9, "--base", 30, "--upper", 10), "upper limit"),
        (("--latitude", 52, "--elevation", 9, "--column", "tmin"), "WHAT=HEADING"),
        (("--latitude", 52, "--elevation", 9, "--method", "double-sine"), "single-sine"),
        (("--elevation", 9), "--latitude"),
    ],
)
def test_derive_refuses_wrong_use_with_exit_code_2(
    file: Path, arguments: tuple[object, ...], words: str
) -> None:
    result = run("derive", file, *arguments)

    assert result.exit_code == 2
    assert words in result.output


def test_derive_names_missing_columns(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_text("date,high\n2024-06-01,20\n", encoding="utf-8")

    result = run("derive", path, "--latitude", 52, "--elevation", 9)

    assert result.exit_code == 2
    assert "Not found: tmin, rain." in result.output


def test_fahrenheit_and_inches_are_said_by_options(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_text("date,tmin,tmax,rain\n2024-06-01,50,68,0.5\n", encoding="utf-8")

    found = answer("derive", path, "--latitude", 52, "--elevation", 9, "--fahrenheit", "--inches")

    assert found["months"][0]["tmax_mean_c"] == 20
    assert found["months"][0]["rain_mm"] == 12.7


def test_import_and_show_go_through_the_book(file: Path, tmp_path: Path) -> None:
    book = new_book(Settings(home=tmp_path / "home"), lambda: date(2024, 6, 22))
    book.store.save_site(Site("Fennowick", 52.2, 62.0))
    book.store.close()

    done = answer("import", file, "--name", "gate")
    shown = answer("show")

    assert (done["days_read"], done["days_now"], done["name"]) == (3, 3, "gate")
    assert (shown["first"], shown["last"]) == ("2024-06-20", "2024-06-22")
    assert shown["months"][0]["rain_mm"] == 4.5
    assert "gate: Thu 20 June 2024 to Sat 22 June 2024" in run("show").output


def test_import_without_a_book_says_how_to_begin(file: Path) -> None:
    result = run("import", file)

    assert result.exit_code == 2
    assert "swardbook begin" in result.output
