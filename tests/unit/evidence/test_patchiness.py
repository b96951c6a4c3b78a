"""Near readings are alike where ground is patchy, and no more so than others where it is not."""

import numpy as np
import pytest

from swardbook.evidence.patchiness import Lag, semivariogram
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import expected, outside_rows, tolerance


def test_lily_seedlings_grow_unlike_with_distance_as_two_programs_say() -> None:
    rows, want = outside_rows("variogram"), expected("variogram")
    x, y, found = ([float(row[name]) for row in rows] for name in ("x", "y", "seedlings"))
    made = semivariogram(x, y, np.sqrt(found).tolist(), want["edges"])
    assert [each.pairs for each in made] == want["pairs"]
    within = tolerance("variogram")["rel"]
    assert [each.distance for each in made] == pytest.approx(want["distance"], rel=within)
    assert [each.semivariance for each in made] == pytest.approx(want["gamma"], rel=within)


def test_three_readings_in_a_row_are_done_by_hand() -> None:
    made = semivariogram([0, 1, 2], [0, 0, 0], [1, 3, 7], [0, 1, 2])
    assert made == (Lag(1.0, 2, (2**2 + 4**2) / 4), Lag(2.0, 1, 18.0))


def test_ground_without_patches_is_as_unlike_near_as_far() -> None:
    values = np.random.Generator(np.random.Philox(key=4)).normal(size=400)
    x, y = (each.ravel().tolist() for each in np.meshgrid(np.arange(20.0), np.arange(20.0)))
    whole = float(values.var(ddof=1))
    for lag in semivariogram(x, y, values.tolist(), [0.5, 1.5, 3, 5, 8]):
        assert lag.semivariance == pytest.approx(whole, rel=0.1)


def test_refuses_readings_without_places() -> None:
    with pytest.raises(OutOfRangeError, match="as the places"):
        semivariogram([0, 1], [0, 1], [1], [0, 1])
    with pytest.raises(OutOfRangeError, match="that rise"):
        semivariogram([0, 1], [0, 1], [1, 2], [1, 0])
    with pytest.raises(NotEnoughDataError):
        semivariogram([0], [0], [1], [0, 1])
