"""Docstrings are part of the interface, so they are tested."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator

import pytest

CORE = (
    "foundation", "handbook", "evidence", "weather", "seed", "observations", "photos", "husbandry",
    "model", "review", "trials", "planning",
)  # fmt: skip


def public_functions() -> Iterator[Callable[..., object]]:
    for package in CORE:
        root = importlib.import_module(f"swardbook.{package}")
        for found in pkgutil.walk_packages(root.__path__, f"{root.__name__}."):
            module = importlib.import_module(found.name)
            for name, thing in inspect.getmembers(module, inspect.isfunction):
                if thing.__module__ == module.__name__ and not name.startswith("_"):
                    yield thing


@pytest.mark.parametrize(
    "function", list(public_functions()), ids=lambda each: f"{each.__module__}.{each.__name__}"
)
def test_every_number_states_its_unit(function: Callable[..., object]) -> None:
    """A float in a docstring without a bracketed unit is a fault; so is no docstring."""
    text = inspect.getdoc(function)
    assert text
    entries = re.split(r"\n(?=\S)", text)
    missing = [
        entry.splitlines()[0]
        for entry in entries
        if re.match(r"([\w, ]+ : )?(float|array)\b", entry) and not re.search(r"\[[^\]]+\]", entry)
    ]
    assert missing == []
