"""Taking grounds out of their book: one of them, or several for the price of few questions."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.foundation.errors import SwardbookError
from swardbook.records.extract import Extract, Known
from swardbook.records.guard import guarded
from swardbook.records.store import Store


def extract_of(store: Store) -> Extract:
    """Take one ground out of its book.

    What cannot be read at all is told where it stands, as `Store` tells it.

    Parameters
    ----------
    store : Store
        The ground.
    """
    [found] = extracts_of(store, [store._rows.ground], {}).values()
    if isinstance(found, SwardbookError):
        raise found
    return found


def extracts_of(
    store: Store, keys: Sequence[int], known: Known
) -> dict[int, Extract | SwardbookError]:
    """Take grounds out of their book; where one cannot be read, the reason stands in its place.

    Parameters
    ----------
    store : Store
        Any ground of the book.
    keys : sequence of int
        Which grounds.
    known : mapping
        Weather that was read before; what is read now is put in.
    """
    from swardbook.records.several import Several

    try:
        with guarded(store._where):
            return dict(Several(store, keys, known).taken_out())
    except SwardbookError as slip:
        if len(keys) == 1:
            return {keys[0]: slip}
    alone = (extracts_of(store, [key], known) for key in keys)  # one of them stops no other
    return {key: found for each in alone for key, found in each.items()}
