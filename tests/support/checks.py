"""One published value against what swardbook gets; the rows of `docs/reference/checks.csv`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from swardbook.foundation.provenance import Grade


@dataclass(frozen=True)
class Check:
    """One value as printed in a work, and the call that should give it."""

    id: str
    what: str
    source: str
    """Key of the handbook's bibliography."""
    place: str
    """Example, table, page or abstract where the value stands."""
    expected: float
    tolerance: float
    """Largest difference allowed, in the unit of `expected`."""
    grade: Grade
    got: Callable[[], float]


def all_checks() -> Iterator[Check]:
    """Give every check of every `checks_*.py` beside the published tests."""
    folder = Path(__file__).parents[1] / "published"
    for file in sorted(folder.glob("checks_*.py")):
        yield from import_module(f"tests.published.{file.stem}").CHECKS
