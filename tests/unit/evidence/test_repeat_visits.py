"""What was missed at one look shows at the next."""

from math import exp, log

import numpy as np
import pytest

from swardbook.evidence.repeat_visits import abundance, occupancy
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import data_of, expected, outside_rows, tolerance


def test_places_held_are_those_of_two_programs() -> None:
    want, seen = expected("occupancy_gp"), data_of("occupancy_gp")
    made = occupancy(seen, [want["visits"]] * len(seen))
    within = tolerance("occupancy_gp")["abs"]
    assert made.noted == pytest.approx(want["naive"])
    assert made.share == pytest.approx(want["share"], abs=within)
    assert made.detection == pytest.approx(want["detection"], abs=within)
    assert made.log_likelihood == pytest.approx(-want["minus_log_likelihood"], abs=within)
    ends = [log(end / (1 - end)) for end in made.interval]
    wide = 2 * 1.959964 * want["se_logit"][0]
    assert ends[1] - ends[0] == pytest.approx(wide, rel=0.03)


def test_plants_to_a_place_are_those_of_two_programs() -> None:
    want = expected("nmixture_gp")
    sites: dict[str, list[int]] = {}
    for row in outside_rows("nmixture_gp"):
        if row["spp"] == "GP":
            sites.setdefault(row["site"], []).append(int(row["count"]))
    made = abundance(list(sites.values()))
    within = tolerance("nmixture_gp")["rel"]
    assert made.per_place == pytest.approx(want["mean"], rel=within)
    assert made.detection == pytest.approx(want["detection"], rel=within)
    assert made.log_likelihood == pytest.approx(-want["minus_log_likelihood"], rel=within)


def test_places_that_every_look_saw_leave_nothing_missed() -> None:
    made = occupancy([3, 3, 0, 0], [3, 3, 3, 3])
    assert made.detection == pytest.approx(1, abs=1e-6)
    assert made.share == pytest.approx(0.5, abs=1e-6)


def test_looks_that_often_miss_allow_that_every_place_holds_it() -> None:
    made = occupancy([1, 0, 1, 0, 0, 1], [2] * 6)
    assert made.noted == 0.5
    assert made.share > 0.9
    assert made.interval.high == 1.0


def test_the_true_share_lies_in_the_range_as_often_as_it_should() -> None:
    source = np.random.Generator(np.random.Philox(key=11))
    inside, surveys = 0, 200
    for _ in range(surveys):
        held = source.random(40) < 0.6
        seen = source.binomial(3, 0.5, 40) * held
        low, high = occupancy(seen.tolist(), [3] * 40).interval
        inside += low <= 0.6 <= high
    assert abs(inside / surveys - 0.95) < 0.05


def test_plants_missed_are_found_again_in_drawn_counts() -> None:
    source = np.random.Generator(np.random.Philox(key=3))
    plants = source.poisson(6, 120)
    made = abundance([source.binomial(n, 0.6, 4).tolist() for n in plants])
    assert made.per_place == pytest.approx(6, rel=0.15)
    assert made.detection == pytest.approx(0.6, abs=0.08)


def test_a_single_place_agrees_with_the_sum_written_out() -> None:
    made = abundance([[3, 2]])
    m, p = made.per_place, made.detection
    total, term = 0.0, exp(-m)
    for n in range(151):
        term = term if n == 0 else term * m / n
        if n >= 3:
            ways = (n * (n - 1) * (n - 2) / 6) * (n * (n - 1) / 2)
            total += term * ways * p**5 * (1 - p) ** (2 * n - 5)
    assert made.log_likelihood == pytest.approx(log(total), abs=1e-9)


def test_one_look_or_no_find_says_nothing_of_what_is_missed() -> None:
    for call in (
        lambda: occupancy([1, 0], [1, 1]),
        lambda: occupancy([0, 0], [3, 3]),
        lambda: abundance([[1], [2]]),
        lambda: abundance([[0, 0]]),
    ):
        with pytest.raises(NotEnoughDataError):
            call()
    with pytest.raises(OutOfRangeError):
        occupancy([3], [2])
    with pytest.raises(OutOfRangeError):
        abundance([[151, 1]])
