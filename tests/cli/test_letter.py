"""The letter of the made-up ground: plain, short, in black, and right to the penny."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pypdf
import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground
from tests.support.pdf_ua import alternative_texts, faults_of
from tests.support.reading_age import age, grade, syllables

A4 = (595.28, 841.89)


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with standing_on_made_up_ground(tmp_path_factory.mktemp("letters")) as home:
        yield home


@pytest.fixture(scope="module")
def told(ground: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run("--json"))
    return found


@pytest.fixture(scope="module")
def pdf(ground: Path) -> bytes:
    path = ground / "letter.pdf"
    run("--to", str(path))
    return path.read_bytes()


def run(*words: str, code: int = 0) -> str:
    result = CliRunner().invoke(root, ["letter", *words], prog_name="swardbook")
    assert result.exit_code == code, result.output
    return result.output


def running_text(told: dict[str, Any]) -> str:
    return " ".join(
        line for section in told["sections"] for line in (*section["texts"], *section["points"])
    )


@pytest.mark.parametrize(
    ("word", "number"),
    [("meadow", 2), ("grass", 1), ("counted", 2), ("stripped", 1), ("October", 3), ("alone", 2),
     ("verticut", 3), ("people", 2), ("little", 2), ("clear", 1), ("14", 2)],
)  # fmt: skip
def test_syllables_are_counted_as_they_are_said(word: str, number: int) -> None:
    assert syllables(word) == number


def test_reading_ages_order_plain_and_dense_text() -> None:
    plain = "The cat sat on the mat. It was a good cat."
    dense = "Comprehensive renovation necessitates considerable interdisciplinary coordination."
    assert grade(plain) < 2
    assert grade(dense) > 12


def test_somebody_of_twelve_can_read_it(told: dict[str, Any]) -> None:
    """E12."""
    assert age(running_text(told)) <= 12
    for section in told["sections"]:
        text = " ".join((*section["texts"], *section["points"]))
        if len(text.split()) > 30:
            assert age(text) <= 13.5, section["head"]


def test_it_is_two_sides_of_a4_in_letters_of_eleven_points_and_more(pdf: bytes) -> None:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) <= 2
    sizes: set[float] = set()

    def seen(text: str, cm: Any, tm: Any, font: Any, size: float) -> None:
        if text.strip():
            sizes.add(round(abs(size * tm[3] * cm[3]), 2))

    for page in pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4, abs=1)
        page.extract_text(visitor_text=seen)
    assert min(sizes) >= 10.99


def test_those_who_hear_it_get_all_of_it(pdf: bytes) -> None:
    assert faults_of(pdf) == []
    one, two = alternative_texts(pdf)
    assert "Main court, Oct 2010: 14 in 100 (11 to 20)" in one
    assert "left alone: 8.4 on a square metre (4.4 to 18.4)" in two


def test_costs_are_right_to_the_penny(told: dict[str, Any]) -> None:
    """E12; the sums of job C.4."""
    planned = sum(Decimal(each["planned"]) for each in told["costs"] if each["planned"])
    spent = sum(Decimal(each["spent"]) for each in told["costs"] if each["spent"])
    assert (planned, spent) == (Decimal("5934.50"), Decimal("5601.50"))
    assert "We planned £5,934.50. We spent £5,601.50." in running_text(told)


def test_every_zone_has_its_word_and_every_estimate_its_range(told: dict[str, Any]) -> None:
    table = told["sections"][0]["table"]
    assert [row[0] for row in table["rows"]].count("◧ holding") == 2
    assert len(table["rows"]) == 7
    text = running_text(told) + " ".join(" ".join(row) for row in table["rows"])
    for found in re.finditer(r"\d (?:in 100|on a square metre)(.{0,24})", text):
        after = found[1]
        assert re.match(r" \(\d|, a rise|, or|\. |”", after), found[0]


def test_next_steps_have_months_and_nothing_is_promised(told: dict[str, Any]) -> None:
    steps = next(each for each in told["sections"] if each["head"] == "What comes next")["points"]
    assert all(re.match(r"[A-Z][a-z]+.* 201[12]: ", each) for each in steps)
    assert "October 2012" in steps[-1]
    assert not re.search(r"\b(will be|guarantee|sure to|certainly)\b", running_text(told))
    assert told["note"].endswith("Nothing in this letter is a promise.")


def test_the_diarys_own_words_and_full_names_stay_in_it(pdf: bytes, ground: Path) -> None:
    text = " ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    for word in ("Bram", "Ines", "Odalys", "Maren", "Tobiah", "Nobody thought", "footprints"):
        assert word not in text


def test_a_place_that_is_no_pdf_is_refused_before_anything_is_written(ground: Path) -> None:
    assert ".pdf" in run("--to", str(ground / "letter.txt"), code=2)
    assert "names" in run("--leave-out", "nams", code=2)
    assert "--planned" in run("--keep", code=2)
