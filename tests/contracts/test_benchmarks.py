"""The benchmarks are there to be run; no time is asserted anywhere."""

import shlex
from importlib import import_module

import click
import pytest
from benchmarks.__main__ import TITLES, names, page, written_anew
from benchmarks._measuring import Row
from benchmarks.use_cases import USE_CASES

from swardbook.cli.main import root


@pytest.mark.parametrize("name", names())
def test_a_benchmark_can_be_imported_and_run(name: str) -> None:
    assert name in TITLES
    assert callable(import_module(f"benchmarks.{name}").run)


def test_the_page_names_what_is_not_met() -> None:
    rows = [Row("one thing", "3 times", "2 times", False), Row("another", "1 time", "2", True)]
    told = page({"model": rows}, 60.0, 1.0)
    assert "**1 goals met, 1 not met.** Not met: one thing." in told
    assert "| one thing | 3 times | 2 times | not met |" in told


@pytest.mark.parametrize("words", USE_CASES.values(), ids=USE_CASES)
def test_each_use_case_measured_is_a_command_there_is(words: str) -> None:
    context = root.make_context("swardbook", shlex.split(words))
    while isinstance(context.command, click.Group) and (rest := left(context)):
        name, found, rest = context.command.resolve_command(context, rest)
        assert found is not None
        context = found.make_context(name, rest, parent=context)
    assert not left(context)


def left(context: click.Context) -> list[str]:
    """Words not read yet."""
    return [*context._protected_args, *context.args]


def test_a_section_measured_anew_says_so_and_the_count_follows() -> None:
    missed = Row("one", "2 times", "at most 1 times", False)
    kept = Row("other", "3 times", "at least 1 times", True)
    text = page({"growth": [missed], "planner": [kept]}, 60.0, 0.5)
    assert "**1 goals met, 1 not met.** Not met: one." in text
    anew = written_anew(text, "growth", [Row("one", "1 times", "at most 1 times", True)], 0.4)
    assert "**2 goals met, 0 not met.**\n" in anew
    assert anew.count("Measured again in a run of its own") == 1
    assert anew.count("## ") == text.count("## ")
    assert "| other | 3 times | at least 1 times | met |" in anew


def test_a_section_that_is_new_is_put_at_the_end_of_the_page() -> None:
    text = page({"growth": [Row("one", "1 times", "at most 1 times", True)]}, 60.0, 0.5)
    anew = written_anew(text, "lawns", [Row("two", "3 times", "at most 2 times", False)], 0.4)
    assert anew.index("| one |") < anew.index(f"## {TITLES['lawns']}") < anew.index("| two |")
    assert "**1 goals met, 1 not met.**" in anew
