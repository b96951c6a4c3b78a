"""Who pulls where: strips with their own plants and hours, on one sheet."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground
from tests.support.pdf_ua import faults_of


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with standing_on_made_up_ground(tmp_path_factory.mktemp("rota")) as home:
        yield home


def run(*words: str, code: int = 0) -> str:
    result = CliRunner().invoke(root, ["rota", *words], prog_name="swardbook")
    assert result.exit_code == code, result.output
    return result.output


def test_every_strip_has_plants_a_square_metre_and_hours_as_a_range(ground: Path) -> None:
    """E25."""
    told = json.loads(run("--zone", "short court", "--json"))
    strips = told["strips"]
    assert sorted(each["strip"] for each in strips) == [1, 2, 3, 4]
    assert sum(each["frames"] for each in strips) == 24
    assert sum(each["area_m2"] for each in strips) == pytest.approx(460.8)
    for each in strips:
        low, high = each["interval_95_plants_m2"]
        assert low < each["plants_m2"] < high
        assert 0 <= each["hours_low"] < each["hours_high"]
        assert each["plants"] == pytest.approx(each["plants_m2"] * each["area_m2"])
    worth = [each["plants"] / (each["hours_low"] + each["hours_high"]) for each in strips]
    assert worth == sorted(worth, reverse=True)


def test_strips_lie_side_by_side_along_the_long_side(ground: Path) -> None:
    told = json.loads(run("--zone", "short court", "--strips", "6", "--json"))
    assert told["numbered"] == "from the west"
    ends = sorted((each["from_m"], each["to_m"]) for each in told["strips"])
    assert ends[0][0] == 0
    assert ends[-1][1] == pytest.approx(24)
    assert [end for _, end in ends[:-1]] == [start for start, _ in ends[1:]]


def test_it_is_one_page_with_boxes_and_the_caution(ground: Path) -> None:
    path = ground / "rota.pdf"
    run("--zone", "short court", "--strips", "16", "--to", str(path))
    pdf = path.read_bytes()
    [page] = pypdf.PdfReader(io.BytesIO(pdf)).pages
    text = " ".join(page.extract_text().split())
    for word in ("tally", "minutes", "strip 16", "kneel on a pad", "10 to 14 h", "Made-up ground."):
        assert word in text
    assert faults_of(pdf) == []
    run("--zone", "short court", "--strips", "16", "--to", str(path))
    assert path.read_bytes() == pdf


def test_where_plants_were_never_counted_it_says_what_is_needed(ground: Path) -> None:
    assert "a count of plants in frames of 1 m²" in run("--zone", "main court")
    assert "Short court" in run("--zone", "shrt court", code=2)
