"""Where a run starts, its weather, and its diary turned into numbers."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from uuid import UUID

import numpy as np
import pytest

from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, OutOfRangeError
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Mower, Site, Tolerance, Use, Zone
from swardbook.husbandry.happenings import (
    Brush,
    Cut,
    DigClumps,
    Feed,
    Happening,
    Note,
    Pull,
    Refill,
    Scarify,
    Sow,
    Strip,
    Tine,
    Verticut,
    Water,
)
from swardbook.model.drivers import drivers_from, season_days, seasonal_readiness, stack_drivers
from swardbook.model.operations import (
    Assumed,
    no_operations,
    operations_from_diary,
    set_sowing,
    stack_operations,
)
from swardbook.model.parameters import central_parameters, draw_parameters
from swardbook.model.start import Start, start_state
from swardbook.seed.lot import SeedLot
from tests.support.model import CHANCE, FOG, PARTS, POA, county_weather, mixture

FIRST, LAST = date(2011, 3, 1), date(2011, 3, 31)
ZONE = Zone("Court", 50.0, Use.COURT_OR_GREEN, Tolerance(0.05, 0.02, 0), 12.0, Mower("cylinder"))


def read(*happened: tuple[int, Happening] | DiaryEntry, zone: Zone = ZONE) -> Assumed:
    entries = tuple(
        one if isinstance(one, DiaryEntry) else entry(When.on(date(2011, 3, one[0])), one[1], n)
        for n, one in enumerate(happened)
    )
    lot = SeedLot("A1", "Fine mix", PARTS)
    site = Site("Fennowick Croquet Club", 52.2, 15.0)
    ground = Ground(site, (zone,), lots=(lot,), diary=entries)
    return operations_from_diary(ground, "court", FIRST, LAST, mixture())


def entry(when: When, what: Happening, n: int, **more: object) -> DiaryEntry:
    return replace(DiaryEntry(UUID(int=n), when, what, "Court"), **more)  # type: ignore[arg-type]


def test_shares_of_ground_add_up_to_one_in_every_draw() -> None:
    parameters = draw_parameters(mixture(), 200, CHANCE)
    state = start_state(Start(bare=0.4, weeds={POA: 0.3, FOG: 0.2}, spread=1.0), parameters, CHANCE)
    covered = sum(c.cover for c in state.sown) + sum(c.cover for c in state.weeds)
    np.testing.assert_allclose(covered + state.zone.gap, 1.0)
    assert np.std(state.zone.gap) > 0.05


def test_what_is_known_for_certain_is_not_spread() -> None:
    parameters = draw_parameters(mixture(), 50, CHANCE)
    state = start_state(Start(bare=1.0, spread=0.5, seed_bank={POA: 5000}), parameters, CHANCE)
    bank = state.weeds[0].ready + state.weeds[0].buried
    np.testing.assert_array_equal(state.zone.gap, 1.0)
    np.testing.assert_allclose(bank, 5000)


def test_shares_above_the_whole_are_refused() -> None:
    with pytest.raises(OutOfRangeError):
        Start(bare=0.8, weeds={POA: 0.3})


def test_sown_shares_are_shared_as_given() -> None:
    state = start_state(Start(bare=0.2, sown_shares=(3, 1)), central_parameters(mixture()))
    assert [float(c.cover[0]) for c in state.sown] == pytest.approx([0.6, 0.2, 0, 0])


def test_weather_that_does_not_cover_the_days_is_not_enough() -> None:
    with pytest.raises(NotEnoughDataError):
        drivers_from(county_weather(), 52.2, 15.0, date(1980, 1, 1), date(1980, 2, 1))


def test_drivers_have_one_value_a_day_and_know_the_season() -> None:
    drivers = drivers_from(county_weather(), 52.2, 15.0, date(2011, 12, 30), date(2012, 3, 2))
    assert {len(series) for series in drivers} == {64}
    assert drivers.season_day[:3].tolist() == [364, 365, 1]
    assert np.all(drivers.winter == 1)
    assert stack_drivers([drivers, drivers]).rain.shape == (2, 64)


def test_the_south_has_its_seasons_half_a_year_on() -> None:
    assert season_days(date(2011, 1, 1), 1, -37.0)[0] == season_days(date(2011, 7, 2), 1, 52.0)[0]


def test_readiness_climbs_from_midsummer_to_november_and_falls_slowly() -> None:
    wave = seasonal_readiness(np.arange(1.0, 366.0))
    assert [int(np.argmax(wave)) + 1, int(np.argmin(wave)) + 1] == [309, 171]
    assert wave[239] > wave[239 - 150]


def test_cuts_land_on_their_day_with_height_and_box() -> None:
    got = read((5, Cut(10.0, True)), (9, Cut(None, None)))
    to = got.operations
    assert (to.cut[4], to.cut_height[4], to.boxed[4]) == (1, 10, 1)
    assert (to.cut_height[8], to.boxed[8]) == (12, value("model.operations.boxed_unknown"))
    assert "cuts without a height are at the zone's height of cut" in got.assumptions
    assert any("50%" in words for words in got.assumptions)


def test_without_a_box_nothing_is_boxed() -> None:
    boxless = replace(ZONE, mower=Mower(has_box=False))
    assert read((5, Cut()), zone=boxless).operations.boxed[4] == 0


def test_several_undated_cuts_are_spread_over_their_span_and_said_so() -> None:
    span = When(date(2011, 3, 1), date(2011, 3, 30), "in March")
    got = read(entry(span, Cut(12.0, True), 1, number=5))
    assert np.flatnonzero(got.operations.cut).tolist() == [3, 9, 15, 21, 27]
    assert any("spread evenly" in words for words in got.assumptions)


def test_a_verticut_goes_where_its_depth_says() -> None:
    to = read(
        (2, Verticut(1.0)), (3, Verticut(2.0, "above soil", passes=2)),
        (4, Verticut(2.0, "below surface")), (5, Verticut(14.0, boxed=True)), (6, Verticut()),
    ).operations  # fmt: skip
    assert (to.verticut_blade[1], to.verticut_tips[2], to.verticut_soil[3]) == (1, 2, 1)
    assert (to.verticut_soil[4], to.collected[4], to.verticut_blade[5]) == (1, 1, 1)


def test_pulling_takes_its_hours_or_as_long_as_its_plants_would() -> None:
    timed = entry(When.on(date(2011, 3, 3)), Pull(plants=10), 1, hours=2.0)
    got = read(timed, (4, Pull(plants=100)), (5, DigClumps(clumps=2)))
    hours = got.operations.pull_hours * ZONE.area_m2
    search = value("model.zone.search_seconds") * 50
    assert hours[2] == pytest.approx(2.0)
    assert hours[3] == pytest.approx((15 * 100 + search) / 3600)
    assert hours[4] == pytest.approx((360 * 2 + search) / 3600)
    assert got.operations.hours[2] == 0, "counted once, by the model"


def test_a_sowing_puts_viable_seed_in_the_slots_and_a_part_sowing_less() -> None:
    whole = read((1, Sow("A1", 30.0, method="slit"))).operations
    part = read((1, Sow("A1", 30.0, area_m2=25.0))).operations
    used = read((1, Sow("A1", used_g=1500.0))).operations
    assert (whole.sow_method[0], part.sow_method[0]) == (1, 0)
    kinds = mixture().kinds
    assert whole.sow_a[0] == pytest.approx(30 * kinds[0].viable_per_g)
    assert part.sow_a[0] == pytest.approx(whole.sow_a[0] / 2)
    assert used.sow_d[0] == pytest.approx(whole.sow_d[0])


def test_what_cannot_be_read_is_left_out_and_said_so() -> None:
    got = read((1, Sow("A1")), (2, Feed("")), (3, Water(minutes=20.0)), (4, Note("hello")))
    assert all(not np.any(row) for row in got.operations)
    assert len(got.assumptions) == 3


def test_the_rest_of_the_work_lands_too() -> None:
    to = read(
        (1, Feed("feed", 20.0, 10.0)), (2, Water(litres=100.0)), (3, Scarify(3.0, passes=2)),
        (4, Tine()), (5, Tine(hollow=False)), (6, Brush(lifted_heads=True)), (7, Strip()),
        (8, Refill()), (9, Water(depth_mm=4.0)),
        entry(When.on(date(2011, 3, 10)), Brush(), 40, hours=0.5),
    ).operations  # fmt: skip
    assert (to.feed[0], to.water[1], to.scarify[2], to.tine[3]) == (2, 2, 2, 1)
    assert (to.tine[4], to.brush[5], to.strip[6], to.water[8]) == (0, 1, 1, 4)
    assert to.refill[7] == value("model.operations.refilled_share")
    assert to.hours[9] == pytest.approx(0.01)


def test_entries_outside_the_run_are_passed_over() -> None:
    outside = entry(When.on(date(2011, 4, 3)), Cut(12.0, True), 1)
    assert not np.any(read(outside).operations.cut)


def test_an_unknown_method_is_refused() -> None:
    with pytest.raises(BadInputError, match="by drone"):
        set_sowing(no_operations(3), 0, mixture(), PARTS, 30.0, "by drone")


def test_runs_of_work_are_stacked() -> None:
    assert stack_operations([no_operations(5), no_operations(5)]).cut.shape == (2, 5)
