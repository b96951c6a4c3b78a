"""The whole ground's year at the command line, on the made-up ground."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with standing_on_made_up_ground(tmp_path_factory.mktemp("years")) as home:
        yield home


def run(*words: str, code: int = 0) -> str:
    result = CliRunner().invoke(root, ["better-or-worse", *words], prog_name="swardbook")
    assert result.exit_code == code, result.output
    return result.output


def test_each_zone_is_told_in_one_short_sentence(ground: Path) -> None:
    """E11."""
    told = json.loads(run("--json"))
    assert len(told["zones"]) == 7
    for zone in told["zones"]:
        assert len(zone["sentence"].split()) < 30
        assert zone["word"] in zone["sentence"]
        assert zone["mark"] in {"■", "◧", "□", "?"}
    assert "nothing is promised" in told["note"]


def test_holding_by_itself_and_clear_against_the_honest_squares_are_both_said(
    ground: Path,
) -> None:
    """T8."""
    told = " ".join(run().split())
    first = told.index("Short court is holding")
    second = told.index("With the work 2.2, on the honest squares without it 8.4")
    assert first < second


def test_leading_signs_stand_apart(ground: Path) -> None:
    for zone in json.loads(run("--json"))["zones"]:
        assert "bare" not in zone["sentence"]
    assert "Leading signs, apart from the verdict: bare ground" in " ".join(run().split())


def test_one_zone_lists_every_count_and_breaks_the_line(ground: Path) -> None:
    told = run("--zone", "short court")
    assert told.index("Sat 7 August 2010: 45 %") < told.index("- - -") < told.index("2.4 a square")


def test_a_picture_is_of_one_zone(ground: Path, tmp_path: Path) -> None:
    assert "--zone" in run("--picture", str(tmp_path / "year.svg"), code=2)
    place = tmp_path / "year.svg"
    run("--zone", "main court", "--picture", str(place))
    assert ET.parse(place).getroot().tag.endswith("svg")
