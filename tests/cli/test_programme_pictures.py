"""Pictures of programmes at the command line."""

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.conftest import Run
from tests.support.model import kernel


@pytest.fixture
def made_up(run: Run) -> Run:
    """The made-up book, with the model compiled for the tests."""
    kernel()
    run("demo")
    return run


def title(path: Path) -> str:
    root = ET.fromstring(path.read_text(encoding="utf-8"))
    assert root.attrib["role"] == "img"
    return root[0].text or ""


def test_a_year_a_list_and_an_edit_are_drawn(made_up: Run, tmp_path: Path) -> None:
    path = tmp_path / "p.svg"
    to = ("--picture", str(path))
    told = made_up("programme", "show", "whole", *to).text
    assert told.rstrip().endswith(f"Picture: {path}")
    assert title(path).startswith("Whole programme in Main court takes")
    assert "Made-up ground." in path.read_text()
    first = path.read_bytes()
    made_up("programme", "show", "whole", *to)
    assert path.read_bytes() == first
    made_up("programme", "show", "whole", "--zone", "surround", *to)
    assert title(path).startswith("Whole programme in Surround takes")
    made_up("programme", "list", *to)
    assert title(path).startswith("In Main court, Cut only takes least work")
    made_up("programme", "edit", "whole", "--set", "verticut_days=21", *to)
    assert title(path).startswith("Whole programme (version 2) takes")
    assert "fewer than Whole programme (version 1)." in title(path)


def test_without_weather_the_programme_is_shown_and_the_lack_said(
    ground: Run, tmp_path: Path
) -> None:
    path = tmp_path / "p.svg"
    told = ground("programme", "show", "whole", "--picture", str(path)).text
    assert "verticut_days" in told
    assert "No picture. Not enough data" in told
    assert ground("programme", "list", "--picture", str(path), "--json").json["picture"] is None
    assert not path.exists()


def test_an_edit_is_not_kept_where_its_picture_cannot_go(ground: Run, tmp_path: Path) -> None:
    asked = ("programme", "edit", "whole", "--set", "verticut_days=21")
    for place in (tmp_path / "p.png", tmp_path / "nowhere" / "p.svg"):
        ground(*asked, "--picture", str(place), code=2)
    assert len(ground("programme", "list", "--versions", "--json").json["programmes"]) == 4


def test_the_list_is_one_object_under_programmes(ground: Run) -> None:
    told = ground("programme", "list", "--json").json
    assert set(told) == {"today", "made_up", "programmes"}


@pytest.mark.long
def test_a_search_is_drawn_and_its_answer_stays(made_up: Run, tmp_path: Path) -> None:
    path = tmp_path / "s.svg"
    ask = ("programme", "search", "--zone", "Surround", "--hours", "4", "--draws", "64")
    told = made_up(*ask, "--picture", str(path), "--json").json
    assert title(path) == told["picture"]["sentence"]
    assert title(path).startswith("Surround: ")
    assert "35 % of the ground" in title(path)
    first = path.read_bytes()
    text = made_up(*ask, "--picture", str(path)).result.stdout
    assert text.startswith(made_up(*ask).result.stdout.rstrip("\n"))
    assert path.read_bytes() == first
