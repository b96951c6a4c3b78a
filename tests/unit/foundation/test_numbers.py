"""Operations of equations: one text for arrays and for single numbers."""

import ast
import inspect

import numpy as np
import pytest

from swardbook.foundation import numbers
from swardbook.foundation.numbers import (
    Numbers,
    arccos,
    exp,
    expm1,
    known,
    least,
    most,
    plainly,
    select,
    sqrt,
    within,
)

OPERATIONS = {
    name
    for name, thing in inspect.getmembers(numbers, inspect.isfunction)
    if thing.__module__ == numbers.__name__ and name != "plainly"
}


def everything(x: Numbers, y: Numbers) -> Numbers:
    """Use every operation."""
    held = within(least(x, y) + most(x, 1.0), -1.0, 1.0)
    root = sqrt(most(y, 0.0)) + arccos(held) + known(x / 3.0, y)
    return select(x > y, root + exp(x), root - expm1(y) + exp(90.0 * y))


def test_the_sum_below_uses_every_operation() -> None:
    used = {
        node.func.id
        for node in ast.walk(ast.parse(inspect.getsource(everything)))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }

    assert used == OPERATIONS


def test_an_equation_says_the_same_of_single_numbers_as_of_arrays() -> None:
    x, y = np.meshgrid(np.linspace(-3, 3, 31), np.linspace(-2, 2, 17))

    plain = plainly(everything)
    alone = [
        plain(one, other) for one, other in zip(x.ravel().tolist(), y.ravel().tolist(), strict=True)
    ]

    assert alone == pytest.approx(everything(x, y).ravel(), rel=1e-14)


def test_what_is_no_number_stays_none_and_gives_way_to_what_is_known() -> None:
    assert np.isnan(plainly(least_of_two)(float("nan"), 1.0))
    assert np.isnan(least_of_two(np.array([np.nan]), 1.0)).all()
    assert plainly(known_or)(float("nan"), 7.0) == 7.0


def least_of_two(one: Numbers, other: Numbers) -> Numbers:
    """Use an operation."""
    return within(least(one, other), -9.0, 9.0)


def known_or(one: Numbers, other: Numbers) -> Numbers:
    """Use an operation."""
    return known(one, other)
