"""Pictures at the command line: written, said in a line, and never over another kind of file."""

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from swardbook.cli.doors import Door
from tests.cli.conftest import Run

MIXTURE = ("mixture", "--part", "browntop bent=20", "--part", "chewings fescue=80")
COUNTED = ("count", "show", "--zone", "Main court")


@pytest.fixture
def counted(ground: Run) -> Run:
    """Two counts of a court."""
    for place, found in (("P1", 4), ("P2", 7)):
        ground("count", "add", "--zone", "Main court", "--place", place, "--points", "25",
               "--found", f"annual meadow-grass={found}", "--counter", "Ines")  # fmt: skip
    return ground


def title(path: Path) -> str:
    root = ET.fromstring(path.read_text(encoding="utf-8"))
    assert root.attrib["role"] == "img"
    return root[0].text or ""


def test_a_mixture_is_drawn_without_a_book_and_said_in_one_line(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mixture.svg"
    plain = run(*MIXTURE).text
    told = run(*MIXTURE, "--picture", str(path)).text
    assert told.startswith(plain.rstrip("\n"))
    assert told.rstrip().endswith(f"Picture: {path}")
    assert title(path).startswith("Browntop bent is 20 % of the weight")


def test_the_object_has_the_sentence_and_the_tables(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mixture.svg"
    told = run(*MIXTURE, "--picture", str(path), "--json").json["picture"]
    assert told["file"] == str(path)
    assert told["sentence"] == title(path)
    assert [row[0] for row in told["tables"][0]["rows"]] == ["Browntop bent", "Chewings fescue"]


def test_counts_of_a_zone_are_drawn(counted: Run, tmp_path: Path) -> None:
    path = tmp_path / "counts.svg"
    counted(*COUNTED, "--picture", str(path))
    assert title(path).startswith("Main court: annual meadow-grass (Poa annua) was 22 %")
    counted("compare", "--zone", "Main court", "--picture", str(path))
    assert title(path).startswith("Main court, annual meadow-grass (Poa annua).")


def test_a_picture_of_all_zones_or_of_another_comparison_is_wrong_use(
    counted: Run, tmp_path: Path
) -> None:
    path = str(tmp_path / "x.svg")
    assert "--zone" in counted("count", "show", "--picture", path, code=2).text
    assert "--zone" in counted("compare", "--picture", path, code=2).text
    counted("compare", "--zone", "Main court", "--pull", "--picture", path, code=2)
    assert not Path(path).exists()


def test_with_too_little_to_draw_the_answer_stays_and_says_so(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "counts.svg"
    told = ground(*COUNTED, "--picture", str(path)).text
    assert "No dated count yet." in told
    assert "No picture. Not enough data" in told
    assert ground(*COUNTED, "--picture", str(path), "--json").json["picture"] is None
    assert not path.exists()


def test_an_svg_is_written_over_and_anything_else_is_left_as_it_is(
    run: Run, tmp_path: Path
) -> None:
    path = tmp_path / "mixture.svg"
    run(*MIXTURE, "--picture", str(path))
    first = path.read_bytes()
    path.write_text("<svg>older</svg>")
    run(*MIXTURE, "--picture", str(path))
    assert path.read_bytes() == first
    path.write_text("my notes")
    assert "no SVG" in run(*MIXTURE, "--picture", str(path), code=2).text
    assert path.read_text() == "my notes"
    assert [each.name for each in tmp_path.iterdir() if each.name.startswith(".")] == []


@pytest.mark.parametrize(
    ("name", "why"),
    [("m.png", "ends in .svg"), ("nowhere/m.svg", "no folder"), ("folder.svg", "no SVG")],
)  # fmt: skip
def test_a_place_where_no_picture_can_go_is_refused(
    run: Run, tmp_path: Path, name: str, why: str
) -> None:
    (tmp_path / "folder.svg").mkdir()
    assert why in run(*MIXTURE, "--picture", str(tmp_path / name), code=2).text


def test_a_folder_that_takes_no_file_is_said(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "write_bytes", refuse)
    told = run(*MIXTURE, "--picture", str(tmp_path / "m.svg"), code=1).text
    assert "Permission denied" in told


def test_the_weather_is_drawn_for_the_days_asked(empty: Run, tmp_path: Path) -> None:
    file, path = tmp_path / "sky.csv", tmp_path / "weather.svg"
    rows = [f"2011-09-{day:02d},8,18,{day % 3}" for day in range(1, 31)]
    file.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]))
    empty("weather", "import", str(file))
    empty("weather", "show", "--from", "2011-09-10", "--picture", str(path))
    assert title(path).startswith("Sat 10 September 2011 to Fri 30 September 2011:")


def test_a_made_up_ground_is_named_in_its_pictures(counted: Run, tmp_path: Path) -> None:
    from dataclasses import replace

    path = tmp_path / "counts.svg"
    counted(*COUNTED, "--picture", str(path))
    assert "Made-up" not in path.read_text()
    original = Door.book
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Door, "book", lambda door: replace(original(door), is_made_up=True))
        counted(*COUNTED, "--picture", str(path))
    assert "Made-up ground." in path.read_text()
