"""The cautions of a job beside an answer, as lines and as values."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.cli.wrapping import under


def mind(*jobs: str, when: Sequence[str] = ()) -> list[str]:
    """Give the cautions of some jobs as lines."""
    from swardbook.handbook.cautions import cautions_for

    each = dict.fromkeys(c.text for job in jobs for c in cautions_for(job, when))
    return ["", *(part for text in each for part in under("Mind:", text, 0))]


def told_cautions(*jobs: str, when: Sequence[str] = ()) -> list[dict[str, str]]:
    """Give the cautions of some jobs for the one object."""
    from swardbook.handbook.cautions import cautions_for

    found = dict.fromkeys(c for job in jobs for c in cautions_for(job, when))
    return [{"says": c.text, "source": c.source, "grade": c.grade.value} for c in found]
