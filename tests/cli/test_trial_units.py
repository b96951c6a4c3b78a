"""The papers and the plan of a trial follow the units a person chose."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The made-up ground, built once; nothing is written into it."""
    with standing_on_made_up_ground(tmp_path_factory.mktemp("made_up") / "book") as place:
        yield place


def papers(folder: Path, units: str, monkeypatch: pytest.MonkeyPatch) -> tuple[str, str]:
    """Give the text of the papers, and the drawing of the plan."""
    monkeypatch.setenv("SWARDBOOK_UNITS", units)
    pdf, svg = folder / f"{units}.pdf", folder / f"{units}.svg"
    words = ["set-out", "--pdf", str(pdf), "--picture", str(svg)]
    told = CliRunner().invoke(root, words, prog_name="swardbook")
    assert told.exit_code == 0, told.output
    pages = PdfReader(BytesIO(pdf.read_bytes())).pages
    text = " ".join(page.extract_text() for page in pages)
    return " ".join(text.split()), svg.read_text(encoding="utf-8")


def test_papers_are_metric_where_nothing_else_is_chosen(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text, _ = papers(tmp_path, "metric", monkeypatch)
    assert "Lay a tape 9.50 m along the first end and one 20.25 m up" in text
    assert "3 m along one and 4 m along the other are 5 m apart" in text
    assert "g a plot" in text
    assert "height mm" in text


@pytest.mark.parametrize(("units", "rate"), [("imperial", "oz/yd²"), ("us", "lb/1000 ft²")])
def test_papers_and_plan_follow_the_units_chosen(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, units: str, rate: str
) -> None:
    text, svg = papers(tmp_path, units, monkeypatch)
    assert "Lay a tape 31.17 ft along the first end and one 66.44 ft up" in text
    assert "9 ft along one and 12 ft along the other are 15 ft apart" in text
    assert rate in text
    assert "oz a plot" in text
    assert "height in" in text
    for metric in ("g a plot", " 9.50 m", "height mm", " 0.75 m"):
        assert metric not in text.replace("oz a plot", "")
    assert " m from" not in svg
