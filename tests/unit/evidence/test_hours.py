"""Hours of pulling."""

import pytest

from swardbook.evidence import Pass, fit_pace
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError


def test_two_passes_fix_searching_and_handling() -> None:
    pace = fit_pace([Pass(100, 200, 100 * 0.01 + 200 * 0.005), Pass(100, 50, 1.25)])
    assert (pace.search_h_m2, pace.handling_h) == pytest.approx((0.01, 0.005))
    assert pace.spread_h is None
    assert pace.hours(240, 20) == pytest.approx(2.5)


def test_a_second_pass_costs_more_a_plant() -> None:
    pace = fit_pace([Pass(437, 1484, 16.5), Pass(437, 445, 9.8), Pass(437, 604, 7.2)])
    assert pace.hours(437, 133) / 133 > pace.hours(437, 1484) / 1484


def test_neither_part_can_take_less_than_no_time() -> None:
    pace = fit_pace([Pass(100, 10, 1.0), Pass(100, 100, 12.0), Pass(100, 50, 5.5)])
    assert pace.search_h_m2 == 0
    assert pace.handling_h > 0
    slow = fit_pace([Pass(100, 100, 1.0), Pass(100, 10, 2.0)])
    assert slow.handling_h == 0


def test_alike_passes_and_one_pass_are_not_enough() -> None:
    with pytest.raises(NotEnoughDataError, match="two timed passes"):
        fit_pace([Pass(100, 10, 1)])
    with pytest.raises(NotEnoughDataError, match="all alike"):
        fit_pace([Pass(100, 10, 1), Pass(200, 20, 2)])
    with pytest.raises(OutOfRangeError):
        Pass(0, 10, 1)
