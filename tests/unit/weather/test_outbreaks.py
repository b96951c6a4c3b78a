"""Weather in which leaf diseases break out."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import expit
from statsmodels.discrete.discrete_model import Logit

from swardbook.weather.outbreaks import brown_patch_index, dollar_spot_chance
from tests.support.arrays import days, one


@given(
    st.lists(st.tuples(st.floats(-10, 45), st.floats(0, 100)), min_size=1, max_size=50)
)  # fmt: skip
def test_the_chance_of_dollar_spot_is_the_logistic_of_scipy_and_statsmodels(
    weather: list[tuple[float, float]],
) -> None:
    celsius, humidity = np.array(weather).T
    odds = -11.4041 + 0.0894 * humidity + 0.1932 * celsius
    found = dollar_spot_chance(celsius, humidity)
    assert found == pytest.approx(expit(odds), abs=1e-12)
    assert found == pytest.approx(Logit([0, 1], [1, 1]).cdf(odds), abs=1e-12)


@given(st.floats(10, 35), st.floats(10, 35), st.floats(20, 100), st.floats(20, 100))
def test_warmer_and_damper_is_never_less_likely(
    one_c: float, other_c: float, one_rh: float, other_rh: float
) -> None:
    low = dollar_spot_chance(days(min(one_c, other_c)), days(min(one_rh, other_rh)))
    high = dollar_spot_chance(days(max(one_c, other_c)), days(max(one_rh, other_rh)))
    assert one(low) <= one(high)


def test_at_twenty_degrees_dollar_spot_counts_from_69_percent_humidity() -> None:
    """Where the chance passes a fifth: 68.83 %."""
    found = brentq(lambda rh: one(dollar_spot_chance(days(20.0), days(rh))) - 0.2, 20, 100)
    assert found == pytest.approx(68.83, abs=0.005)


def test_a_warm_damp_night_is_brown_patch_weather_and_a_cool_one_is_not() -> None:
    found = brown_patch_index(days(20.0, 10.0, 5.0), days(95.0, 80.0, 100.0))
    assert found[0] > 6
    assert (found[1:] < 6).all()
    warmest = brown_patch_index(np.linspace(0, 35, 3501), days(95.0)).argmax() / 100
    assert warmest == pytest.approx(1.4 / (2 * 0.033), abs=0.01), "hotter nights count for less"
