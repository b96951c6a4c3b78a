"""How a figure was reached: its inputs, formula, arithmetic and sources."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.foundation.provenance import Grade, Sourced


@dataclass(frozen=True, slots=True)
class Input:
    """One thing that went into a figure.

    `value` is a number or words; `source` is a handbook source key, or says which record of the
    book it came from.
    """

    name: str
    value: float | str
    unit: str = ""
    grade: Grade | None = None
    source: str = ""
    where: str = ""

    @classmethod
    def of(cls, name: str, number: Sourced) -> Input:
        """Take a number of the handbook as an input."""
        return cls(name, number.value, number.unit, number.grade, number.source, number.where)


@dataclass(frozen=True, slots=True)
class Workings:
    """Everything needed to do a figure again by hand."""

    question: str
    answer: str
    formula: str = ""
    inputs: tuple[Input, ...] = ()
    arithmetic: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
