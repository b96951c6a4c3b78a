"""R as a judge: where it is not installed the numbers kept of it judge."""

import sys
from pathlib import Path

import pytest
from tools import judge_r
from tools.judge_r import KEPT, Judged, Told, judged, main, misses, page, read
from tools.judge_r_ours import OURS


def test_without_r_it_says_so_and_the_kept_numbers_judge(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    place = tmp_path / "page.md"
    monkeypatch.setattr(sys, "argv", ["judge_r", "--page", str(place)])
    assert main(lambda _: None, told.append) == 0
    assert told[0].startswith("R is not installed")
    assert not place.exists()
    agreed, asked = told[-1].split(" figures")[0].split(" of ")
    assert agreed == asked
    assert int(asked) > 80


def test_with_r_the_page_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "page.md"
    monkeypatch.setattr(sys, "argv", ["judge_r", "--page", str(place)])
    monkeypatch.setattr(judge_r, "ask_r", lambda *_: KEPT.read_text(encoding="utf-8"))
    assert main(lambda _: "Rscript", lambda _: None) == 0
    told = place.read_text(encoding="utf-8")
    assert "| immer | ss 1 | 10610.452 | 10610.452 | 10610.452 | met |" in told
    assert "| wine | warm | - |" in told


def test_every_case_that_was_kept_has_our_figures() -> None:
    kept = read(KEPT.read_text(encoding="utf-8"))
    assert {case for case, _ in kept.figures} == set(OURS)
    assert "R" in kept.versions


def test_what_does_not_agree_is_named() -> None:
    kept = Told({("a", "ss 1"): 2.0, ("a", "reml"): 5.0, ("b", "df 1"): 3.0}, {"R": "4"})
    judge = Told({("a", "ss 1"): 2.0, ("a", "reml"): 5.0001}, {"R": "5"})
    rows = judged({("a", "ss 1"): 2.00001, ("a", "reml"): 5.0}, judge, kept)
    assert rows[2] == Judged("b", "df 1", None, None, 3.0)
    assert [row.is_met for row in rows] == [False, True, True]
    assert list(misses(rows)) == ["a, ss 1: ours 2.00001, R 2, kept 2"]
    assert "2 of 3 figures agree" in page(rows, judge.versions)
