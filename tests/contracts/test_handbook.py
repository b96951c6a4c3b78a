"""Every number has a source that exists, and says how far to trust it."""

import ast
import re
from pathlib import Path

import pytest

from swardbook.foundation.provenance import Grade, Source, Sourced
from swardbook.handbook.parameters import parameters
from swardbook.handbook.sources import sources
from swardbook.handbook.species import all_species

SOURCE = Path(__file__).parents[2] / "src" / "swardbook"
NUMBERS = list(parameters().values())
PUBLISHED = [
    number
    for number in (
        *NUMBERS, *(each for species in all_species().values() for each in species.numbers)
    )
    if number.grade is Grade.PUBLISHED
]  # fmt: skip


@pytest.mark.parametrize("number", NUMBERS, ids=lambda number: number.key)
def test_a_number_is_complete(number: Sourced) -> None:
    assert number.source in sources()
    assert number.unit
    if number.grade is Grade.PUBLISHED:
        assert number.where, "say where in the work it stands"
    if number.grade in {Grade.JUDGED, Grade.COMMON_PRACTICE}:
        assert number.source in {"judged", "practice"} or number.note


@pytest.mark.parametrize("number", PUBLISHED, ids=lambda number: number.key)
def test_what_is_called_published_was_read_and_not_remembered_or_chosen(number: Sourced) -> None:
    assert not sources()[number.source].how_read.startswith("from memory")
    told = f"{number.where} {number.note}".casefold()
    assert not re.search(r"from memory|judged|borrowed", told)


@pytest.mark.parametrize("work", list(sources().values()), ids=lambda work: work.key)
def test_a_work_says_how_it_was_read(work: Source) -> None:
    assert work.how_read
    assert re.match(
        r"full text|page|abstract|secondary|run|from memory|common practice|judged|definition",
        work.how_read,
    )


def asked_keys() -> set[tuple[str, str]]:
    """Keys asked for by a literal call of `value` or `parameter`."""
    found = set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id in {"value", "parameter"}
                and node.args
                and isinstance(node.args[0], ast.Constant)
            ):
                found.add((str(path.relative_to(SOURCE)), str(node.args[0].value)))
    return found


@pytest.mark.parametrize(("place", "key"), sorted(asked_keys()))
def test_a_key_asked_for_exists(place: str, key: str) -> None:
    assert key in parameters(), place
