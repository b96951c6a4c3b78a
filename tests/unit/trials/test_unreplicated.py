"""Single tubs: described, never ranked."""

from math import sqrt

import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.trials.unreplicated import describe


def test_tubs_stand_by_name_with_the_error_of_measuring_only() -> None:
    made = describe({"Thimble": [8.0, 10.0, 9.0], "Bobbin": [2.0], "Empty": []})
    assert [each.name for each in made.plots] == ["Bobbin", "Thimble"]
    assert made.plots[0].measuring_error is None
    assert made.plots[1].measuring_error == pytest.approx(1 / sqrt(3))
    assert made.borrowed.is_judged


def test_a_borrowed_spread_gives_a_wide_range_and_says_whose_it_is() -> None:
    made = describe({"a": [100.0], "b": [100.0]})
    low, high = made.borrowed_interval("a", "b")
    assert [low, high] == pytest.approx([-27.7, 27.7], abs=0.1)
    own = describe({"a": [100.0], "b": [100.0]}, borrowed=0.05)
    assert own.borrowed.value == 0.05
    assert own.borrowed_interval("a", "b").high == pytest.approx(high / 2)


def test_no_spread_can_be_borrowed_from_nowhere() -> None:
    with pytest.raises(OutOfRangeError):
        describe({"a": [1.0]}, borrowed=0.0)
