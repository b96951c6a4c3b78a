"""Between readings the map is as sure as they are near."""

import numpy as np
import pytest

from swardbook.evidence.kriging import Fading, between
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import expected, outside_rows, tolerance

FADING = Fading(0.0, 1.0, 2.0)


def test_lily_seedlings_are_mapped_as_two_programs_do() -> None:
    rows = outside_rows("kriging")
    x, y, seen = ([float(row[name]) for row in rows] for name in ("x", "y", "seedlings"))
    want, within = expected("kriging"), tolerance("kriging")["rel"]
    made = between(
        x, y, np.sqrt(seen).tolist(), [(each[0], each[1]) for each in want], Fading(0.4, 1.0, 3.0)
    )
    assert [each.value for each in made] == pytest.approx([each[2] for each in want], rel=within)
    assert [each.variance for each in made] == pytest.approx([each[3] for each in want], rel=within)


def test_without_nugget_a_reading_is_itself_and_far_away_the_mean_is_told() -> None:
    here, far = between([0, 4], [0, 0], [1.0, 3.0], [(0, 0), (1e6, 0)], FADING)
    assert here.value == pytest.approx(1.0)
    assert here.variance == pytest.approx(0.0, abs=1e-12)
    assert far.value == pytest.approx(2.0)
    assert far.variance > 1.0


def test_halfway_between_two_readings_is_their_mean() -> None:
    (made,) = between([0, 4], [0, 0], [1.0, 3.0], [(2, 0)], FADING)
    assert made.value == pytest.approx(2.0)


def test_what_cannot_be_mapped_is_refused() -> None:
    with pytest.raises(NotEnoughDataError):
        between([0], [0], [1], [(0, 0)], FADING)
    with pytest.raises(OutOfRangeError):
        between([0, 1], [0, 1], [1], [(0, 0)], FADING)
    with pytest.raises(OutOfRangeError):
        Fading(-0.1, 1.0, 1.0)
    with pytest.raises(OutOfRangeError):
        Fading(0.1, 1.0, 0.0)
