"""Compiled code: the operations mean the same, and what is kept can be trusted."""

import ast
import os
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from swardbook.foundation import numbers
from swardbook.foundation.compiled import fingerprint, load_module
from swardbook.foundation.kernel_text import Scribe, head_text

LOOP = """

@njit("void(f4[::1],f4[:,::1])", cache=True, error_model="numpy", fastmath={"contract"})
def run(given, found):
    for at in range(given.size):
        x = given[at]
        found[0, at], found[1, at], found[2, at] = exp(x), expm1(x), arccos(within(x, F(-1), F(1)))
        found[3, at], found[4, at], found[5, at] = sqrt(most(x, -x)), least(x, F(2)), known(x, F(7))
"""


def tried(module: Any) -> None:
    module.run(np.zeros(1, np.float32), np.zeros((6, 1), np.float32))


@pytest.fixture(scope="module")
def compiled() -> Any:
    """Give each operation's compiled meaning, kept between runs of the tests."""
    return load_module(Path(os.environ["SWARDBOOK_CACHE"]), "tried", head_text("") + LOOP, tried)


def by_compiled(compiled: Any, given: NDArray[np.float32]) -> NDArray[np.float64]:
    found = np.empty((6, len(given)), np.float32)
    compiled.run(given, found)
    return found.astype(np.float64)


def test_the_exponential_is_right_to_three_in_ten_million_and_a_little_with_its_power(
    compiled: Any,
) -> None:
    given = np.linspace(-79, 79, 200_001, dtype=np.float32)
    exact = numbers.exp(given.astype(np.float64))

    found, less_one = by_compiled(compiled, given)[:2]

    allowed = 3e-7 + 8e-8 * np.abs(given)
    assert (np.abs(found / exact - 1) < allowed).all()
    assert (
        np.abs(less_one - numbers.expm1(given.astype(np.float64))) < allowed * exact + 3e-7
    ).all()


def test_the_angle_of_a_cosine_is_right_to_a_millionth_up_to_the_ends(compiled: Any) -> None:
    given = np.concatenate([np.linspace(-1, 1, 200_001), [-1, 1, 0, 1 - 6e-8]]).astype(np.float32)

    apart = by_compiled(compiled, given)[2] - numbers.arccos(given.astype(np.float64))

    assert np.abs(apart).max() < 1e-6


def test_what_is_no_number_stays_none_unless_another_value_is_given_for_it(compiled: Any) -> None:
    found = by_compiled(compiled, np.array([np.nan], np.float32))[:, 0]

    assert np.isnan(found[2:5]).all()
    assert found[5] == 7


def test_every_operation_has_a_compiled_meaning_and_no_other_is_there() -> None:
    head = (files("swardbook.foundation") / "kernel_head.txt").read_text(encoding="utf-8")
    there = {node.name for node in ast.parse(head).body if isinstance(node, ast.FunctionDef)}
    text = Path(numbers.__file__).read_text(encoding="utf-8")
    named = {node.name for node in ast.parse(text).body if isinstance(node, ast.FunctionDef)}

    assert there - {"power_of_two"} == named - {"plainly"}


def test_a_copied_text_differs_in_typed_numbers_and_unique_names_only() -> None:
    scribe = Scribe()
    first = scribe.module(
        "warm", 'def twice(t: float) -> float:\n    """Words."""\n    return 2.0 * t'
    )
    then = scribe.module("day", "def more(warm):\n    return warm + other(1) + 2.0\n")
    last = scribe.module("late", "def all(t):\n    return warm.twice(t) + t.warm")

    assert first == "@inlined\ndef warm__twice(t):\n    return N0 * t"
    assert then == "@inlined\ndef day__more(warm):\n    return warm + other(1) + N0"
    assert last == "@inlined\ndef late__all(t):\n    return warm__twice(t) + t.warm"
    assert scribe.typed_numbers() == "N0 = F(2.0)"


def test_another_text_gets_another_folder(tmp_path: Path) -> None:
    assert fingerprint("run = 1\n") != fingerprint("run = 2\n")
    assert load_module(tmp_path, "a", "run = 1\n", id).run == 1
    assert load_module(tmp_path, "a", "run = 2\n", id).run == 2
    assert len(list(tmp_path.iterdir())) == 2


@pytest.mark.parametrize("left", [b"", b"run = ", b"\xff\xfe"])
def test_a_text_that_a_killed_run_left_half_written_is_written_anew(
    tmp_path: Path, left: bytes
) -> None:
    load_module(tmp_path, "a", "run = 1\n", id)
    (file,) = tmp_path.glob("*/kernel.py")
    file.write_bytes(left)

    assert load_module(tmp_path, "a", "run = 1\n", id).run == 1
    assert file.read_text(encoding="utf-8") == "run = 1\n"


def test_compiled_code_that_does_not_run_is_thrown_away_once(tmp_path: Path) -> None:
    times: list[int] = []

    def spoilt_once(module: Any) -> None:
        times.append(module.run)
        (home,) = tmp_path.iterdir()
        if len(times) == 1:
            (home / "__pycache__").mkdir(exist_ok=True)
            (home / "__pycache__" / "kernel.run.nbc").write_bytes(b"half")
            raise ValueError("cut short")

    load_module(tmp_path, "a", "run = 1\n", spoilt_once)

    assert times == [1, 1]
    assert not list(tmp_path.glob("*/__pycache__/*.nbc"))


def test_a_folder_that_cannot_be_written_is_told_to_the_caller(tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("in the way")

    with pytest.raises(OSError, match="file"):
        load_module(file, "a", "run = 1\n", id)
