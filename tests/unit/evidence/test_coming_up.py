"""Seeds that come up between looks, and seeds that never do."""

import numpy as np
import pytest

from swardbook.evidence.coming_up import fit_coming_up
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import expected, outside_rows, tolerance


def test_chickweed_comes_up_as_two_programs_say() -> None:
    rows, want = outside_rows("chickweed"), expected("chickweed")
    within = tolerance("chickweed")["rel"]
    looked = [row for row in rows if row["end"] != "inf"]
    made = fit_coming_up(
        [float(row["end"]) for row in looked], [int(row["count"]) for row in looked], want["seeds"]
    )
    assert made.share == pytest.approx(want["share"], rel=within)
    assert made.middle == pytest.approx(want["middle"], rel=within)
    assert made.steepness == pytest.approx(want["steepness"], rel=within)
    assert made.errors == pytest.approx(want["errors"], rel=within)
    assert made.log_likelihood == pytest.approx(want["log_likelihood"], rel=within)
    assert made.time_of(0.1) == pytest.approx(want["t10"], rel=within)
    assert made.time_of(0.9) == pytest.approx(want["t90"], rel=within)


def test_what_was_drawn_is_found_again() -> None:
    chance = np.random.Generator(np.random.Philox(key=9))
    seeds, up = 3000, 0.7
    times = 10 * (1 / chance.random(seeds) - 1) ** (-1 / 6)
    times[chance.random(seeds) > up] = np.inf
    looks = [4.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 14.0, 18.0, 30.0]
    came = np.histogram(times, [0.0, *looks])[0].tolist()
    made = fit_coming_up(looks, came, seeds)
    for found, true, error in zip(
        (made.share, made.middle, made.steepness), (up, 10.0, 6.0), made.errors, strict=True
    ):
        assert abs(found - true) < 3 * error
    assert made.time_of(0.5) == pytest.approx(made.middle)


def test_looks_that_tell_nothing_are_refused() -> None:
    with pytest.raises(NotEnoughDataError, match="two looks"):
        fit_coming_up([1, 2, 3], [0, 5, 0], 20)
    with pytest.raises(OutOfRangeError, match="looks"):
        fit_coming_up([2, 1], [1, 1], 20)
    with pytest.raises(OutOfRangeError, match="came up"):
        fit_coming_up([1, 2], [15, 15], 20)
    with pytest.raises(OutOfRangeError, match="part"):
        fit_coming_up([1, 2, 3], [2, 5, 1], 20).time_of(1.0)
