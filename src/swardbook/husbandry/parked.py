"""What was typed or read and could not be taken: kept whole, and fed to nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Parked:
    """A row that waits to be put right; no count, plan or look-ahead reads it.

    Parameters
    ----------
    meant : str
        What it would be once taken in: ``count``, ``history``, or ``plots`` for a reading of one.
    source : str
        The file it stood in, or ``typed``.
    line : int or None
        Line of the file.
    column : str
        The cell that could not be taken; empty where the whole row is at fault.
    read, allowed, likely : str
        What was read there, what is understood, and the likely slip.
    cells : mapping of str to str
        The row as it came, by heading.
    about : mapping of str to str
        What was said beside the row: day, frame, counter, hours ...
    """

    kind: ClassVar[str] = "parked"
    meant: str = ""
    source: str = ""
    line: int | None = None
    column: str = ""
    read: str = ""
    allowed: str = ""
    likely: str = ""
    cells: Mapping[str, str] = field(default_factory=dict)
    about: Mapping[str, str] = field(default_factory=dict)

    @property
    def where(self) -> str:
        """Where it stood: file, line and column, in words."""
        parts = (self.source, f"line {self.line}" if self.line else "", self.column)
        return ", ".join(part for part in parts if part)

    @property
    def words(self) -> str:
        """What was read, what is allowed, and the likely slip."""
        told = f"{self.where}: read {self.read!r}; understood here: {self.allowed}."
        return f"{told} {self.likely}".strip()
