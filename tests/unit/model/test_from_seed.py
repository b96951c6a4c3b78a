"""A sowing grown on under past weather: emergence, cover, first mow."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest

from swardbook.demo.scenario import made_up_ground, made_up_weather
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.chance import Chance
from swardbook.model.from_seed import (
    NEVER,
    Bed,
    Courses,
    Grown,
    Seeding,
    first_day,
    grow_from_seed,
    lay_courses,
)
from swardbook.model.weather_ahead import weather_ahead
from swardbook.seed.lot import LotPart
from tests.support.model import kernel

TODAY = date(2011, 7, 20)
SOWN = date(2011, 9, 1)
CHANCE = Chance(("a made-up book", "from seed"))
MIXED = (LotPart("perennial ryegrass", 0.5), LotPart("smooth-stalked meadow-grass", 0.5))


def bed(*, watered: bool = True) -> Bed:
    zone = made_up_ground().zone("Short court")
    return Bed(zone, 17.0, zone.height_of_cut_mm, watered)


@cache
def ahead(courses: int = 4, days: int = 250) -> Courses:
    last = TODAY + timedelta(days=days)
    weather = weather_ahead(made_up_weather(), TODAY, last, courses, CHANCE)
    return lay_courses(weather, 52.2, 15.0)


def grown(
    parts: tuple[LotPart, ...] = MIXED, day: date = SOWN, *, watered: bool = True, days: int = 60
) -> Grown:
    seeding = Seeding(parts, 30.0, day)
    return grow_from_seed(seeding, bed(watered=watered), ahead(), days, CHANCE, kernel())


def middle(days: np.ndarray) -> float:
    return float(np.median(np.minimum(days, 1000)))


def test_the_first_day_at_a_level_is_found_and_never_is_never() -> None:
    series = np.array([[0.0, 0.0], [0.5, 0.1], [0.4, 0.2]])
    found = first_day(np.array([0, 7, 14]), series, 0.5)
    assert found.tolist() == [7, NEVER]


def test_ryegrass_shows_before_meadow_grass_in_every_draw() -> None:
    found = grown()
    slots = {kind.species: slot for slot, kind in enumerate(found.kinds.kinds)}
    rye = found.emerged(slots["perennial ryegrass"])
    meadow = found.emerged(slots["smooth-stalked meadow-grass"])
    assert np.mean(rye < meadow) > 0.9
    assert 3 <= middle(rye) <= 10


def test_cover_comes_in_order_and_after_the_first_seedlings() -> None:
    found = grown()
    up = np.min([found.emerged(slot) for slot in range(2)], axis=0)
    assert (found.covered(0.6) >= up).all()
    assert (found.covered(0.9) >= found.covered(0.6)).all()
    assert (found.first_mow(35.0) > up).all()


def test_late_seed_takes_longer_to_show_and_to_cover() -> None:
    early, late = grown(), grown(day=date(2011, 11, 1))
    assert middle(late.emerged(0)) > middle(early.emerged(0))
    assert middle(late.covered(0.6)) > middle(early.covered(0.6))


def test_a_dry_july_bed_shows_later_without_water() -> None:
    july = TODAY + timedelta(days=1)
    wet, dry = grown(day=july), grown(day=july, watered=False)
    assert middle(dry.emerged(0)) >= middle(wet.emerged(0))
    assert np.mean(dry.sown[40]) < np.mean(wet.sown[40])


def test_varieties_of_one_species_grow_as_one() -> None:
    halves = (LotPart("perennial ryegrass", 0.5, "a"), LotPart("perennial ryegrass", 0.5, "b"))
    two, one = grown(halves), grown((LotPart("perennial ryegrass", 1.0),))
    assert len(two.kinds.kinds) == 1
    np.testing.assert_allclose(two.sown, one.sown)


def test_the_ground_is_shared_out_wholly() -> None:
    found = grown()
    whole = found.sown + found.bare + found.weed + found.fog
    np.testing.assert_allclose(whole, 1.0, atol=1e-4)
    np.testing.assert_allclose(sum(found.components), found.sown, atol=1e-5)


def test_a_cut_sward_is_brought_to_the_height_of_cut() -> None:
    low = replace(bed(), height_of_cut_mm=20.0)
    seeding = Seeding(MIXED, 30.0, SOWN)
    found = grow_from_seed(seeding, low, ahead(), 200, CHANCE, kernel(), cut=True, every=7)
    assert float(np.median(found.height[found.at(190)])) < 40


def test_weather_that_does_not_reach_is_refused() -> None:
    with pytest.raises(NotEnoughDataError, match="growing from seed"):
        grown(days=400)
    with pytest.raises(NotEnoughDataError, match="growing from seed"):
        grown(day=TODAY)
