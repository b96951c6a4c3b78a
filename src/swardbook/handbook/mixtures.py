"""Kinds of mixture that the trade sells, by what is in them; no product is among them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Grade
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.species import find_species


@dataclass(frozen=True, slots=True)
class MixtureKind:
    """A kind of mixture.

    Parameters
    ----------
    name : str
        What the trade calls it.
    used_for : str
        What it is sown for.
    uses : tuple of str
        Uses of a zone for which it is the usual thing.
    shares : tuple of tuple of str and float
        Species key and share by weight of each component. [-]
    source : str
        Key of the work it rests on.
    grade : Grade
        How far to trust it.
    """

    name: str
    used_for: str
    uses: tuple[str, ...]
    shares: tuple[tuple[str, float], ...]
    source: str
    grade: Grade


@cache
def mixture_kinds() -> Mapping[str, MixtureKind]:
    """Read the kinds of mixture, by name.

    Raises
    ------
    BadInputError
        If an entry is incomplete or its shares do not add up to 1.
    UnknownNameError
        If a component is no species of the handbook.
    """
    file = files("swardbook.handbook") / "data" / "mixture_kinds.toml"
    found = {}
    for name, entry in read_toml_table(file).items():
        try:
            shares = tuple(
                (find_species(part).key, float(share)) for part, share in entry["parts"].items()
            )
            kind = MixtureKind(
                name, entry["for"], tuple(entry["uses"]), shares, entry["source"],
                Grade(entry["grade"]),
            )  # fmt: skip
        except (KeyError, ValueError) as slip:
            raise BadInputError(
                f"mixture_kinds.toml [{name}]", str(slip), "for, uses, parts, source and grade"
            ) from slip
        total = sum(share for _, share in shares)
        if abs(total - 1) > 1e-9:
            raise BadInputError(
                f"mixture_kinds.toml [{name}]", f"{total:g}", "shares that add to 1"
            )
        found[name] = kind
    return found
