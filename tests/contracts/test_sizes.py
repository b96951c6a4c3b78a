"""The size budget: small modules, small functions."""

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "swardbook"
MODULES = [path for path in sorted(SOURCE.rglob("*.py")) if "migrations" not in path.parts]


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function without its docstring and decorators."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_module_fits_in_the_budget(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert body_lines(node) <= 40, f"{node.name} is too long"
