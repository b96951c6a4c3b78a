"""Nested tuples as rows of draws."""

from typing import NamedTuple

import numpy as np

from swardbook.model.chance import Array, Chance
from swardbook.model.columns import from_rows, names, to_rows

CHANCE = Chance(("columns",))


class Inner(NamedTuple):
    one: Array
    two: Array


class Outer(NamedTuple):
    first: Inner
    last: Array


def nested() -> Outer:
    rows = CHANCE.normal_rows("x", 3, 64)
    return Outer(Inner(rows[0], rows[1]), rows[2])


def test_fields_are_named_by_their_path_and_come_back_in_their_place() -> None:
    held = nested()
    assert names(held) == ("first.one", "first.two", "last")
    back = from_rows(held, to_rows(held))
    assert np.array_equal(back.first.two, held.first.two)
    assert np.array_equal(back.last, held.last)
