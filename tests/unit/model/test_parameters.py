"""Draws from the handbook: the same whoever asks, with the stated middle and range."""

from __future__ import annotations

import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.foundation.provenance import Grade, Sourced
from swardbook.handbook.parameters import parameter, parameters
from swardbook.model.chance import Chance
from swardbook.model.draws import central_constants, draw_constants, value_at
from swardbook.model.parameters import (
    SownKind,
    SownKinds,
    central_parameters,
    daily,
    draw_parameters,
    parameter_keys,
    sown_kinds,
)
from swardbook.model.rows import flatten
from swardbook.seed.lot import LotPart
from tests.support.model import CHANCE, PARTS, mixture, only

SHAPED = [key for key, number in parameters().items() if key.startswith("model.") and number.shape]


@pytest.mark.parametrize("key", SHAPED)
def test_a_drawn_number_keeps_its_middle_and_its_range(key: str) -> None:
    number = parameter(key)
    drawn = draw_constants([key], 4000, CHANCE)[key]
    low, middle, high = np.quantile(drawn, [0.05, 0.5, 0.95])
    width = number.high - number.low
    assert abs(middle - number.value) < 0.15 * width or number.shape == "uniform"
    assert number.low - 0.25 * width < low < number.value
    assert number.value < high < number.high + 0.25 * width
    if number.shape in {"beta", "lognormal"}:
        assert drawn.min() >= 0


def test_the_first_draws_of_many_are_those_of_few() -> None:
    few, many = draw_parameters(mixture(), 50, CHANCE), draw_parameters(mixture(), 300, CHANCE)
    for one, other in zip(flatten(few), flatten(many), strict=True):
        np.testing.assert_array_equal(one, other[:50])


def test_another_zone_has_other_draws() -> None:
    here = draw_parameters(mixture(), 8, CHANCE).zone.thinning
    there = draw_parameters(mixture(), 8, Chance(("a made-up book", "another zone"))).zone.thinning
    assert not np.any(here == there)


def test_central_constants_are_the_stated_values() -> None:
    p = central_parameters(only("perennial ryegrass"))
    assert p.weeds[0].plant_death[0] == parameter("model.annual_meadow_grass.plant_death").value
    assert central_constants(3)["model.zone.thinning"].shape == (3,)


def test_every_number_drawn_stands_in_the_list_of_keys() -> None:
    keys = parameter_keys(mixture())
    assert len(keys) == len(set(keys))
    assert {"model.annual_meadow_grass.lift", "seed_establishment_slit"} <= set(keys)
    assert not any(key.startswith("model.sown.meadow_grass") for key in keys)


def test_an_unknown_shape_is_refused() -> None:
    odd = Sourced("odd", 1.0, "-", 0.0, 2.0, Grade.JUDGED, "judged", shape="triangle")
    with pytest.raises(BadInputError, match="triangle"):
        value_at(odd, np.zeros(1))


def test_a_yearly_loss_comes_back_after_a_year_of_days() -> None:
    assert (1 - daily(np.array(0.4))) ** 365 == pytest.approx(0.6)


def test_a_lot_of_four_parts_fills_the_four_slots_by_viable_seed() -> None:
    kinds = sown_kinds(PARTS)
    assert len(kinds.kinds) == 4
    numbers = [kind.viable_per_g for kind in kinds.kinds]
    assert numbers == sorted(numbers, reverse=True)


def test_a_fifth_part_joins_its_own_group_and_no_seed_is_lost() -> None:
    parts = tuple(
        LotPart(name, 0.2, germination=0.9, purity=1.0)
        for name in ("perennial ryegrass", "chewings fescue", "slender creeping red fescue",
                     "strong creeping red fescue", "browntop bent")
    )  # fmt: skip
    kinds = sown_kinds(parts)
    assert len(kinds.kinds) == 4
    alone = [sown_kinds((LotPart(p.species, 1.0, germination=0.9, purity=1.0),)) for p in parts]
    total = sum(one.kinds[0].viable_per_g for one in alone) * 0.2
    assert sum(kind.viable_per_g for kind in kinds.kinds) == pytest.approx(total)


def test_five_components_are_refused_with_the_remedy() -> None:
    with pytest.raises(OutOfRangeError, match="at most 4"):
        SownKinds(tuple(SownKind("perennial ryegrass", 1.0) for _ in range(5)))


def test_a_species_finds_its_slot_or_the_nearest_alike() -> None:
    kinds = SownKinds((SownKind("perennial ryegrass", 1.0), SownKind("chewings fescue", 1.0)))
    assert kinds.slot("perennial ryegrass") == 0
    assert kinds.slot("slender creeping red fescue") == 1
    assert kinds.slot("smooth-stalked meadow-grass") is None


def test_ripening_shares_rise_with_age_cut_or_left() -> None:
    p = draw_parameters(mixture(), 200, CHANCE).weeds[0]
    for shares in (p.ripe_cut, p.ripe_left):
        assert np.all(np.diff(np.stack(shares), axis=0) > 0)


def test_every_constant_is_finite_and_shares_are_shares() -> None:
    p = draw_parameters(mixture(), 4096, CHANCE)
    assert all(np.all(np.isfinite(each)) for each in flatten(p))
    for share in ("dormant_share", "light_closed", "survival_gap", "capture", "kill", "lift"):
        drawn = getattr(p.weeds[0], share)
        assert np.all((drawn >= 0) & (drawn <= 1)), share
