"""Soil water."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from swardbook.foundation.errors import OutOfRangeError
from swardbook.handbook.soils import soil
from swardbook.weather.series import Values
from swardbook.weather.soil_water import (
    RootZone,
    Seedbed,
    depletion_fraction,
    dried_by,
    root_zone_balance,
    root_zone_of,
    seedbed_balance,
    seedbed_of,
    stress_factor,
)
from tests.support.arrays import days, one

DRY = np.zeros(5)
ET0 = days(3.1, 3.8, 4.2, 2.5, 3.0)


def test_five_dry_days_on_loam_agree_with_the_sum_by_hand() -> None:
    found = root_zone_balance(ET0, DRY, DRY, RootZone(19.5, 0.4), crop_coefficient=0.88)

    assert found.depletion.tolist() == pytest.approx(
        [2.728, 6.072, 9.768, 11.598, 13.381], abs=1e-3
    )
    assert found.stress.tolist() == pytest.approx([1, 1, 1, 0.8318, 0.6754], abs=5e-5)


def test_loam_with_150_mm_of_roots_holds_19_and_a_half_mm() -> None:
    assert root_zone_of(soil("loam"), 150).total == pytest.approx(19.5)


def test_stress_begins_where_the_easy_water_ends() -> None:
    assert one(stress_factor(days(14.0), 20.0, 0.4)) == pytest.approx(0.5, abs=1e-6)
    assert one(stress_factor(days(8.0), 20.0, 0.4)) == 1.0
    assert one(stress_factor(days(20.0), 20.0, 0.4)) == 0.0


def test_the_stress_of_a_balance_is_that_of_the_evening_before() -> None:
    zone = RootZone(19.5, 0.4)

    found = root_zone_balance(ET0, DRY, DRY, zone, crop_coefficient=0.88)

    before = np.concatenate([[0.0], found.depletion[:-1]])
    assert found.stress.tolist() == stress_factor(before, zone.total, 0.4).tolist()


def test_no_days_are_an_empty_balance() -> None:
    assert len(root_zone_balance(days(), days(), days(), RootZone(20, 0.4)).depletion) == 0


def test_the_easy_share_falls_with_demand_within_its_limits() -> None:
    assert depletion_fraction(days(5, 2.5, 0, 20)).tolist() == pytest.approx([0.4, 0.5, 0.6, 0.1])


def test_rain_beyond_a_full_store_drains_away() -> None:
    found = root_zone_balance(days(2.0), days(30.0), days(0.0), RootZone(20, 0.4),
                              crop_coefficient=1.0, start=5.0)  # fmt: skip

    assert found.drainage.tolist() == [23.0]
    assert found.depletion.tolist() == [0.0]


def test_watering_back_what_was_lost_keeps_the_store_full() -> None:
    found = root_zone_balance(ET0, DRY, ET0 * 0.9, RootZone(19.5, 0.4), crop_coefficient=0.9)

    assert found.depletion.tolist() == pytest.approx([0.0] * 5, abs=1e-12)
    assert found.drainage.tolist() == pytest.approx([0.0] * 5, abs=1e-12)


def test_a_seedbed_of_loam_is_dry_within_a_warm_day_or_two() -> None:
    bed = seedbed_of(soil("loam"))

    found = seedbed_balance(days(3.0, 3.0), days(0, 0), days(0, 0), bed)

    assert bed.total == pytest.approx(2.85)
    assert found.depletion[0] > 0.7 * bed.total
    assert found.depletion[1] > 0.9 * bed.total
    assert found.stress[1] < 0.25


def test_doses_that_meet_the_demand_keep_a_seedbed_moist() -> None:
    bed = seedbed_of(soil("loam"))

    found = seedbed_balance(days(*[2.5] * 10), np.zeros(10), np.full(10, 2.75), bed)

    assert found.depletion.max() < 0.9 * bed.total
    assert found.drainage[0] == pytest.approx(2.75)


@given(st.floats(0, 1), st.floats(0.05, 9), st.floats(0.3, 12), st.floats(0.5, 15))
@settings(deadline=None, max_examples=30)
def test_two_stage_drying_agrees_with_the_rate_followed_through_the_day(
    dry: float, demand: float, readily: float, slow: float
) -> None:
    total = readily + slow
    depletion = dry * total

    def rate(_: float, state: Values) -> list[float]:
        return [demand * min(max((total - float(state[0])) / (total - readily), 0.0), 1.0)]

    judge = solve_ivp(rate, (0, 1), [depletion], rtol=1e-9, atol=1e-11, max_step=0.01)
    found = one(dried_by(days(depletion), days(demand), readily, total))

    assert found == pytest.approx(judge.y[0, -1] - depletion, abs=1e-5)


def test_a_seedbed_needs_water_that_dries_slowly_too() -> None:
    with pytest.raises(OutOfRangeError, match="readily"):
        Seedbed(3.0, 3.0)


def test_a_start_below_the_wilting_point_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="water missing at the start"):
        root_zone_balance(ET0, DRY, DRY, RootZone(19.5, 0.4), start=25.0)
