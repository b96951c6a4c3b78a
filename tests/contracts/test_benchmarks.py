"""The benchmarks are there to be run; no time is asserted anywhere."""

from importlib import import_module

import pytest
from benchmarks.__main__ import TITLES, names, page
from benchmarks._measuring import Row


@pytest.mark.parametrize("name", names())
def test_a_benchmark_can_be_imported_and_run(name: str) -> None:
    assert name in TITLES
    assert callable(import_module(f"benchmarks.{name}").run)


def test_the_page_names_what_is_not_met() -> None:
    rows = [Row("one thing", "3 times", "2 times", False), Row("another", "1 time", "2", True)]
    told = page({"model": rows}, 60.0, 1.0)
    assert "**1 goals met, 1 not met.** Not met: one thing." in told
    assert "| one thing | 3 times | 2 times | not met |" in told
