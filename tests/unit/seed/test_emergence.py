"""Thermal time of seed, by hand-worked soil."""

import pytest

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.handbook.species import find_species
from swardbook.seed import days_to_half, first_day_at, warmth_until


def test_warmer_soil_is_quicker() -> None:
    grass = find_species("poa pratensis")
    cool, warm = days_to_half(grass, 8), days_to_half(grass, 20)
    assert cool is not None
    assert warm is not None
    assert cool > warm


def test_at_or_below_the_base_there_is_no_day() -> None:
    assert days_to_half(find_species("poa pratensis"), 2.6) is None


def test_a_species_without_a_published_time_is_not_given_one() -> None:
    with pytest.raises(NotEnoughDataError):
        days_to_half(find_species("browntop bent"), 15)


def test_the_first_day_lies_between_days_if_need_be() -> None:
    assert first_day_at([8, 9, 11], 10) == 1.5
    assert first_day_at([12, 9, 11], 10) == 0
    assert first_day_at([8, 9], 10) is None
    assert first_day_at([], 10) is None


def test_warmth_is_added_up_in_straight_lines_above_the_base() -> None:
    assert warmth_until([4, 6, 8], 2) == 12
    assert warmth_until([4, 6, 8], 1.5) == pytest.approx(5 + 0.5 * 6.5)
    assert warmth_until([4, 6, 8], 2, base_c=5) == pytest.approx(0.5 + 2)


def test_warmth_beyond_the_record_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="The record ends there"):
        warmth_until([4, 6, 8], 3)
