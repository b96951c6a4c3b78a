"""What a check-up looked at and what it found, the worst first."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Severity(IntEnum):
    """How soon something must be done about a finding."""

    NOW = 1
    SOON = 2
    KNOWN = 3

    @property
    def word(self) -> str:
        """The severity in words."""
        return {1: "act now", 2: "soon", 3: "good to know"}[self]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not as it should be.

    Parameters
    ----------
    severity : Severity
        How soon something must be done.
    about : str
        What was looked at.
    words : str
        What was found, in plain words.
    remedy : str
        What to do.
    """

    severity: Severity
    about: str
    words: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Looked:
    """One thing that was looked at.

    Parameters
    ----------
    about : str
        What.
    words : str
        How it stands.
    findings : tuple of Finding
        What is not as it should be.
    """

    about: str
    words: str
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckUp:
    """A whole check-up.

    Parameters
    ----------
    looked : tuple of Looked
        What was looked at, in order.
    """

    looked: tuple[Looked, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, the worst first."""
        found = [finding for each in self.looked for finding in each.findings]
        return tuple(sorted(found, key=lambda each: each.severity))

    @property
    def is_well(self) -> bool:
        """Whether nothing has to be done."""
        return all(each.severity is Severity.KNOWN for each in self.findings)
