"""Where a number comes from and how far to trust it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How far to trust a number; the five grades of the handbook."""

    DEFINED = "defined"
    MEASURED = "measured"
    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice"
    JUDGED = "judged"


@dataclass(frozen=True, slots=True)
class Source:
    """A work that numbers are taken from."""

    key: str
    title: str
    authors: str = ""
    year: str = ""
    published_in: str = ""
    how_read: str = ""
    """``full text``, ``abstract``, ``secondary``, ``from memory`` ..."""


@dataclass(frozen=True, slots=True)
class Sourced:
    """One number with its unit, plausible range, grade, source and place.

    `low` and `high` bound what is plausible (about a 90 % range for a biological parameter);
    they equal `value` where the number is exact.
    """

    key: str
    value: float
    unit: str
    low: float
    high: float
    grade: Grade
    source: str
    where: str = ""
    note: str = ""
    shape: str = ""
    """Shape of the distribution a model draws from: normal, lognormal, beta or uniform."""

    @property
    def is_judged(self) -> bool:
        """Whether the number rests on judgement alone."""
        return self.grade is Grade.JUDGED
