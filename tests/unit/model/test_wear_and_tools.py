"""Wear by use, seed on machines, cutting while stood up, runners in drought, and new heads."""

from __future__ import annotations

import numpy as np
import pytest

from swardbook.handbook.parameters import parameters as handbook
from swardbook.husbandry.ground import Use
from swardbook.model.inputs import Operations
from swardbook.model.operations import no_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import (
    SownKind,
    SownKinds,
    central_parameters,
    known_weeds,
    wear_keys,
)
from swardbook.model.processes import cover, ripening, seed_bank, verticutting, wear
from swardbook.model.season import Trajectory, run_reference
from swardbook.model.start import Start, start_state
from tests.support.model import FOG, POA, kept, steady

ROUGH, BENT = "rough_stalked_meadow_grass", "creeping_bent"


def zone(*species: str, use: str = "ornamental", weeds: tuple[str, ...] = ()) -> SownKinds:
    sown = tuple(SownKind(name, 500.0) for name in species or ("perennial ryegrass",))
    return SownKinds(sown, weeds=(POA, FOG, *weeds), use=use)


def grown(
    kinds: SownKinds, start: Start, work: Operations, *, parameters: Parameters | None = None,
    rain: float = 3.0, et0: float = 2.0,
) -> Trajectory:  # fmt: skip
    p = parameters or central_parameters(kinds)
    state = start_state(start, p, names=kinds.weeds)
    weather = steady(len(work.cut), 14.0, rain=rain, et0=et0)
    return run_reference(state, p, weather, work)


@pytest.mark.parametrize("use", list(Use))
def test_every_use_has_its_wear_in_summer_and_winter(use: Use) -> None:
    assert all(key in handbook() for key in wear_keys(use))


@pytest.mark.parametrize("weed", known_weeds())
def test_a_weed_grass_has_the_same_rows_as_annual_meadow_grass(weed: str) -> None:
    def rows(name: str) -> set[str]:
        start = f"model.{name}."
        return {key.removeprefix(start) for key in handbook() if key.startswith(start)}

    assert rows(weed) == rows(POA)


def test_play_leaves_more_bare_ground_than_looking_does() -> None:
    lawn = Start(bare=0.03, height_mm=30, cut_height_mm=30)
    bare = [
        float(grown(zone(use=use), lawn, kept(steady(200, 14.0), 30)).final.zone.gap[0])
        for use in ("ornamental", "family lawn", "court or green", "play")
    ]
    assert bare == sorted(bare)
    assert bare[-1] > 1.5 * bare[0]


def test_ryegrass_keeps_more_of_the_ground_than_hard_fescue_under_play() -> None:
    kinds = {use: zone("perennial ryegrass", "hard fescue", use=use) for use in ("trial", "play")}
    start = Start(bare=0.05, sown_shares=(0.5, 0.5), height_mm=30, cut_height_mm=30)
    share = {}
    for use, each in kinds.items():
        sown = grown(each, start, kept(steady(200, 14.0), 30)).final.sown
        share[use] = float(sown.a.cover[0] / (sown.a.cover[0] + sown.b.cover[0]))
    assert share["play"] > share["trial"]


def test_wear_is_that_of_the_season_and_never_more_than_all() -> None:
    assert wear.level(0.002, 0.001, 0.0) == 0.002
    assert wear.level(0.002, 0.001, 1.0) == pytest.approx(0.001)
    assert wear.worn(0.8, 2.0) == 1.0


def test_machines_bring_seed_where_there_was_none_and_the_ledger_holds_it() -> None:
    kinds = zone()
    p = central_parameters(kinds)
    quiet = tuple(weed._replace(immigration=weed.immigration * 0) for weed in p.weeds)
    p = p._replace(weeds=quiet)
    start = Start(bare=0.05, seed_bank={POA: 0.0, FOG: 0.0}, height_mm=30, cut_height_mm=30)
    still = grown(kinds, start, no_operations(30), parameters=p).final.weeds[0]
    visited = grown(kinds, start, kept(steady(30, 14.0), 30), parameters=p).final.weeds[0]
    assert float(still.dormant[0] + still.ready[0]) == 0
    seeds = visited.dormant + visited.ready + visited.buried + visited.seedling_0
    assert 0.1 < float(seeds[0]) < 5 * float(p.weeds[0].seed_on_tools[0])


def test_seed_that_comes_is_that_from_around_and_that_of_each_visit() -> None:
    assert seed_bank.carried_in(0.1, 0.05, 2.0) == pytest.approx(0.2)


def test_fog_stood_up_and_cut_the_same_day_loses_more_than_when_the_cut_comes_later() -> None:
    start = Start(bare=0.02, weeds={FOG: 0.3}, height_mm=30, cut_height_mm=30)

    def left(wait: int) -> float:
        work = no_operations(60)
        work.cut[7::7], work.cut_height[7::7] = 1.0, 30.0
        work.brush[7 - wait :: 7] = 2.0
        return float(grown(zone(), start, work).final.weeds[1].cover[0])

    assert left(0) < 0.97 * left(2)


def test_nothing_is_lost_without_a_cut_or_without_lifting() -> None:
    assert verticutting.cut_stood_up(0.0, 1.0, 0.02) == 0
    assert verticutting.cut_stood_up(0.9, 0.0, 0.02) == 0


def test_rough_stalked_meadow_grass_dies_back_in_drought_and_creeping_bent_less() -> None:
    kept_share = {}
    for weed in (ROUGH, BENT):
        kinds = zone(weeds=(weed,))
        start = Start(bare=0.02, weeds={weed: 0.2}, height_mm=25, cut_height_mm=25)
        work = kept(steady(90, 14.0), 25)
        dry, wet = (
            float(grown(kinds, start, work, rain=rain, et0=4.0).final.weeds[2].cover[0])
            for rain in (0.0, 5.0)
        )
        kept_share[weed] = dry / wet
    assert kept_share[ROUGH] < 0.6
    assert kept_share[ROUGH] < kept_share[BENT]


def test_after_lifting_and_a_cut_no_head_stands_above_until_new_ones_have_grown() -> None:
    start = Start(bare=0.02, weeds={POA: 0.2}, season_warmth=900, height_mm=30, cut_height_mm=30)
    above = []
    for days in (20, 21, 23, 26):
        work = no_operations(days)
        if days > 20:
            work.verticut_tips[20], work.brush[20] = 3.0, 3.0
            work.cut[20], work.cut_height[20], work.boxed[20] = 1.0, 30.0, 1.0
        above.append(sum(float(b[0]) for b in grown(zone(), start, work).final.weeds[0].high))
    before, at_once, soon, later = above
    assert at_once < 0.02 * before
    assert at_once < soon < later < before


def test_of_the_heads_that_have_grown_the_stated_share_stands_above() -> None:
    assert ripening.grown_high(10.0, 0.5, 0.4) == pytest.approx(2.0)


def test_bare_ground_waits_for_the_drier_of_seedbed_and_root_zone() -> None:
    assert cover.water_response(1.0, 0.2, 1.0) == pytest.approx(0.2)
    assert cover.water_response(0.3, 1.0, 1.0) == pytest.approx(0.3)
    assert cover.water_response(1.0, 0.0, 0.0) == 1.0


def test_a_creeping_grass_fills_the_last_gaps_faster_than_a_tufted_one() -> None:
    smooth, rye = (
        central_parameters(zone(name)).sown.a.closure
        for name in ("smooth-stalked meadow-grass", "perennial ryegrass")
    )
    assert np.all(smooth > 2 * rye)
