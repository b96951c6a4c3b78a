"""Naming a plant at the front door."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.cli.conftest import Run

FOG = ("-s", "hair=velvety", "-s", "base=pink-striped", "-s", "ligule=hairy", "-s", "lower=dull")


def test_with_nothing_seen_it_asks_one_question_and_needs_no_book(run: Run) -> None:
    told = run("name-plant", "--json").json
    assert told["verdict"] == "cannot tell"
    assert told["plant"] is None
    question = told["next_question"]
    assert question["asks"].endswith("?")
    assert len(question["answers"]) >= 2
    assert question["gain_bits"] > 1
    assert {each["grade"] for each in told["cautions"]} == {"common practice"}


def test_a_plant_well_seen_is_sure_with_its_look_alikes_and_checks(run: Run) -> None:
    told = run("name-plant", *FOG, "--json").json
    assert told["verdict"] == "sure"
    assert told["plant"]["latin"] == "Holcus lanatus"
    assert told["next_question"] is None
    assert all(each["check"] for each in told["look_alikes"])
    text = run("name-plant", *FOG).text
    assert text.startswith("Yorkshire fog (Holcus lanatus): sure.")
    assert "Look-alikes:" in text
    assert "taste nothing" in text


def test_the_same_question_gives_the_same_bytes_in_any_order(run: Run) -> None:
    one = run("name-plant", "-s", "tip=boat", "-s", "lower=dull", "--json").json
    other = run("name-plant", "-s", "lower=dull", "-s", "tip=boat", "--json").json
    assert one["look_alikes"] == other["look_alikes"]
    assert one["next_question"] == other["next_question"]


def test_a_seedling_is_never_named(run: Run) -> None:
    told = run("name-plant", *FOG, "--age", "seedling").text
    assert told.startswith("Cannot tell. At one or two leaves")
    assert "Next:" not in told


def test_a_head_brings_the_month_of_the_day(run: Run) -> None:
    told = run("name-plant", "-s", "head=cylinder", "--on", "2011-05-10", "--json").json
    assert told["seen"]["flowering"] == "5"
    early = [each["name"] for each in told["look_alikes"]]
    late = run("name-plant", "-s", "head=cylinder", "-s", "flowering=August", "--json").json
    assert late["seen"]["flowering"] == "8"
    assert early != [each["name"] for each in late["look_alikes"]]


def test_a_wrong_answer_is_told_with_what_is_meant(run: Run) -> None:
    assert "boat" in run("name-plant", "-s", "tip=bote", code=2).text
    assert "trait=answer" in run("name-plant", "-s", "tip", code=2).text


def test_the_next_question_or_a_plant_is_drawn(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "next.svg"
    told = run("name-plant", "--json", "--picture", str(path)).json
    assert ET.fromstring(path.read_text(encoding="utf-8"))[0].text == told["next_question"]["asks"]
    run("name-plant", "--show", "Poa annua", "--picture", str(path))
    assert "Annual meadow-grass" in (ET.fromstring(path.read_text(encoding="utf-8"))[0].text or "")
    run("name-plant", "--show", "ligule", "--picture", str(path))
    scent = run("name-plant", "--show", "scent")
    assert "needs something to be seen" in scent.text


def test_a_plant_is_shown_trait_by_trait_with_works_and_grades(run: Run) -> None:
    rows = run("name-plant", "--show", "annual meadow-grass", "--json").json["rows"]
    ligule = next(row for row in rows if row["part"] == "height of the ligule")
    assert ligule["what_it_shows"] == "0.5 to 5 mm"
    assert ligule["grade"] == "judged"
    assert "edgar_connor_2000" in ligule["sources"]


def test_a_name_is_kept_in_the_diary_and_tied_to_the_zone(ground: Run) -> None:
    said = ("--zone", "Main court", "--keep", "--who", "Ines", "--when", "yesterday")
    told = ground("name-plant", *FOG, *said, "--json").json
    assert told["zone"] == "Main court"
    assert told["is_sown_here"] is False
    assert "Yorkshire fog (Holcus lanatus), sure" in told["kept"]["words"]
    assert "Yorkshire fog" in ground("diary", "show").text
    again = ground("name-plant", "--zone", "Main court", "--json").json["named_here"]
    assert [(each["name"], each["verdict"]) for each in again] == [("yorkshire fog", "sure")]
    assert "Named in Main court before:" in ground("name-plant", "--zone", "Main court").text


def test_nothing_seen_is_nothing_to_keep_but_a_seedling_is(ground: Run) -> None:
    said = ("--zone", "Main court", "--keep")
    assert "nothing seen" in ground("name-plant", *said, code=2).text
    kept = ground("name-plant", *said, "--age", "seedling", "--json").json["kept"]
    assert "cannot tell" in kept["words"]


def test_an_unknown_zone_is_told(ground: Run) -> None:
    assert "Main court" in ground("name-plant", *FOG, "--zone", "Mane court", code=2).text


def test_at_a_terminal_it_asks_until_it_is_told_to_stop(
    book_home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal: Any = SimpleNamespace(isatty=lambda: True)
    monkeypatch.setattr(
        "swardbook.cli.name_plant.sys", SimpleNamespace(stdin=terminal, stdout=terminal)
    )
    result = CliRunner().invoke(
        root,
        ["name-plant", "-s", "hair=velvety"],
        input="wrong\n?\n1\nstop\n",
        prog_name="swardbook",
    )
    assert result.exit_code == 0, result.output
    assert result.output.count("Next:") >= 4
    assert "wrong" in result.output
    assert sys.stdin is not terminal
