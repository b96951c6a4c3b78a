"""A nested state as rows of draws, and back."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeVar

import numpy as np

from swardbook.model.chance import Array

Nested = TypeVar("Nested", bound=tuple[Any, ...])


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
