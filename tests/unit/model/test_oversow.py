"""Seed into a standing sward: what it adds depends on the gaps, the contact and the competition."""

from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.ground import Tolerance, Use, Zone
from swardbook.model.chance import Chance
from swardbook.model.from_seed import Courses, lay_courses
from swardbook.model.growing import grower
from swardbook.model.oversow import Oversowing, Stood, Sward, Work, draws_for, follow, sward_for
from swardbook.model.past import Known, Story, live_through
from swardbook.model.start import Start
from swardbook.model.weather_ahead import weather_ahead
from swardbook.seed.lot import LotPart
from tests.support.model import county_drivers, county_weather, kept, kernel, mixture

FIRST, TODAY = date(2011, 6, 1), date(2011, 7, 31)
SOWN = TODAY + timedelta(days=21)
ZONE = Zone("A lawn", 200.0, Use.FAMILY_LAWN, Tolerance(0.1, 0.05, 0), 25.0)
CHANCE = Chance(("oversown",))
RYE = (LotPart("perennial ryegrass", 1.0),)
MEADOW = (LotPart("smooth-stalked meadow-grass", 1.0),)


@cache
def courses() -> Courses:
    ahead = weather_ahead(county_weather(), TODAY, TODAY + timedelta(days=200), 4, CHANCE)
    return lay_courses(ahead, 52.2, 15.0)


@cache
def known(bare: float) -> Known:
    drivers = county_drivers(FIRST, TODAY)
    start = Start(bare=bare, weeds={"annual_meadow_grass": 0.1}, height_mm=25, cut_height_mm=25)
    told = Story(ZONE, 52.2, mixture(), start, FIRST, TODAY, drivers, kept(drivers), ())
    return live_through(told, 64, CHANCE, grower(kernel()))


def sward(bare: float = 0.5, parts: tuple[LotPart, ...] = RYE) -> Sward:
    return sward_for(known(bare), ZONE, 52.2, parts, SOWN, CHANCE, draws_for(courses()))


def followed(
    of: Sward, rate: float = 20.0, method: str = "slit", parts: tuple[LotPart, ...] = RYE,
    *, watered: bool = True, scarified: bool = False, cut: bool = True,
) -> Stood:  # fmt: skip
    seed = Oversowing(parts, rate, method) if rate else None
    work = Work(SOWN, 25.0, watered, scarified, cut)
    return follow(of, seed, work, courses(), 100, kernel())


def added(of: Sward, method: str = "slit", *, watered: bool = True) -> float:
    with_seed = followed(of, method=method, watered=watered)
    return float(np.mean(with_seed.at(56) - followed(of, 0.0, watered=watered).at(56)))


def test_seed_adds_more_to_a_thin_sward_than_to_a_closed_one() -> None:
    thin, closed = added(sward(0.6)), added(sward(0.02))
    assert thin > closed > 0, (thin, closed)


def test_contact_with_the_soil_decides_in_the_order_of_the_handbook() -> None:
    of = sward()
    found = [added(of, m) for m in ("slit", "broadcast on scarified", "broadcast on sward")]
    assert found == sorted(found, reverse=True)
    assert found[-1] > 0


def test_a_watered_sward_with_seed_covers_more_than_a_dry_one() -> None:
    wet, dry = followed(sward(0.6)), followed(sward(0.6), watered=False)
    assert float(np.mean(wet.at(42))) > float(np.mean(dry.at(42)))


def test_a_grass_that_is_new_finds_room_where_two_alike_are_put_together() -> None:
    of, before = sward(parts=MEADOW), sward()
    assert [kind.kind for kind in before.kinds.kinds] == ["bent", "fescue", "fescue", "ryegrass"]
    assert [kind.kind for kind in of.kinds.kinds] == ["bent", "fescue", "ryegrass", "meadow_grass"]
    assert of.merged == ()
    np.testing.assert_allclose(of.sown_now, before.sown_now)


def test_without_seed_a_grass_that_is_not_there_stays_away() -> None:
    of = sward(parts=MEADOW)
    with_seed, without = followed(of, parts=MEADOW), followed(of, 0.0)
    assert float(np.max(without.components[3])) == 0.0
    assert float(np.mean(with_seed.components[3][-1])) > 0.0


def test_a_fifth_kind_grows_as_another_and_is_named() -> None:
    of = sward(parts=(LotPart("smooth-stalked meadow-grass", 0.3), LotPart("tall fescue", 0.7)))
    assert len(of.merged) == 1


def test_scarifying_opens_the_sward_first() -> None:
    of = sward(0.05)
    plain, opened = followed(of, 0.0), followed(of, 0.0, scarified=True)
    assert np.mean(opened.at(1)) < np.mean(plain.at(1)) - 0.05


def test_it_grows_to_a_third_more_when_nobody_cuts_and_not_when_somebody_does() -> None:
    of = sward(0.05)
    free = followed(of, cut=False).grown_to(37.5)
    assert float(np.median(free)) < 30
    assert float(np.max(followed(of).height[60])) < float(
        np.min(followed(of, cut=False).height[60])
    )


def test_the_same_question_has_the_same_bits_and_ground_is_shared_out() -> None:
    one, two = followed(sward()), followed(sward())
    np.testing.assert_array_equal(one.sown, two.sown)
    np.testing.assert_allclose(sum(one.components), one.sown, atol=1e-5)
    assert (one.sown + one.bare + one.weed <= 1.0 + 1e-5).all()


def test_weather_that_does_not_reach_is_refused() -> None:
    with pytest.raises(NotEnoughDataError, match="oversown"):
        follow(sward(), None, Work(SOWN, 25.0, True), courses(), 400, kernel())
