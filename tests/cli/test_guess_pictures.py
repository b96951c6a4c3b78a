"""Pictures of guesses at the command line: from sealing to settling."""

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.conftest import Run
from tests.support.model import kernel

NEXT = ("--on", "2012-10-12")
OWN = ("seal", "-z", "Main court", "--who", "Ines", "--cover", "15-25")


def title(path: Path) -> str:
    root = ET.fromstring(path.read_text(encoding="utf-8"))
    assert root.attrib["role"] == "img"
    return root[0].text or ""


def sheet(folder: Path) -> str:
    rows = "".join(f"M{n:02d},{5 + n % 3},Ines\n" for n in range(1, 13))
    file = folder / "october.csv"
    file.write_text(f"place,annual meadow-grass,counter\n{rows}", encoding="utf-8")
    return str(file)


def test_ones_own_guess_is_drawn_from_sealing_to_settling(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "g.svg"
    to = ("--picture", str(path))
    sealed = ground(*OWN, *to).text
    assert sealed.rstrip().endswith(f"Picture: {path}")
    assert title(path).startswith("Ines said 15 to 25 % for annual meadow-grass (Poa annua)")
    assert "No count so far." in path.read_text()
    name = re.search(r"Sealed ([0-9a-f]{8}):", sealed)
    assert name
    ground("seal", "-z", "Main court", "--who", "Bram", "--cover", "40-50", *to)
    assert "Ines: sealed" in path.read_text()
    assert "15 to 25" not in path.read_text()
    ground("settle", *to)
    assert title(path) == "2 guesses are sealed, and none is settled: no count has come yet."

    ground("count", "add", "-z", "Main court", "--file", sheet(tmp_path), *NEXT)
    told = ground("settle", *NEXT, *to, "--json").json
    assert title(path) == told["picture"]["sentence"]
    assert title(path).startswith("1 of 2 settled 80 % ranges held: not enough yet to say")
    assert "Bram: 40 to 50 %, missed; off by" in path.read_text()
    assert [each["stated_percent"] for each in told["how_they_have_done"]["by_stated_level"]] == [
        50, 80, 90,
    ]  # fmt: skip
    first = path.read_bytes()
    ground("seal", "--list", *NEXT, *to)
    assert path.read_bytes() == first
    ground("unseal", name[1], *NEXT, *to)
    assert title(path).endswith("% was found, and it held.")


@pytest.mark.long
def test_the_look_aheads_guess_is_drawn_without_its_figures_until_it_is_opened(
    run: Run, tmp_path: Path
) -> None:
    kernel()
    run("demo")
    path = tmp_path / "g.svg"
    to = ("--picture", str(path))
    told = run("seal", "-z", "Surround", "--draws", "64", *to, "--json").json
    assert title(path).startswith("What the look-ahead thinks of annual meadow-grass (Poa annua)")
    assert "The look-ahead: sealed" in path.read_text()
    assert not re.search(r"look-ahead: \d", path.read_text() + str(told["picture"]))
    opened = run("unseal", told["guess"]["id"], *to, "--json").json["guess"]["at_80_percent"]
    assert re.search(rf"look-ahead: {opened[0]:.0f} to {opened[1]:.0f} %", path.read_text())


@pytest.mark.parametrize("asked", [OWN, ("settle",), ("unseal", "abc"), ("seal", "--list")])
def test_where_a_picture_cannot_go_nothing_is_done(
    ground: Run, tmp_path: Path, asked: tuple[str, ...]
) -> None:
    told = ground(*asked, "--picture", str(tmp_path / "g.png"), code=2).text
    assert "ends in .svg" in told
    assert ground("seal", "--list", "--json").json["guesses"] == []


def test_with_no_guess_there_is_no_picture_and_it_says_so(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "g.svg"
    told = ground("seal", "--list", "--picture", str(path)).text
    assert "No guess is sealed yet." in told
    assert "No picture. Not enough data" in told
    assert not path.exists()
