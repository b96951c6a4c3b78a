"""The jobs of an opened book."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swardbook.records.store import Store

if TYPE_CHECKING:
    from swardbook.records.jobs import Jobs


def jobs_of(store: Store) -> Jobs:
    """Give the jobs of the book that an opened ground is in."""
    from swardbook.records.jobs import Jobs

    return Jobs(store._rows.alias, store._where)
