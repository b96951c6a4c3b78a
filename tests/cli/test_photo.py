"""Photographs at the command line: cards, batches, questions, side by side."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.photographs import write_photograph
from tests.support.pixels import ROOT

DARK, LIGHT = (60, 100, 46), (88, 122, 56)


@pytest.fixture(autouse=True)
def _compiled_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SWARDBOOK_CACHE", str(ROOT / ".cache" / "swardbook"))


def test_the_sheet_of_cards_is_written_as_pdf(run: Run, tmp_path: Path) -> None:
    told = run("photo", "sheet", "--pdf", str(tmp_path / "cards.pdf"))
    assert told.code == 0
    assert "Print at 100 %" in told.text
    assert (tmp_path / "cards.pdf").read_bytes().startswith(b"%PDF")
    again = run("photo", "sheet", "--pdf", str(tmp_path / "cards.pdf"), "--json").json
    assert again["dictionary"] == "DICT_4X4_50"
    (tmp_path / "notes.pdf").write_text("mine")
    run("photo", "sheet", "--pdf", str(tmp_path / "notes.pdf"), code=2)
    assert (tmp_path / "notes.pdf").read_text() == "mine"


def test_a_batch_tells_its_progress_and_each_picture(ground: Run, tmp_path: Path) -> None:
    good = write_photograph(tmp_path / "good.jpg", has_place=True)
    old = write_photograph(tmp_path / "old.jpg", "2010:09:11 10:00:00")
    cut = tmp_path / "cut.jpg"
    cut.write_bytes(good.read_bytes()[:30_000])
    told = ground("photo", str(good), str(old), str(cut), "--zone", "main court", code=1)
    text = " ".join(told.text.split())
    assert "1 of 3: good.jpg" in text
    assert "good.jpg: kept" in text
    assert "the copy to share does not" in text
    assert "Taken 392 days ago" in text
    assert "breaks off" in text
    assert "3 pictures: 1 kept, 1 asked, 1 refused." in text
    assert "Not across phones or seasons" in text
    shown = " ".join(ground("diary", "show").text.split())
    assert "photograph, green cover" in shown


def test_one_object_has_the_figures_with_their_units_in_the_names(
    ground: Run, tmp_path: Path
) -> None:
    path = write_photograph(tmp_path / "a.jpg")
    picture = tmp_path / "a.svg"
    asked = ("photo", str(path), "--zone", "main court", "--look-only", "--json")
    told = ground(*asked, "--picture", str(picture))
    assert told.code == 0
    (one,) = told.json["pictures"]
    assert one["state"] == "read, not kept"
    assert one["reading"]["green_cover_share"] == pytest.approx(0.6, abs=0.03)
    assert one["reading"]["plot_sides_mm"] == pytest.approx([400, 320], rel=0.01)
    assert one["reading"]["faults"] == []
    assert "data:image/png;base64," in picture.read_text(encoding="utf-8")
    assert ground(*asked).text == ground(*asked).text


def test_kinds_are_taught_by_touch(ground: Run, tmp_path: Path) -> None:
    path = write_photograph(tmp_path / "a.jpg")
    places = [f"{x},{y}" for x in (20, 40, 60, 80) for y in (30, 70)]
    touches = [word for n, place in enumerate(places)
               for word in ("--touch", f"{'one' if n % 2 else 'two'}={place}")]  # fmt: skip
    told = ground("photo", str(path), "--look-only", *touches)
    assert "held-back touches right" in told.text
    few = ground("photo", str(path), "--look-only", "--touch", "sown=40,50")
    assert few.code == 0
    assert "Not enough data for cover by kind" in few.text


def test_plots_of_two_sessions_are_not_compared(ground: Run, tmp_path: Path) -> None:
    told = ground("photo", "compare", "--zone", "main court")
    assert told.code == 0
    assert "Not enough data" in told.text
    ground("photo", "compare", code=2)


def test_a_picture_that_is_none_is_refused_with_what_is_allowed(
    ground: Run, tmp_path: Path
) -> None:
    path = tmp_path / "a.heic"
    path.write_bytes(b"\x00\x00\x00\x18ftypheic" + bytes(500))
    told = ground("photo", str(path), code=1)
    assert "HEIC" in told.text
    assert "save a copy as JPEG" in " ".join(told.text.split())


def test_lines_fit_a_narrow_screen(
    ground: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "44")
    path = write_photograph(tmp_path / "a.jpg")
    told = ground("photo", str(path), "--look-only")
    assert max(map(len, told.text.splitlines())) <= 44
