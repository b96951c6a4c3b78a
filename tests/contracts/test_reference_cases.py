"""No case that other programs agreed on is without the test that holds it."""

import ast
import json
import os
from functools import cache
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]
HELD: dict[str, list[str]] = json.loads(
    (TESTS / "data" / "reference_cases.json").read_text(encoding="utf-8")
)


@cache
def names_in(path: str) -> frozenset[str]:
    """Name the functions of a file."""
    tree = ast.parse((TESTS.parent / path).read_text(encoding="utf-8"))
    return frozenset(each.name for each in tree.body if isinstance(each, ast.FunctionDef))


@pytest.mark.parametrize(("case", "held_by"), HELD.items(), ids=HELD)
def test_each_case_is_held_by_tests_that_are_there(case: str, held_by: list[str]) -> None:
    assert held_by, f"{case} has no test"
    for each in held_by:
        path, name = each.split("::")
        assert name.startswith("test_")
        assert name in names_in(path), f"{case}: no {name} in {path}"


def test_no_case_of_the_reference_is_missing() -> None:
    folder = os.environ.get("SWARDBOOK_REFERENCE", "")
    path = Path(folder) / "reference_tests.json"
    if not folder or not path.exists():
        pytest.skip("SWARDBOOK_REFERENCE names no folder with the cases")
    cases = json.loads(path.read_text(encoding="utf-8"))["cases"]
    assert [case["id"] for case in cases if case["id"] not in HELD] == []
