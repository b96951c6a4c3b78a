"""Frames enough, and no more than that."""

from math import inf, sqrt

import numpy as np
import pytest

from swardbook.evidence import Interval, quadrats_needed
from swardbook.evidence.sampling import (
    Finding,
    Taylor,
    frames_to_show,
    green_stop,
    kuno_stop,
    operating,
    sequential_test,
    taylors_law,
    true_share,
)
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import expected, outside_rows, tolerance

SIMULATED = 20_000
"""Surveys behind the reference for how a sequential test fares."""


def test_the_stop_line_of_a_power_law_is_that_of_the_reference() -> None:
    for frames, plants in expected("survey_green").items():
        made = green_stop(int(frames), Taylor(2, 1.4), 0.25)
        assert made == pytest.approx(plants, rel=tolerance("survey_green")["rel"])


def test_the_stop_line_of_one_clumping_is_that_of_the_reference() -> None:
    for frames, plants in expected("survey_kuno_constk").items():
        made = kuno_stop(int(frames), 0.8, 0.25)
        assert made == pytest.approx(plants, rel=tolerance("survey_kuno_constk")["rel"])
    assert kuno_stop(20, 0.8, 0.25) == inf


def test_both_stop_lines_meet_where_plants_fall_independently() -> None:
    assert green_stop(7, Taylor(1, 1), 0.2) == pytest.approx(kuno_stop(7, inf, 0.2))


def test_a_stop_line_is_reached_with_the_frames_that_the_mean_asks_for() -> None:
    frames = quadrats_needed(2.0, 0.8, 0.25)
    assert kuno_stop(frames, 0.8, 0.25) <= 2.0 * frames
    assert kuno_stop(frames - 1, 0.8, 0.25) > 2.0 * (frames - 1)


def test_few_and_many_are_told_apart_by_the_lines_of_the_reference() -> None:
    want, within = expected("survey_sprt_nb"), tolerance("survey_sprt_nb")["rel"]
    test = sequential_test(0.5, 1.5, 0.8)
    assert test.slope == pytest.approx(want["slope"], rel=within)
    assert [test.low, test.high] == pytest.approx([want["h0"], want["h1"]], rel=within)
    assert test.say(0, 4) is Finding.COUNT_ON
    assert test.say(0, 5) is Finding.FEW
    assert test.say(9, 5) is Finding.MANY


@pytest.mark.parametrize("case", expected("survey_sprt_nb_oc"))
def test_the_test_fares_as_twenty_thousand_simulated_surveys_did(case: dict[str, float]) -> None:
    made = operating(sequential_test(0.5, 1.5, 0.8), case["m"], 0.8, 200)
    errors = tolerance("survey_sprt_nb_oc")["standard_errors"]
    error = sqrt(made.few * (1 - made.few) / SIMULATED)
    assert abs(made.few - case["p_accept_low"]) < errors * error
    assert made.mean_frames == pytest.approx(case["asn"], rel=0.03)
    assert made.unsettled < 1e-3


def test_wrong_answers_are_no_more_frequent_than_was_asked() -> None:
    test = sequential_test(0.5, 1.5, inf, 0.1, 0.05)
    assert 1 - operating(test, 0.5, inf, 500).few < 0.1
    assert operating(test, 1.5, inf, 500).few < 0.05


def test_frames_run_out_where_the_truth_lies_between() -> None:
    made = operating(sequential_test(0.5, 1.5, 0.8), 1.0, 0.8, 5)
    assert made.mean_frames <= 5
    assert made.unsettled > 0.3


def test_a_test_held_open_for_five_frames_is_wrong_less_often_and_takes_longer() -> None:
    test = sequential_test(0.5, 1.5, 0.8)
    soon, later = (operating(test, 0.5, 0.8, 200, least) for least in (1, 5))
    assert later.few > soon.few
    assert 5 <= later.mean_frames > soon.mean_frames
    assert operating(test, 50.0, 0.8, 200, 5).mean_frames == pytest.approx(5, abs=0.01)


def test_a_test_held_open_fares_as_drawn_surveys_do() -> None:
    test, k, mean, least = sequential_test(0.5, 1.5, 0.8), 0.8, 1.0, 6
    source = np.random.Generator(np.random.Philox(key=8))
    totals = source.negative_binomial(k, k / (k + mean), (4000, 100)).cumsum(axis=1)
    frames = np.arange(1, 101)
    low, high = test.slope * frames + test.low, test.slope * frames + test.high
    settled = ((totals <= low) | (totals >= high)) & (frames >= least)
    first = np.argmax(settled, axis=1)
    few = np.array([totals[n, at] <= low[at] for n, at in enumerate(first)])
    made = operating(test, mean, k, 100, least)
    assert abs(float(few.mean()) - made.few) < 3 * sqrt(0.25 / 4000)
    assert float((first + 1).mean()) == pytest.approx(made.mean_frames, rel=0.05)


def test_halving_four_plants_takes_54_frames_each_time() -> None:
    assert frames_to_show(4, 0.5, 0.8) == 54
    assert frames_to_show(4, 0.5, 0.8, power=0.5) < 54


def test_as_many_frames_show_the_change_as_often_as_they_promise() -> None:
    mean, k, trials = 4.0, 0.8, 4000
    frames = frames_to_show(mean, 0.5, k)
    source = np.random.Generator(np.random.Philox(key=5))

    def means(true: float) -> np.ndarray:
        drawn = source.negative_binomial(k, k / (k + true), (trials, frames))
        return np.asarray(drawn.mean(axis=1))

    one, two = means(mean), means(mean / 2)
    error = np.sqrt((1 / one + 1 / two + 2 / k) / frames)
    shown = np.abs(np.log(two / one)) > 1.959964 * error
    assert abs(float(shown.mean()) - 0.8) < 0.03


def test_lilies_clump_by_the_power_law_of_the_reference() -> None:
    rows = outside_rows("nb_lily_flowers")
    blocks: dict[tuple[int, int], list[float]] = {}
    for row in rows:
        at = (int((float(row["x"]) - 1) // 8), int((float(row["y"]) - 1) // 8))
        blocks.setdefault(at, []).append(float(row["flowers"]))
    assert {len(each) for each in blocks.values()} == {16}
    law = taylors_law(
        [float(np.mean(each)) for each in blocks.values()],
        [float(np.var(each, ddof=1)) for each in blocks.values()],
    )
    assert [law.a, law.b] == pytest.approx([0.369623, 1.943517], abs=1e-6)


def test_a_power_law_needs_three_counts() -> None:
    with pytest.raises(NotEnoughDataError, match="three counts"):
        taylors_law([1, 2, 0], [1, 3, 0])


def test_the_true_share_is_that_of_the_reference() -> None:
    want = expected("survey_rogan_gladen")
    made = true_share(Interval(want["p_app"], want["p_app"]), want["se"], want["sp"])
    assert made == pytest.approx((want["p"], want["p"]), rel=1e-8)


def test_more_mistakes_than_finds_leave_nothing_and_none_below_nothing() -> None:
    assert true_share(Interval(0.01, 0.02), 0.9, 0.95) == (0.0, 0.0)
    assert true_share(Interval(0.5, 0.9), 0.6, 1.0).high == 1.0
    with pytest.raises(OutOfRangeError, match=r"above 0\.1"):
        true_share(Interval(0.1, 0.2), 0.1, 0.9)


def test_refuses_what_no_count_can_be() -> None:
    for call in (
        lambda: green_stop(0, Taylor(2, 1.4), 0.25),
        lambda: green_stop(5, Taylor(2, 2), 0.25),
        lambda: kuno_stop(5, 0, 0.25),
        lambda: kuno_stop(5, 1, 0),
        lambda: frames_to_show(0, 0.5, 1),
        lambda: frames_to_show(1, 1, 1),
        lambda: frames_to_show(1, 0.5, 1, 1.0),
        lambda: sequential_test(2, 1, 1),
        lambda: sequential_test(1, 2, 1, 0.6),
        lambda: operating(sequential_test(1, 2, 1), 0, 1, 10),
        lambda: true_share(Interval(-0.1, 0.2), 0.9, 0.9),
    ):
        with pytest.raises(OutOfRangeError):
            call()
