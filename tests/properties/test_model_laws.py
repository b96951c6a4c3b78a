"""Laws of the model: balances on any run, and the direction of every effect."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.model import ensemble
from swardbook.model.day_heads import grown_up
from swardbook.model.ensemble import run
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.operations import no_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import (
    SownKinds,
    central_parameters,
    draw_parameters,
    known_weeds,
)
from swardbook.model.rows import flatten, rows_of
from swardbook.model.season import CLOSES_TO, run_reference
from swardbook.model.start import Start, start_state
from swardbook.model.state import SwardState
from tests.support.model import CHANCE, FOG, POA, kept, kernel, mixture, steady

DAYS = 40
SHARES = st.floats(0, 1)
ROWS = Operations._fields


@st.composite
def works(draw: st.DrawFn) -> Operations:
    """Anything done on any day, within what can be done."""
    to = no_operations(DAYS)
    most = {
        "cut_height": 60, "verticut_tips": 2, "verticut_blade": 2, "verticut_soil": 2,
        "scarify": 2, "tine": 2, "brush": 3, "pull_hours": 0.2, "sow_method": 3,
        "sow_a": 30000, "sow_b": 30000, "sow_c": 9000, "sow_d": 90000, "feed": 5, "water": 20,
    }  # fmt: skip
    for name in ROWS:
        for day in draw(st.lists(st.integers(0, DAYS - 1), max_size=4)):
            row = getattr(to, name)
            row[day] = draw(st.floats(0, most.get(name, 1.0)))
    to.cut[:] = np.round(to.cut)
    to.cut_height[:] = np.maximum(to.cut_height, 3)
    to.sow_method[:] = np.round(to.sow_method)
    return to


@st.composite
def weathers(draw: st.DrawFn) -> Drivers:
    """Any weather, cold to hot, dry to drowned."""
    drivers = steady(DAYS, draw(st.floats(-10, 35)), start=draw(st.integers(1, 365)))
    seed = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    return drivers._replace(
        tmean=drivers.tmean + seed.normal(0, 5, DAYS),
        rain=seed.gamma(0.3, 1 + draw(st.floats(0, 40)), DAYS),
        et0=seed.uniform(0, 9, DAYS),
        light=seed.uniform(0, 30, DAYS),
    )


@st.composite
def starts(draw: st.DrawFn) -> Start:
    """Any start, bare to wholly weed."""
    bare = draw(SHARES)
    poa = draw(SHARES) * (1 - bare)
    fog = draw(SHARES) * (1 - bare - poa)
    return Start(bare=bare, weeds={POA: poa, FOG: fog}, spread=draw(st.floats(0, 1)),
                 water_full=draw(SHARES), soil_c=draw(st.floats(-2, 25)))  # fmt: skip


@settings(max_examples=25)
@given(works(), weathers(), starts())
def test_every_day_of_any_run_adds_up(work: Operations, weather: Drivers, start: Start) -> None:
    parameters = draw_parameters(mixture(), 3, CHANCE)
    reference = run_reference(start_state(start, parameters, CHANCE), parameters, weather, work)
    assert max(reference.worst) < CLOSES_TO


WHOLE = SownKinds(mixture().kinds, weeds=known_weeds())


@settings(max_examples=10)
@given(works(), weathers(), starts())
def test_no_amount_is_ever_below_nothing(work: Operations, weather: Drivers, start: Start) -> None:
    parameters = draw_parameters(WHOLE, 3, CHANCE)
    state = start_state(start, parameters, CHANCE, names=WHOLE.weeds)
    final = run_reference(state, parameters, weather, work).final
    for row, amounts in zip(rows_of(SwardState, len(WHOLE.weeds)), flatten(final), strict=True):
        if row.name != "zone.soil_temperature":
            assert np.min(amounts) >= 0, row.name


@pytest.mark.long
@settings(max_examples=10)
@given(works(), weathers(), starts())
def test_a_zone_with_every_known_weed_grass_adds_up(
    work: Operations, weather: Drivers, start: Start
) -> None:
    parameters = draw_parameters(WHOLE, 64, CHANCE)
    state = start_state(start, parameters, CHANCE, names=WHOLE.weeds)
    ran = run(state, parameters, weather, work, kernel=kernel(), weeds=WHOLE.weeds)
    assert max(ran.worst) < ensemble.CLOSES_TO


@settings(max_examples=25)
@given(works(), weathers(), starts())
def test_the_compiled_run_adds_up_too(work: Operations, weather: Drivers, start: Start) -> None:
    parameters = draw_parameters(mixture(), 64, CHANCE)
    ran = run(start_state(start, parameters, CHANCE), parameters, weather, work, kernel=kernel())
    assert max(ran.worst) < ensemble.CLOSES_TO


def final_of(start: Start, weather: Drivers, work: Operations, name: str) -> float:
    """Median of an output on the last evening."""
    parameters = central_parameters(mixture())
    state = start_state(start, parameters)
    outputs = run_reference(state, parameters, weather, work, every=400).outputs
    return float(getattr(outputs, name)[-1, 0])


LAWN = {POA: 0.1}


@settings(max_examples=15)
@given(st.floats(0.01, 0.4), st.floats(0.02, 0.4), st.floats(8, 18))
def test_more_gap_means_more_recruits(gap: float, more: float, celsius: float) -> None:
    weather = steady(60, celsius)
    work = no_operations(60)
    few = final_of(Start(bare=gap), weather, work, "annual_meadow_grass_seedlings")
    many = final_of(Start(bare=gap + more), weather, work, "annual_meadow_grass_seedlings")
    assert many > few


@settings(max_examples=15)
@given(SHARES, SHARES, st.integers(3, 14), st.floats(10, 60))
def test_more_boxing_never_returns_more_seed(
    one: float, other: float, every: int, height: float
) -> None:
    low, high = sorted((one, other))
    weather = steady(90, 14, start=110)
    start = Start(bare=0.03, weeds=LAWN, season_warmth=900, cut_height_mm=height)
    returned = [
        final_of(
            start, weather, kept(weather, height, every, boxed), "annual_meadow_grass_returned"
        )
        for boxed in (low, high)
    ]
    assert returned[1] <= returned[0] * (1 + 1e-12)


@settings(max_examples=15)
@given(st.floats(0, 0.02), st.floats(0.001, 0.02))
def test_more_hours_of_pulling_never_leave_more_plants(hours: float, more: float) -> None:
    weather = steady(30, 14)
    start = Start(bare=0.03, weeds=LAWN)

    def left(given: float) -> float:
        work = no_operations(30)
        work.pull_hours[3] = given
        return final_of(start, weather, work, "annual_meadow_grass_plants")

    assert left(hours + more) <= left(hours) * (1 + 1e-12)


AN_HOUR = 1.0


def lived_in(height: float) -> tuple[SwardState, Parameters]:
    """A lawn in May with heads and seedlings, at the stated values."""
    parameters = central_parameters(mixture())
    start = Start(bare=0.05, weeds={POA: 0.1, FOG: 0.03}, season_warmth=700, cut_height_mm=height)
    weather = steady(20, 13, start=125)
    final = run_reference(start_state(start, parameters), parameters, weather, kept(weather)).final
    return final, parameters


def next_day(state: SwardState, parameters: Parameters, **done: float) -> SwardState:
    """One day in May on which something is done."""
    work = no_operations(1)
    for name, amount in done.items():
        getattr(work, name)[:] = amount
    return run_reference(state, parameters, steady(1, 13, start=145), work).final


@settings(max_examples=25)
@given(SHARES, SHARES, SHARES, SHARES)
def test_within_a_day_more_detection_leaves_no_more_plants(
    leafy: float, more_leafy: float, heading: float, more_heading: float
) -> None:
    state, parameters = lived_in(25)

    def left(detect_leafy: float, detect_heading: float) -> float:
        weed = parameters.weeds[0]._replace(
            detect_leafy=np.array([detect_leafy]), detect_heading=np.array([detect_heading])
        )
        keen = parameters._replace(weeds=(weed, *parameters.weeds[1:]))
        return float(grown_up(next_day(state, keen, pull_hours=AN_HOUR).weeds[0])[0])

    low, high = sorted((leafy, more_leafy)), sorted((heading, more_heading))
    assert left(low[1], high[1]) <= left(low[0], high[0]) * (1 + 1e-12)


@settings(max_examples=25)
@given(SHARES, SHARES, st.floats(5, 60))
def test_within_a_day_more_boxing_returns_no_more_seed(
    one: float, other: float, height: float
) -> None:
    state, parameters = lived_in(height)
    low, high = (
        next_day(state, parameters, cut=1.0, cut_height=height, boxed=share).weeds[0]
        for share in sorted((one, other))
    )
    fewer, more = (float(weed.returned[0] + weed.lying[0]) for weed in (high, low))
    assert fewer <= more * (1 + 1e-12)


@settings(max_examples=25)
@given(SHARES, SHARES)
def test_within_a_day_more_gap_gives_no_fewer_recruits(one: float, other: float) -> None:
    state, parameters = lived_in(25)

    def come(gap: float) -> tuple[float, float]:
        zone = state.zone._replace(gap=np.array([gap]))
        covers = 1.0 - gap
        share = covers / (1.0 - float(state.zone.gap[0]))
        sown = type(state.sown)(*(part._replace(cover=part.cover * share) for part in state.sown))
        weeds = tuple(weed._replace(cover=weed.cover * share) for weed in state.weeds)
        evening = next_day(SwardState(sown, weeds, zone), parameters).weeds[0]
        return float(evening.emerged[0]), float(evening.established[0])

    few, many = (come(gap) for gap in sorted((one, other)))
    assert many[0] >= few[0] * (1 - 1e-12)
    assert many[1] >= few[1] * (1 - 1e-12)


@settings(max_examples=10)
@given(st.sampled_from([4, 7, 14]), st.floats(20, 40))
def test_boxed_cuts_at_shorter_intervals_return_less_seed(every: int, height: float) -> None:
    weather = steady(84, 13, start=110)
    start = Start(bare=0.03, weeds=LAWN, season_warmth=900, cut_height_mm=height)
    often = final_of(
        start, weather, kept(weather, height, every, 1.0), "annual_meadow_grass_returned"
    )
    seldom = final_of(
        start, weather, kept(weather, height, every * 2, 1.0), "annual_meadow_grass_returned"
    )
    assert often < seldom
