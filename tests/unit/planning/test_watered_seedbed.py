"""Drought on a young seedbed: roots of a few centimetres, and the water that was noted."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from swardbook.husbandry.happenings import Sow, Water
from swardbook.planning.fit import fit_today
from swardbook.planning.growth import root_zone
from swardbook.planning.situation import Situation
from swardbook.planning.states import Condition, Overall, State
from tests.support.grounds import look, on, weather, zone

TODAY = date(2011, 8, 30)
SOWN = TODAY - timedelta(days=18)
DRY = weather(TODAY - timedelta(days=200), TODAY, tmin=11.0, tmax=23.0, rain=0.0)


def bed(*waterings: Water, said: bool | None = None, **sown: Any) -> Situation:
    given = [
        on(SOWN + timedelta(days=n), what)
        for n in range(1, 19)
        for what in waterings
    ]  # fmt: skip
    return look(on(SOWN, Sow("BB-0417", 30.0, watered=said, **sown)), *given, today=TODAY, sky=DRY)


def drought(sit: Situation, job: str = "cut") -> Condition:
    return fit_today(sit, job).condition("drought")


@pytest.mark.parametrize(
    "water",
    [
        pytest.param(Water(3.0), id="by depth"),
        pytest.param(Water(3.0, place="seedbed"), id="on the seedbed"),
        pytest.param(Water(litres=3.0 * 460.8, place="Seedbed"), id="by litres"),
        pytest.param(Water(minutes=3.0 * 460.8 / 14, place="seedbed"), id="by minutes at the tap"),
    ],
)
def test_a_seedbed_watered_daily_stands_in_no_drought(water: Water) -> None:
    for job in ("cut", "verticut"):
        found = drought(bed(water), job)
        assert (found.state, found.because) == (State.MET, "soil moist by the water balance")


def test_litres_on_part_of_a_zone_are_reckoned_over_that_part() -> None:
    """230 L on 76.8 m² are 3 mm there, and half a millimetre over the whole."""
    litres = 3.0 * 76.8
    part = bed(Water(litres=litres, place="seedbed"), area_m2=76.8)
    assert drought(part).state is State.MET
    assert drought(bed(Water(litres=litres, place="seedbed"))).state is State.NOT_MET


@pytest.mark.parametrize(("said", "words"), [(None, "reach about 30 mm"), (True, "kept damp")])
def test_where_no_watering_is_noted_it_asks(said: bool | None, words: str) -> None:
    sit = bed(said=said)
    for job in ("cut", "verticut"):
        found = drought(sit, job)
        assert found.state is State.UNKNOWN
        assert words in found.because
        assert found.because.endswith("no watering is noted. Is it watered?")
    assert fit_today(sit, "cut").overall is not Overall.FIT


def test_a_bed_that_is_not_watered_or_too_little_stands_in_drought() -> None:
    assert drought(bed(said=False)).state is State.NOT_MET
    assert drought(bed(Water(0.3))).state is State.NOT_MET


def test_refills_watered_by_the_can_do_not_water_the_zone() -> None:
    sit = bed(Water(litres=5000.0, place="refills"), said=False)
    assert drought(sit).state is State.NOT_MET


def test_a_small_patch_sown_lately_does_not_make_the_whole_zones_roots_shallow() -> None:
    grown = look(today=TODAY, sky=DRY)
    patch = look(on(SOWN, Sow("BB-0417", 30.0, area_m2=10.0)), today=TODAY, sky=DRY)
    whole = root_zone(patch.ground, zone(), TODAY)
    assert whole == root_zone(grown.ground, zone(), TODAY)
    assert root_zone(bed().ground, zone(), TODAY).total < whole.total / 4
