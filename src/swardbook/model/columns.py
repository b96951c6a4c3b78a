"""A nested state or parameter set as rows of draws and back, and rows on a scale without bounds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np

from swardbook.model.chance import Array

Nested = TypeVar("Nested", bound=tuple[Any, ...])
_EDGE = 1e-9


def to_rows(nested: tuple[Any, ...]) -> Array:
    """Lay every field of nested named tuples in a row of its own, in the order of the fields.

    Parameters
    ----------
    nested : tuple
        Named tuples of named tuples, or of arrays over draws.

    Returns
    -------
    array
        One row a field, one column a draw. [unit of each field]
    """
    return np.stack([np.asarray(leaf, dtype=np.float64) for _, leaf in _leaves(nested)])


def from_rows(like: Nested, rows: Array) -> Nested:
    """Build nested named tuples of the shape of another from rows.

    Parameters
    ----------
    like : tuple
        Named tuples of the shape wanted.
    rows : array
        One row a field. [unit of each field]
    """
    return _built(like, iter(rows))


def names(nested: tuple[Any, ...]) -> tuple[str, ...]:
    """Name every field by its path, such as ``weeds.meadow_grass.cover``."""
    return tuple(name for name, _ in _leaves(nested))


@dataclass(frozen=True, slots=True)
class Scale:
    """How each row of parameters is moved to a scale without bounds.

    Parameters
    ----------
    kinds : tuple of str
        ``fixed``, ``share`` (logit), ``positive`` (log) or ``plain``, a row.
    fixed : array
        Value of the rows that do not vary. [unit of each row]
    """

    kinds: tuple[str, ...]
    fixed: Array

    @classmethod
    def of(cls, rows: Array) -> Scale:
        """Choose by what the draws show: all between 0 and 1, all above 0, or anything."""
        kinds = tuple(_kind(row) for row in rows)
        return cls(kinds, rows[:, 0].copy())

    @property
    def varying(self) -> tuple[int, ...]:
        """Places of the rows that vary."""
        return tuple(at for at, kind in enumerate(self.kinds) if kind != "fixed")

    def unbounded(self, rows: Array) -> Array:
        """Move the rows that vary to the scale without bounds [-]."""
        return np.stack([_away(rows[at], self.kinds[at]) for at in self.varying])

    def bounded(self, moved: Array) -> Array:
        """Move them back, and put the fixed rows beside them [unit of each row]."""
        rows = np.repeat(self.fixed[:, None], moved.shape[1], axis=1)
        for row, at in zip(moved, self.varying, strict=True):
            rows[at] = _back(row, self.kinds[at])
        return rows


def _leaves(nested: tuple[Any, ...], path: str = "") -> Iterator[tuple[str, Any]]:
    fields: tuple[str, ...] = nested._fields  # type: ignore[attr-defined]
    for name, held in zip(fields, nested, strict=True):
        if hasattr(held, "_fields"):
            yield from _leaves(held, f"{path}{name}.")
        else:
            yield f"{path}{name}", held


def _built(like: Nested, rows: Iterator[Array]) -> Nested:
    held = [_built(part, rows) if hasattr(part, "_fields") else next(rows) for part in like]
    return type(like)(*held)


def _kind(row: Array) -> str:
    if np.ptp(row) == 0:
        return "fixed"
    if np.min(row) > 0:
        return "share" if np.max(row) < 1 else "positive"
    return "plain"


def _away(row: Array, kind: str) -> Array:
    if kind == "share":
        held = np.clip(row, _EDGE, 1 - _EDGE)
        return np.asarray(np.log(held / (1 - held)))
    return np.asarray(np.log(row)) if kind == "positive" else row


def _back(row: Array, kind: str) -> Array:
    if kind == "share":
        return np.asarray(1 / (1 + np.exp(-row)))
    return np.asarray(np.exp(row)) if kind == "positive" else row
