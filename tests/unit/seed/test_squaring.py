"""After sowing the weights square up, and a mix-up is pointed at."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.demo.trial_generator import draw_trial
from swardbook.demo.trial_records import RATES, plot_name
from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.seed.squaring import SownBay, WeighedBack, square_up

PLOT_M2 = 3.0
TRIAL = [
    SownBay(plot_name(place), RATES[planned][0], RATES[planned][1] * PLOT_M2)
    for place, planned in draw_trial().plan.items()
    if planned in RATES
]


def left(lot: str, off: float = 0.0) -> WeighedBack:
    planned = sum(bay.planned_g for bay in TRIAL if bay.lot == lot)
    return WeighedBack(lot, 1000, 1000 - planned + off)


def test_90_g_light_and_105_g_heavy_point_at_the_two_lots_and_their_plots() -> None:
    """E09: one Teacake plot got Pocketwatch."""
    lots = [left("PW-0555", -90), left("TC-0771", 105), left("GP-2240"), left("CW-0093", 4)]
    found = square_up(TRIAL, lots)
    assert not found.is_square
    [mix_up] = found.mix_ups
    assert (mix_up.used_too_much, mix_up.used_too_little, mix_up.bays) == ("PW-0555", "TC-0771", 1)
    assert mix_up.where == ("1-05", "2-04", "3-08", "4-03")
    assert "PW-0555 is 90 g light and TC-0771 105 g heavy" in mix_up.told
    assert "BB-0417" in found.not_weighed_back


def test_leftovers_that_agree_say_nothing_is_wrong() -> None:
    found = square_up(TRIAL, [left("PW-0555", 12), left("TC-0771", -15)])
    assert found.is_square
    assert found.mix_ups == ()


def test_a_spill_of_one_lot_is_no_mix_up() -> None:
    found = square_up(TRIAL, [left("PW-0555", -90), left("TC-0771")])
    assert not found.is_square
    assert found.mix_ups == ()


def test_used_is_held_to_five_in_a_hundred_of_planned() -> None:
    bays = [SownBay("north", "BB-0417", 8192, 8500), SownBay("south", "BB-0417", 8192, 8700)]
    north, south = square_up(bays).bays
    assert north.is_within
    assert not south.is_within
    assert south.off_g == 508


def test_two_bags_of_unlike_weight_exchanged_are_found() -> None:
    bays = [
        SownBay("1-04", "PW-0555", 90, 105), SownBay("1-05", "TC-0771", 105, 90),
        SownBay("1-06", "TH-1182", 27, 27), SownBay("1-09", "TC-0771", 105),
    ]  # fmt: skip
    found = square_up(bays)
    [mix_up] = found.mix_ups
    assert mix_up.where == ("1-04", "1-05")
    assert found.not_weighed == ("1-09",)


@given(st.integers(0, len(TRIAL) - 1), st.sampled_from(sorted({bay.lot for bay in TRIAL})))
def test_any_one_plot_sown_with_another_lot_is_among_those_pointed_at(at: int, got: str) -> None:
    """Whatever the plot and the lot, wherever the two lots' weights can tell."""
    plot = TRIAL[at]
    if plot.lot == got:
        return
    weight = next(bay.planned_g for bay in TRIAL if bay.lot == got)
    found = square_up(TRIAL, [left(got, -weight), left(plot.lot, plot.planned_g)])
    assert any(
        plot.name in each.where and (each.used_too_much, each.used_too_little) == (got, plot.lot)
        for each in found.mix_ups
    )


def test_each_lot_and_bay_stands_once_and_nothing_grows_in_the_bag() -> None:
    with pytest.raises(BadInputError, match="each lot once"):
        square_up(TRIAL, [left("PW-0555"), left("pw-0555")])
    with pytest.raises(OutOfRangeError, match="another bag"):
        square_up(TRIAL, [WeighedBack("PW-0555", 1000, 1400)])


def test_what_was_weighed_out_counts_before_what_was_planned() -> None:
    bays = [SownBay("north", "BB-0417", 8192, 9000), SownBay("south", "BB-0417", 8192)]
    [lot] = square_up(bays, [WeighedBack("BB-0417", 40_000, 22_800)]).lots
    assert lot.expected_g == 40_000 - 9000 - 8192
    assert lot.is_within
