"""Mapped plants that keep apart, stand by chance, or clump."""

import numpy as np
import pytest

from swardbook.evidence.mapped import Mapped, density_at_plants, others_within, standing_apart
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import expected, outside_rows, tolerance


def test_swedish_pines_keep_apart_as_two_programs_say() -> None:
    rows, want = outside_rows("spatial_points"), expected("spatial_points")
    pines = Mapped([float(r["x"]) for r in rows], [float(r["y"]) for r in rows], 96, 100)
    within = tolerance("spatial_points")["rel"]
    assert standing_apart(pines, at_edges=False) == pytest.approx(want["plain"], rel=within)
    assert standing_apart(pines) == pytest.approx(want["at_edges"], rel=within)
    assert others_within(pines, [0, 5, 10]) == pytest.approx([0, *want["k"]], rel=within)
    plain = density_at_plants(pines, 8, at_edges=False)
    assert plain[0] == pytest.approx(want["density_first"], rel=within)
    assert plain.sum() == pytest.approx(want["density_sum"], rel=within)
    edges = density_at_plants(pines, 8)
    assert edges[0] == pytest.approx(want["density_first_at_edges"], rel=within)


def scattered() -> Mapped:
    chance = np.random.Generator(np.random.Philox(key=6))
    return Mapped((20 * chance.random(600)).tolist(), (10 * chance.random(600)).tolist(), 20, 10)


def test_plants_by_chance_stand_neither_apart_nor_in_clumps() -> None:
    plants = scattered()
    assert standing_apart(plants) == pytest.approx(1.0, abs=0.06)
    assert others_within(plants, [1.0])[0] == pytest.approx(np.pi, rel=0.1)
    assert density_at_plants(plants, 1.5).mean() == pytest.approx(plants.density, rel=0.1)


def test_a_grid_stands_apart_and_pairs_clump() -> None:
    x, y = (each.ravel().tolist() for each in np.meshgrid(np.arange(10) + 0.5, np.arange(10) + 0.5))
    assert standing_apart(Mapped(x, y, 10, 10)) > 1.8
    pairs = [each + add for each in x for add in (0.0, 0.01)]
    assert standing_apart(Mapped(pairs, [each for each in y for _ in range(2)], 10, 10)) < 0.1


def test_what_is_no_map_is_refused() -> None:
    with pytest.raises(NotEnoughDataError):
        Mapped([1], [1], 2, 2)
    with pytest.raises(OutOfRangeError):
        Mapped([1, 3], [1, 1], 2, 2)
    with pytest.raises(OutOfRangeError):
        Mapped([1, 2], [1], 2, 2)
    with pytest.raises(OutOfRangeError):
        density_at_plants(scattered(), 0)
