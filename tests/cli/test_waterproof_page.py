"""The waterproof page: one sheet of A5, black, tagged, with what a wet pocket needs."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner

from swardbook.book.waterproof import waterproof_page, waterproof_paper
from swardbook.cli.main import root
from tests.support.books import small_book, standing_on_made_up_ground
from tests.support.pdf_ua import faults_of

A5 = (419.53, 595.28)


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with standing_on_made_up_ground(tmp_path_factory.mktemp("wet")) as home:
        yield home


def run(*words: str, code: int = 0) -> str:
    result = CliRunner().invoke(root, ["waterproof-page", *words], prog_name="swardbook")
    assert result.exit_code == code, result.output
    return result.output


@pytest.mark.parametrize("zone", ["Main court", "Short court", "Trial ground", "Turf nursery"])
def test_it_is_one_sheet_of_a5_that_all_can_hear(ground: Path, zone: str) -> None:
    path = ground / "page.pdf"
    run(zone, "--to", str(path))
    pdf = path.read_bytes()
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) == 2
    for page in pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A5, abs=1)
    assert faults_of(pdf) == []


def test_every_place_stands_on_it_with_how_to_find_it_and_its_last_count(ground: Path) -> None:
    """H10."""
    path = ground / "page.pdf"
    told = json.loads(run("short court", "--to", str(path), "--json"))
    assert told["places_left_over"] == 0
    assert len(told["places"]) == 32
    assert told["places"][0] == {
        "place": "S01", "how_to_find": "2.0 m along, 2.4 m in from the south-west", "last": "0",
    }  # fmt: skip
    front, back = (page.extract_text() for page in pypdf.PdfReader(path).pages)
    for each in told["places"]:
        assert each["place"] in front
    assert len(told["facts"]) == 3
    assert "Seeding clock" in front
    assert "Poa annua" in back
    assert "hooded like the bow of a boat" in " ".join(back.split())
    assert "Made-up ground." in front


def test_what_was_sown_is_told_from_the_weeds(ground: Path) -> None:
    kinds = {
        each["english"]: each["kind"] for each in json.loads(run("main court", "--json"))["plants"]
    }
    assert kinds["Annual meadow-grass"] == "weed"
    assert kinds["Chewings fescue"] == "sown"


def test_a_zone_that_was_never_counted_has_a_page_too(tmp_path: Path) -> None:
    page = waterproof_page(small_book(tmp_path), "short court")
    assert page.sheet.places == ()
    pdf = waterproof_paper(page)
    assert pdf == waterproof_paper(page)
    assert "No pegs yet" in pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    assert faults_of(pdf) == []


def test_an_unknown_zone_is_refused(ground: Path) -> None:
    assert "Main court" in run("main curt", code=2)
