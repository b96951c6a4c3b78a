"""A sentence with the mark before it, and a table: what a command and a page show alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sentence:
    """One thing that is said.

    Parameters
    ----------
    mark : str
        The mark that stands before it; empty for none.
    words : str
        The sentence.
    """

    mark: str
    words: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under their heads, cell by cell as text.

    Parameters
    ----------
    heads : tuple of str
        One for each column.
    rows : tuple of tuple of str
        Row by row.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def without_empty(self) -> Table:
        """Leave out the columns, but for the first, in which nothing stands."""
        kept = [at for at in range(len(self.heads)) if at == 0 or any(row[at] for row in self.rows)]
        return Table(
            tuple(self.heads[at] for at in kept),
            tuple(tuple(row[at] for at in kept) for row in self.rows),
        )


def listed(names: Iterable[str]) -> str:
    """Join names: ``Bobbin, Gatepost and Thimble``."""
    held = list(names)
    return held[0] if len(held) == 1 else f"{', '.join(held[:-1])} and {held[-1]}"
