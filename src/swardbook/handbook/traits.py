"""What is read on the plots of a trial: each trait with its unit, scale and usual spread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Sourced
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter


@dataclass(frozen=True, slots=True)
class Trait:
    """One trait.

    Parameters
    ----------
    key, english : str
        The name used inside, and as shown.
    other_names : tuple of str
        Names it is also asked for by.
    unit : str
        Unit of a reading; ``1-9`` for a rating, ``times`` where differences are ratios.
    is_log : bool
        Whether differences are taken on the natural logarithm.
    sd, smallest : Sourced
        Usual spread from plot to plot within a block, and the smallest difference worth acting
        on; a ratio where `is_log`. [unit]
    lowest, highest : float
        What a reading may be. [unit]
    better : str
        ``high`` or ``low``; empty where that depends on the wish, or on the kind counted.
    how : str
        How it is read.
    """

    key: str
    english: str
    other_names: tuple[str, ...]
    unit: str
    is_log: bool
    sd: Sourced
    smallest: Sourced
    lowest: float
    highest: float
    better: str
    how: str

    @property
    def is_rating(self) -> bool:
        """Whether it is rated from 1 to 9."""
        return self.unit == "1-9"


@cache
def all_traits() -> Mapping[str, Trait]:
    """Read every trait, by key.

    Raises
    ------
    BadInputError
        If an entry is incomplete.
    """
    file = files("swardbook.handbook") / "data" / "traits.toml"
    found = {}
    for key, entry in read_toml_table(file).items():
        try:
            found[key] = Trait(
                key, entry["english"], tuple(entry["other_names"]), entry["unit"],
                entry["scale"] == "log", parameter(entry["sd"]), parameter(entry["smallest"]),
                float(entry["lowest"]), float(entry["highest"]), entry["better"], entry["how"],
            )  # fmt: skip
        except KeyError as slip:
            raise BadInputError(f"traits.toml [{key}]", str(slip), "every field") from slip
    return found


def find_trait(name: str) -> Trait:
    """Find a trait by any of its names.

    Raises
    ------
    UnknownNameError
        If there is none; offers the nearest.
    """
    word = " ".join(name.strip().casefold().replace("_", " ").split())
    for trait in all_traits().values():
        if word in {trait.key, trait.english.casefold(), *trait.other_names}:
            return trait
    raise UnknownNameError("trait", name, [each.key for each in all_traits().values()])
