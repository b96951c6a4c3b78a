"""What is asked about a count."""

from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.odd_counts import odd_about, to_nearest_step
from tests.support.counted import around, points


def test_nothing_found_in_many_places_is_asked_after() -> None:
    """F15."""
    assert odd_about(points([0] * 40)) == (
        "40 places and nothing found anywhere. Looked, or filled?",
    )
    assert odd_about(points([0] * 6)) == ()


def test_ten_places_exactly_alike_are_asked_after() -> None:
    assert odd_about(points([20] * 10)) == ("10 places exactly alike; keep and mark for recount?",)
    assert odd_about(points(around(20, 10, 12))) == ()


def test_layers_by_eye_can_overlap_and_are_labelled() -> None:
    place = PlaceCount("A01", Method.BY_EYE, {"a": 40, "b": 50, "bare": 25}, 100)
    (told,) = odd_about([place])
    assert "115" in told
    assert "by eye, overlapping" in told


def test_the_eye_sees_to_the_nearest_five() -> None:
    assert to_nearest_step(17.43) == 15
    assert to_nearest_step(17.5) == 20


def test_two_counters_of_one_occasion_are_asked_for_places_in_common() -> None:
    """F35."""
    ines, odalys = points([20, 16, 24, 12]), points([20, 28, 24, 16], "Odalys")
    shared_out = (*ines, *points([20, 16, 24], "Odalys", letter="K"))
    assert odd_about(shared_out) == (
        "Ines and Odalys counted, no places both."
        " Let both count 4 places, so that the difference shows?",
    )
    (told,) = odd_about((*ines, odalys[0], *points([20, 16], "Odalys", letter="K")))
    assert "1 place both" in told
    assert odd_about((*ines, *odalys)) == ()
    assert odd_about(ines) == ()
