"""Seed for each bay, to the gram."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.seed.bays import bags_for_bays


def test_a_trial_plot_gets_its_grams_in_two_directions() -> None:
    bobbin, *_ = bags_for_bays([("1-08", 3.0)], 30)
    assert (bobbin.whole_g, bobbin.first_g, bobbin.second_g) == (90, 45, 45)
    [thimble] = bags_for_bays([("1-06", 3.0)], 9)
    assert (thimble.whole_g, thimble.first_g, thimble.second_g) == (27, 14, 13)


@given(st.lists(st.floats(0.5, 2000), min_size=1, max_size=12), st.floats(1, 80))
def test_two_directions_add_up_to_the_bay_and_bays_to_the_area(
    areas: list[float], rate: float
) -> None:
    bags = bags_for_bays([(f"bay {n}", area) for n, area in enumerate(areas)], rate)
    assert all(bag.first_g + bag.second_g == bag.whole_g for bag in bags)
    assert all(0 <= bag.first_g - bag.second_g <= 1 for bag in bags)
    whole = sum(bag.whole_g for bag in bags)
    assert abs(whole - rate * sum(areas)) <= 0.5 * len(areas) + 1e-6


def test_a_bay_stands_once_and_has_an_area() -> None:
    with pytest.raises(BadInputError, match="each bay once"):
        bags_for_bays([("north", 10), ("North", 12)], 30)
    with pytest.raises(OutOfRangeError, match="area of north"):
        bags_for_bays([("north", 0)], 30)
