"""The few operations a process may use beside arithmetic; each works element by element.

A process is written once. On float64 arrays it is the reference; the kernel is made from the same
text for single float32 numbers and gives these names a compiled meaning (`kernel_text`).
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from typing import Any, TypeAlias

import numpy as np

Numbers: TypeAlias = Any
"""One number or an array of them: a float64 array in the reference, one float32 in the kernel."""


def select(condition: Numbers, then: Numbers, otherwise: Numbers) -> Numbers:
    """Choose one of two values; both are worked out."""
    return np.where(condition, then, otherwise)


def least(one: Numbers, other: Numbers) -> Numbers:
    """The smaller of two values."""
    return np.minimum(one, other)


def most(one: Numbers, other: Numbers) -> Numbers:
    """The larger of two values."""
    return np.maximum(one, other)


def most_of(values: Iterable[Numbers]) -> Numbers:
    """The largest of several values; written out one by one in the kernel."""
    return reduce(most, values)


def within(value: Numbers, low: Numbers, high: Numbers) -> Numbers:
    """A value held between two bounds."""
    return np.minimum(np.maximum(value, low), high)


def exp(power: Numbers) -> Numbers:
    """The exponential function; powers are held to -80 … 80 so that float32 cannot overflow."""
    return np.exp(np.minimum(np.maximum(power, -80.0), 80.0))
