"""Strips and squares set out, and what they can show."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.planning.strip_trial import ACROSS, ALONG, SQUARES, set_out, what_it_shows

COURT = (32.0, 25.6)
SHARES = (0.55, 0.41)


def coins(number: int) -> list[bool]:
    return [n % 3 == 0 for n in range(number)]


def test_strips_are_whole_passes_of_the_machine_side_by_side() -> None:
    laid = set_out(COURT, 0.51, 0.05, coins(8))
    assert laid.way == ALONG
    assert laid.width_m == pytest.approx(3 * 0.51 - 2 * 0.05)
    assert laid.pieces[1].corner_m[1] == pytest.approx(laid.width_m)
    assert {each.size_m[0] for each in laid.pieces} == {32.0}


@given(
    st.floats(12, 60), st.floats(12, 40), st.floats(0.3, 1.2), st.integers(1, 6),
    st.sampled_from(["", ALONG, ACROSS, SQUARES]),
)  # fmt: skip
def test_pieces_lie_inside_apart_and_in_pairs(
    one: float, other: float, width: float, pairs: int, way: str
) -> None:
    sides = (max(one, other), min(one, other))
    try:
        laid = set_out(sides, width, width * 0.1, coins(pairs), way)
    except BadInputError:
        return
    ground = box(0, 0, *sides).buffer(1e-6)
    shapes = [box(x, y, x + a, y + b) for (x, y), (a, b) in
              ((each.corner_m, each.size_m) for each in laid.pieces)]  # fmt: skip
    assert all(ground.covers(shape) for shape in shapes)
    for n, shape in enumerate(shapes):
        assert all(shape.intersection(far).area < 1e-6 for far in shapes[n + 1 :])
    for pair in range(1, pairs + 1):
        two = [shape for shape, each in zip(shapes, laid.pieces, strict=True) if each.pair == pair]
        assert two[0].distance(two[1]) < 1e-6
        sides_of_pair = [each.is_treated for each in laid.pieces if each.pair == pair]
        assert sorted(sides_of_pair) == [False, True]


def test_the_coin_decides_which_of_a_pair_is_treated_and_names_do_not_tell() -> None:
    laid = set_out(COURT, 0.51, 0.05, [True, False, True, False], letter="V")
    assert laid.treated == ("V1a", "V2b", "V3a", "V4b")
    assert laid.untreated == ("V1b", "V2a", "V3b", "V4a")


def test_ground_too_narrow_for_strips_is_refused_with_the_room_there_is() -> None:
    with pytest.raises(BadInputError, match="at most"):
        set_out((8.0, 4.0), 0.51, 0.05, coins(8))
    with pytest.raises(BadInputError, match="strips along the long side, strips across it"):
        set_out(COURT, 0.51, 0.05, coins(4), "rings")


def test_squares_are_six_metres_and_neighbours() -> None:
    laid = set_out(COURT, 0.51, 0.05, coins(10), SQUARES)
    assert laid.fits == 10
    assert {each.size_m for each in laid.pieces} == {(6.0, 6.0)}


def test_eight_pairs_would_usually_show_six_points_where_pairs_spread_by_five() -> None:
    shows = what_it_shows(8, 6, 5, SHARES)
    assert shows.pairs_wanted == 8
    assert shows.is_enough
    assert not what_it_shows(5, 6, 5, SHARES).is_enough


def test_however_large_the_difference_four_pairs_are_the_least() -> None:
    assert what_it_shows(4, 60, 3, SHARES).pairs_wanted == 4


def test_tufts_are_shared_out_over_the_pieces() -> None:
    shows = what_it_shows(8, 5, None, SHARES)
    assert shows.tufts_a_piece * 8 >= shows.tufts > (shows.tufts_a_piece - 1) * 8
    with pytest.raises(OutOfRangeError):
        what_it_shows(8, 0, None, SHARES)
