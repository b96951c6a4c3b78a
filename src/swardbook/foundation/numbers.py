"""The few operations an equation may use beside arithmetic; each works element by element.

An equation is written once. On float64 arrays it is the reference; compiled code is made from the
same text for single float32 numbers and gives these names a compiled meaning
(`swardbook.foundation.kernel_text`). What is no number in the first argument stays none.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from types import FunctionType
from typing import Any, TypeAlias

import numpy as np

Numbers: TypeAlias = Any
"""One number or an array of them: a float64 array in the reference, one float32 when compiled."""


def select(condition: Numbers, then: Numbers, otherwise: Numbers) -> Numbers:
    """Choose one of two values; both are worked out."""
    return np.where(condition, then, otherwise)


def least(one: Numbers, other: Numbers) -> Numbers:
    """The smaller of two values."""
    return np.minimum(one, other)


def most(one: Numbers, other: Numbers) -> Numbers:
    """The larger of two values."""
    return np.maximum(one, other)


def within(value: Numbers, low: Numbers, high: Numbers) -> Numbers:
    """A value held between two bounds."""
    return np.minimum(np.maximum(value, low), high)


def known(measured: Numbers, otherwise: Numbers) -> Numbers:
    """What was measured, or another value where it is not a number."""
    return np.where(np.isnan(measured), otherwise, measured)


def exp(power: Numbers) -> Numbers:
    """The exponential function; powers are held to -80 … 80 so that float32 cannot overflow.

    Compiled, it is right to 3e-7 of itself and 8e-8 more for each unit of the power.
    """
    return np.exp(np.minimum(np.maximum(power, -80.0), 80.0))


def expm1(power: Numbers) -> Numbers:
    """The exponential function less one; compiled, as right as `exp` is, or to 3e-7."""
    return np.expm1(power)


def sqrt(square: Numbers) -> Numbers:
    """Square root; compiled, the processor's own."""
    return np.sqrt(square)


def arccos(cosine: Numbers) -> Numbers:
    """Angle of a cosine between -1 and 1 [rad]; compiled, right to 1e-6."""
    return np.arccos(cosine)


_PLAIN: dict[str, Callable[..., Any]] = {
    "select": lambda condition, then, otherwise: then if condition else otherwise,
    "least": min,
    "most": max,
    "within": lambda value, low, high: min(max(value, low), high),
    "known": lambda measured, otherwise: otherwise if math.isnan(measured) else measured,
    "exp": lambda power: math.exp(min(max(power, -80.0), 80.0)),
    "expm1": math.expm1,
    "sqrt": math.sqrt,
    "arccos": math.acos,
}


def plainly(equation: Callable[..., Numbers]) -> Callable[..., float]:
    """Give an equation for single Python numbers: the same text, ten times as fast as on arrays.

    Parameters
    ----------
    equation : callable
        A function that uses the operations of this module and calls no other equation.
    """
    assert isinstance(equation, FunctionType)
    return FunctionType(equation.__code__, {**equation.__globals__, **_PLAIN}, equation.__name__)
