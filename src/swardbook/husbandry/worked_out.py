"""What was worked out and kept: the answer of a sum with what went into it, dated like the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """An answer that the book goes on using: an order, a setting, a plan, a survey's sum.

    Parameters
    ----------
    about : str
        What it answers, the name of the question: ``seed order``, ``spreader``, ``shade`` ...
    words : str
        The answer in one line.
    given : mapping of str to str
        What went in, as it was said, by name.
    found : mapping of str to float
        What came out; each name ends in its unit. [unit in the name]
    named : mapping of str to str
        What came out in words: a route, a verdict, a species.
    rests_on : mapping of str to str
        Facts of the zone it rests on, as they stood when it was kept.
    """

    kind: ClassVar[str] = "worked out"
    about: str = ""
    words: str = ""
    given: Mapping[str, str] = field(default_factory=dict)
    found: Mapping[str, float] = field(default_factory=dict)
    named: Mapping[str, str] = field(default_factory=dict)
    rests_on: Mapping[str, str] = field(default_factory=dict)
