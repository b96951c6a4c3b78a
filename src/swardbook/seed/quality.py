"""The gates a lot must pass: purity and germination, statutory and higher voluntary."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from swardbook.foundation.provenance import Sourced
from swardbook.handbook.parameters import parameters
from swardbook.seed.lot import LotPart


class Standard(StrEnum):
    """Which limits certified seed was held to."""

    STATUTORY = "statutory"
    VOLUNTARY = "higher voluntary"


@dataclass(frozen=True, slots=True)
class Gate:
    """One limit held against one figure of a label.

    Parameters
    ----------
    species : str
        Key of the component.
    what : str
        ``purity`` or ``germination``.
    standard : Standard
        Whose limit it is.
    limit : Sourced or None
        The least allowed; None where the standard does not list the species. [-]
    found : float or None
        What the label or test says; None if it says nothing. [-]
    """

    species: str
    what: str
    standard: Standard
    limit: Sourced | None
    found: float | None

    @property
    def passed(self) -> bool | None:
        """Whether it passes; None where there is no limit or nothing to hold against it."""
        if self.limit is None or self.found is None:
            return None
        return self.found >= self.limit.value

    @property
    def state(self) -> str:
        """Say pass, fail, or why neither."""
        if self.limit is None:
            return "no limit listed"
        if self.found is None:
            return "not known"
        return "pass" if self.passed else "fail"


def slug(species: str) -> str:
    """Give the form a species key has inside handbook keys."""
    return re.sub(r"[^a-z0-9]+", "_", species.replace("'", "")).strip("_")


def least(species: str, what: str, standard: Standard = Standard.STATUTORY) -> Sourced | None:
    """Find the least purity or germination that certified seed of a species must have.

    Parameters
    ----------
    species : str
        Key of the species.
    what : str
        ``purity`` or ``germination``. Germination has one limit for both standards.
    standard : Standard
        Whose limit.

    Returns
    -------
    Sourced or None
        The limit; None where the standard lists none. [-]
    """
    key = f"quality_{slug(species)}_{what}"
    if standard is Standard.VOLUNTARY and what == "purity":
        key += "_voluntary"
    return parameters().get(key)


def gates(parts: Sequence[LotPart]) -> tuple[Gate, ...]:
    """Hold each component of a label against each limit.

    Parameters
    ----------
    parts : sequence of LotPart
        The label; ``others`` is passed over.

    Returns
    -------
    tuple of Gate
        Germination, purity, and purity by the higher voluntary standard, component by component.
    """
    asked = (
        ("germination", Standard.STATUTORY),
        ("purity", Standard.STATUTORY),
        ("purity", Standard.VOLUNTARY),
    )
    return tuple(
        Gate(part.species, what, standard, least(part.species, what, standard), getattr(part, what))
        for part in parts
        if part.species != "others"
        for what, standard in asked
    )
