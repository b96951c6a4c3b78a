"""The cautions of a job beside an answer, as lines and as values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.handbook.cautions import Caution


def mind(*jobs: str, when: Sequence[str] = ()) -> list[str]:
    """Give the cautions of some jobs as lines, each with its grade and source."""
    return mind_these(_of(jobs, when))


def told_cautions(*jobs: str, when: Sequence[str] = ()) -> list[dict[str, str]]:
    """Give the cautions of some jobs for the one object."""
    return tell_these(_of(jobs, when))


def mind_these(cautions: Iterable[Caution]) -> list[str]:
    """Give cautions as lines, under an empty one; nothing where there are none."""
    lines = [part for each in cautions for part in under("Mind:", each.cited, 0)]
    return ["", *lines] if lines else []


def tell_these(cautions: Iterable[Caution]) -> list[dict[str, str]]:
    """Give cautions for the one object."""
    return [
        {"says": each.text, "defers_to": each.defers_to, "source": each.source,
         "grade": each.grade.value}
        for each in cautions
    ]  # fmt: skip


def with_cautions(
    payload: dict[str, Any], lines: Sequence[str], *jobs: str, when: Sequence[str] = ()
) -> tuple[dict[str, Any], list[str]]:
    """Put the cautions of some jobs into both forms of an answer."""
    told = {**payload, "cautions": told_cautions(*jobs, when=when)}
    return told, [*lines, *mind(*jobs, when=when)]


def _of(jobs: Sequence[str], when: Sequence[str]) -> list[Caution]:
    from swardbook.handbook.cautions import cautions_for

    return list(dict.fromkeys(each for job in jobs for each in cautions_for(job, when)))
