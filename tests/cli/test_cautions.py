"""Where work can hurt somebody the usual cautions stand, in both forms, with source and grade."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from swardbook.handbook.cautions import Caution, cautions
from swardbook.handbook.sources import sources
from tests.cli.conftest import Run
from tests.support.books import put_made_up_ground

SHORT = ("-z", "Short court")
GRADES = {"defined", "measured", "published", "common practice", "judged"}
COMMANDS: dict[str, tuple[str, ...]] = {
    # a command whose job can hurt, and cautions of the table that must stand there
    "survey rings 40 38": ("services", "hand_tools"),
    "survey cores 5 4 6": ("services", "hand_tools"),
    "route compare -z 'Short court'": (
        "thrown", "vibration", "noise", "dust", "services", "treatments",
    ),
    "materials seed --area 100 --rate 30": ("dust", "treated_seed"),
    "materials dressing --area 100 --depth 3": ("dust", "lift"),
    "materials spoil --area 100 --blade 2 --spacing 25 --depth 3": ("blades", "thrown", "dust"),
    "materials spoil --area 100 --tine 10 --spacing 50 --depth 80": ("services",),
    "materials refill --holes 20 --size 80": ("hand_tools", "treated_seed"),
    "materials feed --area 100 --npk 12-0-9 --nitrogen 2": ("fertiliser", "water_margin"),
    "materials sprayer 0.6 --run 20 --seconds 20 --width 1": (
        "treatments", "water_margin",
    ),
    "sow when -z 'Short court' --dates 1 --from '27 August 2011' --on '20 August 2011'": (
        "dust", "treated_seed", "water_fittings", "restriction",
    ),
    "sow watch -z 'Short court' --on '20 September 2010'": ("treatments", "wildlife"),
    "cut plan -z 'Short court'": ("mower", "blades", "vibration", "noise", "electricity"),
    "cut machine -z 'Short court' --blades 10": ("blades", "vibration"),
    "cut blades -z 'Short court'": ("blades",),
    "verticut plan -z 'Short court'": ("blades", "thrown", "vibration", "noise"),
    "verticut strips -z 'Short court' --sides 24x19.2": ("blades", "thrown"),
    "verticut machine --blade 2": ("blades", "thrown"),
    "feed plan -z 'Short court'": ("fertiliser", "granules", "iron", "water_margin"),
    "feed ledger -z 'Short court'": ("fertiliser", "granules", "iron", "water_margin"),
    "water plan -z 'Short court'": ("water_fittings", "restriction"),
    "tins 12 14 13 15 --minutes 15": ("water_fittings",),
    "clumps register": ("hand_tools", "seed_heads"),
    "refill register": ("hand_tools", "treated_seed"),
    "clean-down": ("blades", "seed_heads"),
    "catch-up -z 'Short court'": ("mower", "blades"),
    "what-is-wrong -z 'Short court'": ("treatments", "sampling"),
    "name-plant": ("naming",),
    "fit cut -z 'Short court'": ("mower", "blades"),
    "fit feed": ("fertiliser",),
    "fit water": ("water_fittings",),
    "fit tine": ("services", "lift"),
}  # fmt: skip


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The made-up ground, built once."""
    home = tmp_path_factory.mktemp("cautions") / "book"
    put_made_up_ground(home)
    return home


@pytest.fixture
def demo(run: Run, book_home: Path, made_up: Path) -> Run:
    """A copy of it for each test."""
    shutil.copytree(made_up, book_home, dirs_exist_ok=True)
    return run


@pytest.mark.parametrize("command", COMMANDS)
def test_cautions_stand_in_both_forms_with_source_and_grade(demo: Run, command: str) -> None:
    import shlex

    words = shlex.split(command)
    text = " ".join(demo(*words).text.split())
    told = demo(*words, "--json").json["cautions"]
    said = {each["says"] for each in told}
    assert told
    for each in told:
        assert each["says"].endswith(("decide.", "decides."))
        assert each["source"] in sources()
        assert each["grade"] in GRADES
        assert f"Mind: {each['says']} [{each['grade']}" in text
    for key in COMMANDS[command]:
        assert cautions()[key].text in said, key


def test_a_treatment_that_is_recorded_defers_to_label_register_and_licence(demo: Run) -> None:
    words = ("diary", "add", "treatment", "-s", "product_name=as on the can", *SHORT)
    told = demo(*words, "--json").json["cautions"]
    assert {cautions()[key].text for key in ("treatments", "water_margin")} <= {
        each["says"] for each in told
    }
    assert f"Mind: {told[0]['says']} [common practice]" in " ".join(demo(*words).text.split())


WALKED = {
    "machines": ("mower", "blades", "thrown", "electricity", "lift"),
    "frost": ("frozen",),
    "vibration time": ("vibration",),
    "noise": ("noise",),
    "dust": ("dust",),
    "backflow": ("water_fittings",),
    "buffers": ("water_margin",),
    "slopes": ("slopes",),
    "labels": ("fertiliser", "iron", "treated_seed", "treatments"),
    "licences": ("treatments",),
}


@pytest.mark.parametrize("danger", WALKED)
def test_each_danger_has_its_caution_and_whom_it_defers_to(danger: str) -> None:
    for key in WALKED[danger]:
        found: Caution = cautions()[key]
        assert found.jobs
        assert found.defers_to
    words = " ".join(
        f"{cautions()[key].says} {cautions()[key].defers_to}" for key in WALKED[danger]
    )
    wanted = {"licences": "licensed practice", "buffers": "Leave a strip", "backflow": "backflow",
              "labels": "label", "vibration time": "limit the time", "frost": "thawed"}  # fmt: skip
    assert wanted.get(danger, "") in words


def test_frost_and_a_kept_slope_call_for_their_cautions(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "cold.csv"
    rows = [f"2011-10-{day:02},-2,9,0" for day in range(1, 9)]
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]), encoding="utf-8")
    ground("weather", "import", str(path))
    ground("survey", "slope", "--fall", "1.2 m", "--run", "10 m", *SHORT, "--keep")
    said = " ".join(
        each["says"] for each in ground("cut", "plan", *SHORT, "--json").json["cautions"]
    )
    assert cautions()["frozen"].says in said
    assert cautions()["slopes"].says in said
    flat = ground("cut", "plan", "-z", "Main court", "--json").json["cautions"]
    assert cautions()["slopes"].says not in " ".join(each["says"] for each in flat)
