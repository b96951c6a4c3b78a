"""A place is found by tape, by side or by phone, and what cannot be is said with its reason."""

from math import isclose

import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.husbandry import places
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.husbandry.ground import Peg, Site, Tolerance, Use, Zone
from swardbook.husbandry.positions import Position
from swardbook.husbandry.where import By, FixedPoint, Outline, SitePlan, Tape, Where

RING = ((0.0, 0.0), (38.0, 0.0), (38.0, 31.6), (0.0, 31.6))
COURT = ((3.0, 3.0), (35.0, 3.0), (35.0, 28.6), (3.0, 28.6))


def test_two_tapes_meet_in_two_places_left_and_right_of_their_line() -> None:
    found = places.from_tapes((0, 0), 5.0, (6, 0), 5.0)
    assert found.left == pytest.approx((3.0, 4.0))
    assert found.right == pytest.approx((3.0, -4.0))


def test_flat_crossings_are_worse_than_square_ones() -> None:
    square = places.from_tapes((0, 0), 3.0, (5, 0), 4.0)
    flat = places.from_tapes((0, 0), 2.6, (5, 0), 2.5)
    assert square.within_m == pytest.approx(0.0707, abs=1e-3)
    assert flat.within_m > 2 * square.within_m


def test_tapes_that_just_fall_short_meet_on_the_line_and_others_are_refused() -> None:
    found = places.from_tapes((0, 0), 2.95, (5, 0), 2.0)
    assert found.left == found.right
    with pytest.raises(BadInputError, match=r"They miss by 1\.00 m"):
        places.from_tapes((0, 0), 2.0, (5, 0), 2.0)
    with pytest.raises(BadInputError, match="two fixed points, apart"):
        places.from_tapes((1, 1), 2.0, (1, 1), 2.0)


def test_a_side_gives_the_place_to_its_left() -> None:
    assert places.from_side((0, 0), (0, 10), 4.0, 1.0) == pytest.approx((-1.0, 4.0))
    with pytest.raises(BadInputError, match="no length"):
        places.from_side((2, 2), (2, 2), 1.0, 1.0)


def test_a_phone_far_from_the_site_is_asked_about() -> None:
    origin = Position(52.1, -0.5)
    with pytest.raises(BadInputError, match="km away"):
        places.from_phone(origin, Position(52.1, 0.5))


def test_a_hole_is_outside_and_a_place_inside_the_ring_is_in_it() -> None:
    surround = Outline(RING, holes=(COURT,))
    assert isclose(surround.area_m2, 381.6)
    assert places.is_inside((1.0, 10.0), surround.on_site)
    assert not places.is_inside((10.0, 10.0), surround.on_site)
    assert not places.is_inside((40.0, 10.0), surround.on_site)


def test_an_outline_that_crosses_itself_or_is_all_hole_is_refused() -> None:
    with pytest.raises(BadInputError, match="cross"):
        Outline(((0, 0), (4, 4), (4, 0), (0, 4)))
    with pytest.raises(BadInputError, match="more cut out"):
        Outline(COURT, holes=(RING,))


def test_a_zone_drawn_anew_keeps_its_frame_so_that_what_lies_in_it_stays() -> None:
    first = places.drawn([(10, 5), (20, 5), (20, 12), (10, 12)])
    assert (first.east_m, first.north_m, first.corners[2]) == (10.0, 5.0, (10.0, 7.0))
    wider = places.drawn([(8, 5), (20, 5), (20, 12), (8, 12)], like=first)
    assert (wider.east_m, wider.corners[0]) == (10.0, (-2.0, 0.0))
    assert wider.on_site[0][0] == (8.0, 5.0)


def test_the_nearest_of_two_alike_is_the_first_and_of_none_there_is_none() -> None:
    assert places.nearest((0, 0), [("P2", (3, 0)), ("P1", (0, 3))]) == ("P2", 3.0)
    assert places.nearest((0, 0), []) is None


def test_only_four_square_corners_have_two_sides() -> None:
    assert places.oblong_sides(COURT) == (32.0, 25.6)
    assert places.oblong_sides(((0, 0), (10, 0), (14, 6), (4, 6))) is None
    assert places.oblong_sides(RING[:3]) is None


def test_bearings_are_said_as_winds() -> None:
    assert places.bearing((0, 0), (-1, 0)) == 270.0
    assert places.compass_word(350.0) == "north"
    assert places.compass_word(places.bearing((0, 0), (1, 1))) == "north-east"
    assert places.bearing((0, 0), (0, 1), north_deg=90.0) == 270.0


def test_what_is_drawn_comes_back_as_it_was() -> None:
    zone = Zone("Surround", 381.6, Use.SURROUND, Tolerance(0.3, 0.1, 2), 20.0, sides="38x31.6",
                outline=Outline(RING, 30.0, 8.0, (COURT,)))  # fmt: skip
    where = Where(4.0, 2.5, By.TAPE, 0.1, (Tape("gate post", 12.4), Tape("Surround 1", 4.7)))
    peg = Peg("R01", "Surround", at=where)
    site = Site("Fennowick", 52.0, 62.0, plan=SitePlan((FixedPoint("gate post", 2.0, 0.0),), 12.0))
    for kept in (zone, peg, site):
        assert from_plain(type(kept), to_plain(kept), "it") == kept


def test_a_zone_written_before_there_was_a_plan_is_read_as_not_drawn() -> None:
    plain = to_plain(Zone("Main court", 819.2, Use.PLAY, Tolerance(0.1, 0.1, 0), 8.0))
    del plain["outline"], plain["sides"]
    assert from_plain(Zone, plain, "it").outline is None
