"""Nested tuples as rows of draws, and scales without bounds."""

from typing import NamedTuple

import numpy as np

from swardbook.model.chance import Array, Chance
from swardbook.model.columns import Scale, from_rows, names, to_rows

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


def test_each_row_finds_its_scale_and_comes_back() -> None:
    rows = np.stack([
        np.full(64, 3.0), CHANCE.uniforms("share", 64), 1 + CHANCE.uniforms("p", 64),
        CHANCE.normals("n", 64),
    ])  # fmt: skip
    scale = Scale.of(rows)
    assert scale.kinds == ("fixed", "share", "positive", "plain")
    assert np.allclose(scale.bounded(scale.unbounded(rows)), rows)


def test_nothing_drawn_on_the_free_scale_leaves_its_bounds() -> None:
    rows = np.stack([CHANCE.uniforms("share", 64), np.exp(CHANCE.normals("n", 64))])
    scale = Scale.of(rows)
    wild = scale.bounded(scale.unbounded(rows) + 5 * CHANCE.normal_rows("w", 2, 64))
    assert np.all((wild[0] > 0) & (wild[0] < 1) & (wild[1] > 0))
