"""The few operations a process may use beside arithmetic; each works element by element.

A process is written once. On float64 arrays it is the reference; the kernel is made from the same
text for single float32 numbers and gives these names a compiled meaning (`kernel_text`).
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from swardbook.foundation.numbers import Numbers, exp, least, most, select, within

__all__ = ["Numbers", "exp", "least", "most", "most_of", "select", "within"]


def most_of(values: Iterable[Numbers]) -> Numbers:
    """The largest of several values; written out one by one in the kernel."""
    return reduce(most, values)
