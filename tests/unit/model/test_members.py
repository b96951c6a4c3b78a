"""Draws in the kernel's layout: some of them, copies of them, other constants, the same bits."""

from datetime import date

import numpy as np
import pytest

from swardbook.model.growing import grower
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES
from swardbook.model.members import Members
from swardbook.model.operations import stack_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import flatten
from swardbook.model.state import SwardState
from tests.support.model import busy, county_drivers, ensemble, kept, kernel

WEATHER = county_drivers(date(2010, 9, 1), date(2010, 12, 31))
GROW = grower(kernel())


def rows(state: SwardState) -> np.ndarray:
    return np.stack(list(flatten(state)))


def grown(members: Members, work: Operations, drivers: Drivers = WEATHER) -> np.ndarray:
    GROW.onward(members, drivers, work)
    return rows(members.state())


def with_more_heads(parameters: Parameters) -> Parameters:
    first, *others = parameters.weeds
    return parameters._replace(weeds=(first._replace(heads=1.5 * first.heads), *others))


@pytest.mark.parametrize("some", [[5], [0, 1, 2], list(range(0, 300, 3)), list(range(299, 70, -1))])
def test_some_of_the_draws_grow_to_the_same_bits_without_the_others(some: list[int]) -> None:
    work = busy(WEATHER)
    everyone = Members.of(*ensemble(300))
    few = everyone.only(np.array(some))
    assert few.draws == len(some)
    np.testing.assert_array_equal(grown(few, work), grown(everyone, work)[:, some])


def test_copies_under_other_work_grow_as_each_would_alone() -> None:
    works = [kept(WEATHER), busy(WEATHER)]
    one = Members.of(*ensemble(100))
    both = one.copies(2)
    GROW.onward(both, WEATHER, stack_operations(works), operations_of_block=[0, 0, 1, 1])
    seen = rows(both.states(2, 100))
    for number, work in enumerate(works):
        wanted = grown(Members.of(*ensemble(100)), work)
        np.testing.assert_array_equal(seen[:, number], wanted)


def test_other_constants_are_laid_in_every_copy_and_nothing_else_is_touched() -> None:
    state, parameters = ensemble(100)
    more = with_more_heads(parameters)
    both = Members.of(state, parameters).copies(2)
    both.change(parameters, more)
    wanted = Members.of(state, more)
    for part in np.split(both.blocks, 2):
        np.testing.assert_array_equal(part, wanted.blocks)
    assert LANES * len(both.blocks) == both.draws
