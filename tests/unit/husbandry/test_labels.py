import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.foundation.quantities import K_PER_K2O, P_PER_P2O5
from swardbook.husbandry.happenings import Feed
from swardbook.husbandry.labels import given as gives
from swardbook.husbandry.labels import read_label


def test_f21_a_label_of_10_10_10_at_30_g_gives_3_nitrogen_and_less_phosphorus_and_potassium() -> (
    None
):
    got = gives(Feed("", 30, *read_label("10-10-10")))
    assert got is not None
    assert (got.nitrogen, got.p2o5, got.k2o) == pytest.approx((3.0, 3.0, 3.0))
    assert (round(got.phosphorus, 1), round(got.potassium, 1)) == (1.3, 2.5)


@settings(deadline=None)
@given(st.floats(0, 20), st.floats(0, 20))
def test_n23_element_to_oxide_and_back_is_exact(phosphorus: float, potassium: float) -> None:
    n, p2o5, k2o = read_label(f"5-{phosphorus:.4f}-{potassium:.4f}", are_elements=True)
    got = gives(Feed("", 100.0, n, p2o5, k2o))
    assert got is not None
    assert got.phosphorus == pytest.approx(round(phosphorus, 4), rel=1e-12, abs=1e-15)
    assert got.potassium == pytest.approx(round(potassium, 4), rel=1e-12, abs=1e-15)


def test_oxide_factors_are_those_of_the_atomic_weights() -> None:
    p, k, o = 30.973762, 39.0983, 15.999
    assert pytest.approx(2 * p / (2 * p + 5 * o), abs=5e-5) == P_PER_P2O5
    assert pytest.approx(2 * k / (2 * k + o), abs=5e-5) == K_PER_K2O


def test_without_a_rate_or_a_figure_nothing_is_said_to_be_given() -> None:
    assert gives(Feed("", None, 12.0)) is None
    assert gives(Feed("", 25.0)) is None


@pytest.mark.parametrize("text", ["12-0", "12/0/9", "a-b-c", ""])
def test_what_is_no_label_is_refused(text: str) -> None:
    with pytest.raises(BadInputError, match="12-0-9"):
        read_label(text)


def test_a_label_of_more_than_the_bag_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        read_label("60-30-20")
