"""The bibliography: one key per work, read from ``data/sources/*.toml``."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Source
from swardbook.foundation.tables import read_toml_table


@cache
def sources() -> Mapping[str, Source]:
    """Read every work, by key.

    Raises
    ------
    BadInputError
        If two files define the same key, or a work has no title.
    """
    found: dict[str, Source] = {}
    folder = files("swardbook.handbook") / "data" / "sources"
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if not file.name.endswith(".toml"):
            continue
        for key, work in read_toml_table(file).items():
            if key in found or "title" not in work:
                raise BadInputError(file.name, key, "a new key with a title")
            found[key] = Source(key=key, **work)
    return found


def source(key: str) -> Source:
    """Find one work.

    Raises
    ------
    UnknownNameError
        If no file lists the key.
    """
    try:
        return sources()[key]
    except KeyError:
        raise UnknownNameError("source", key, sources()) from None
