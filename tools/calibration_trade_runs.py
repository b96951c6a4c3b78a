"""More runs behind `make calibrate`: trade sight one by one, young swards, banks, other weeds."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import numpy as np

from swardbook.model.chance import Array
from swardbook.model.ensemble import Outcome
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.operations import no_operations
from swardbook.model.processes.germination import share_emerged
from swardbook.model.start import Start
from tools.calibration_runs import (
    FOG,
    LAWN,
    POA,
    Crowd,
    bank_left,
    clippings,
    county,
    first_day,
    kept,
    meadow_grass_share,
    sown_alone,
    steady,
)

ROUGH, BENT = "rough_stalked_meadow_grass", "creeping_bent"
YEAR = (date(2001, 1, 1), date(2001, 12, 31))
RAMET_DAYS = 456
"""A year and a quarter: the middle of a year to a year and a half [d]."""


def ramets_left(crowd: Crowd, weed: str) -> Array:
    """Plants of two tillers that live for a year and a quarter in moist closed sward [%]."""
    p = crowd.parameters(weeds=(ROUGH,)).weeds[0 if weed == POA else -1]
    return np.asarray(100 * (1 - p.plant_death) ** RAMET_DAYS)


def bank_loss(crowd: Crowd, digs: int) -> Array:
    """Yearly loss of a bank dug so often a year, a dig as two passes [%]."""
    left = bank_left(crowd, 2.0 if digs else 0.0, digs or 1) / 100
    return np.asarray(100 * (1 - np.maximum(left, 1e-9) ** (1 / 6)))


def stripped_bank(crowd: Crowd) -> Array:
    """Seed of annual meadow-grass in the soil the day after stripping, against before [%]."""
    drivers, work = steady(2, 14.0), no_operations(2)
    work.strip[0] = 1.0
    seed = crowd.grown(LAWN, drivers, work, every=1).outputs[f"{POA}_seed"]
    untouched = crowd.grown(LAWN, drivers, no_operations(2), every=1).outputs[f"{POA}_seed"]
    return np.asarray(100 * seed[0] / untouched[0], np.float64)


def green_seed(crowd: Crowd) -> Array:
    """Seed formed in a year where it covers nine tenths at 5 mm, cut daily, fed, watered [m⁻²]."""
    drivers = county(*YEAR)
    to = kept(drivers, 5, 1, 1.0)
    to.feed[90:280:30] = 2
    to.water[:] = np.where(drivers.et0 > 1.5, drivers.et0, 0)
    start = Start(bare=0.02, weeds={POA: 0.9}, height_mm=5, cut_height_mm=5, soil_c=5)
    return crowd.grown(start, drivers, to, "creeping bent").totals[f"{POA}.produced"]


def nitrogen_ratio(crowd: Crowd) -> Array:
    """Cover after two years at 98 over that at 293 kg N ha⁻¹ a year, clippings off [%]."""
    two = date(2002, 12, 31)
    low, high = (100 + clippings(crowd, 1.0, fed, two) for fed in (9.8, 29.3))
    return np.asarray(100 * low / high)


def field_emergence(crowd: Crowd, species: str, share: float, soil: Array) -> Array:
    """Days until a share of the seed is up in moist soil of these daily temperatures [d]."""
    p = crowd.parameters(species).sown.a
    earned = np.cumsum(np.maximum(soil[:, None] - p.base_temperature, 0), axis=0)
    before = np.zeros_like(p.warmth_50)
    return first_day(np.asarray(share_emerged(before, earned, p.warmth_50, p.spread)), share)


AUTUMN_SOIL = np.full(90, 12.3)
"""Soil of five autumn sowings: 8.8 °C d a day above a base of 3.5 °C, as printed together [°C]."""
COLD_SPRING = np.linspace(4.7, 23.5, 52)
"""Soil from 8 April on, a straight line [°C]."""


def thickening(crowd: Crowd, slow: str, fast: str) -> Array:
    """Days by which one species reaches nine tenths of the ground after another, at 14 °C [d]."""
    late, early = (first_day(sown_alone(crowd, name, 14.0), 0.9) for name in (slow, fast))
    return late - early


def fescue_order(crowd: Crowd) -> Array:
    """1 where ryegrass comes before red fescue and that before hard fescue, at 16 °C [-]."""
    names = ("perennial ryegrass", "strong creeping red fescue", "hard fescue")
    rye, red, hard = (first_day(sown_alone(crowd, name, 16.0)) for name in names)
    return np.asarray((rye < red) & (red < hard), np.float64)


def thirst(crowd: Crowd, species: str) -> Array:
    """Days to half cover at 60 % over those at 120 % of the water in the heat [d]."""
    dry, wet = (first_day(sown_alone(crowd, species, 22.0, water)) for water in (0.6, 1.2))
    return dry - wet


def head_start(crowd: Crowd) -> Array:
    """Points of its share that 35 days' start gains smooth-stalked meadow-grass [%]."""
    others = ("slender creeping red fescue", "perennial ryegrass")
    last = date(2002, 4, 1)
    together = meadow_grass_share(crowd, last, others)
    return meadow_grass_share(crowd, last, others, behind=35) - together


def ryegrass_tenth(crowd: Crowd) -> Array:
    """Share of the sown cover after a year, from a tenth by weight of ryegrass in fescue [%]."""
    drivers = county(date(2001, 4, 15), date(2002, 4, 15))
    to = kept(drivers, 30)
    to.cut[:28] = 0
    to.sow_a[0], to.sow_b[0] = 3 * 520, 27 * 1000
    start = Start(soil_c=9, seed_bank={POA: 0.0, FOG: 0.0})
    names = ("perennial ryegrass", "chewings fescue")
    outputs = crowd.grown(start, drivers, to, *names).outputs
    return np.asarray(100 * outputs["sown_a"][-1] / np.maximum(outputs["sown"][-1], 1e-6))


def crossing(crowd: Crowd) -> Array:
    """Seed taken away with two crossing passes before each boxed cut over that with one [-]."""
    return _taken(crowd, 2.0) / _taken(crowd, 1.0)


def side_by_side(crowd: Crowd) -> Array:
    """Cover a fortnight after sowing ryegrass and meadow-grass, half each by number [%]."""
    drivers, work = steady(14, 21.0), no_operations(14)
    work.sow_a[0] = work.sow_b[0] = 10_000
    work.feed[0] = 3
    start = Start(soil_c=21, seed_bank={POA: 0.0, FOG: 0.0})
    names = ("perennial ryegrass", "smooth-stalked meadow-grass")
    return np.asarray(100 * crowd.grown(start, drivers, work, *names, every=1).outputs["sown"][13])


def oversown(crowd: Crowd, rate: float, days: tuple[int, ...]) -> Array:
    """Annual meadow-grass after ryegrass is sown over a worn pitch, over that without [%]."""
    drivers = county(date(2001, 4, 1), date(2002, 10, 1))
    work = kept(drivers, 25, 4)
    work.water[:] = np.where(drivers.et0 > 2, 0.8 * drivers.et0, 0)
    work.feed[30::60] = 2
    start = Start(bare=0.1, weeds={POA: 0.15}, height_mm=25, cut_height_mm=25, soil_c=8)
    names = ("smooth-stalked meadow-grass", "perennial ryegrass")
    without = crowd.grown(start, drivers, work, *names, use="play").outputs[POA][-1]
    for day in days:
        work.sow_b[day], work.sow_method[day] = rate * 500 * 0.8, 3.0
    with_it = crowd.grown(start, drivers, work, *names, use="play").outputs[POA][-1]
    return np.asarray(100 * with_it / without)


def _taken(crowd: Crowd, passes: float) -> Array:
    drivers = county(*YEAR)
    work = kept(drivers, 40, 7, 1.0)
    work.verticut_tips[work.cut > 0] = passes
    totals = crowd.grown(LAWN, drivers, work).totals
    return totals[f"{POA}.boxed"] / totals[f"{POA}.produced"]


def cut_straight_after(crowd: Crowd) -> Array:
    """Seed returned if a boxed cut follows lifting at once over four days later [%]."""
    drivers = county(*YEAR)
    returned = []
    for wait in (0, 4):
        work = kept(drivers, 40, 8, 1.0)
        work.verticut_tips[np.flatnonzero(work.cut) - wait] = 2.0
        returned.append(crowd.grown(LAWN, drivers, work).totals[f"{POA}.returned"])
    return 100 * returned[0] / returned[1]


def seed_again(crowd: Crowd) -> Array:
    """Days after lifting and taking all off until half as much seed falls a day, 12 °C [d]."""
    drivers = steady(60, 12.0)
    work = kept(drivers, 30, 7, 1.0)
    work.cut[20:], work.brush[20], work.verticut_tips[20], work.cut[20] = 0.0, 3.0, 3.0, 1.0
    work.cut_height[20], work.boxed[20] = 30.0, 1.0
    start = Start(bare=0.03, weeds={POA: 0.1}, height_mm=30, cut_height_mm=30, soil_c=12,
                  season_warmth=900)  # fmt: skip
    outputs = crowd.grown(start, drivers, work, every=1, all_caught=True).outputs
    falling = np.diff(np.asarray(outputs[f"{POA}_returned"], np.float64), axis=0)
    after = falling[20:] >= falling[14:20].mean(axis=0) / 2
    return np.where(after.any(axis=0), np.argmax(after, axis=0) + 1.0, 40.0)


def seeds_in_a_life(crowd: Crowd) -> Array:
    """Seeds that a plant old enough to head forms in a mean life, weekly cuts at 30 mm [-]."""
    drivers = county(*YEAR)
    outcome = crowd.grown(LAWN, drivers, kept(drivers))
    plants = np.asarray(outcome.outputs[f"{POA}_flowering"], np.float64).mean(axis=0)
    death = crowd.parameters().weeds[0].plant_death
    return np.asarray(outcome.totals[f"{POA}.produced"] / np.maximum(plants, 1e-6) / (365 * death))


def seen_by_heads(crowd: Crowd) -> Array:
    """Plants found in flower over plants found without heads, one pass [-]."""
    p = crowd.parameters().weeds[0]
    return np.asarray(p.detect_heading / p.detect_leafy)


def thin_places(crowd: Crowd) -> Array:
    """Plants in December where a fifth was bare in September over where a fiftieth was [-]."""
    drivers = county(date(2011, 9, 1), date(2011, 12, 31))
    found = []
    for bare in (0.2, 0.02):
        outputs = crowd.grown(Start(bare=bare, soil_c=14), drivers, kept(drivers, 30)).outputs
        found.append(outputs[f"{POA}_plants"][-1])
    return np.asarray(found[0] / found[1], np.float64)


def losing_race(crowd: Crowd, plants: float) -> Array:
    """Plants after a year of digging over plants at the start, four hours a fortnight [%]."""
    drivers = county(*YEAR)
    start = Start(bare=0.01, weeds={POA: plants * 10 / 1e4}, height_mm=30, cut_height_mm=30,
                  soil_c=5, seed_bank={POA: 100 * plants})  # fmt: skip
    work = kept(drivers)
    work.pull_hours[np.flatnonzero(drivers.tmean > 7)[::14]] = 4 / 300
    seen = np.asarray(crowd.grown(start, drivers, work).outputs[f"{POA}_plants"], np.float64)
    return np.asarray(100 * seen[-1] / np.maximum(seen[0], 1e-9))


def _second_summer(crowd: Crowd, work: Callable[[Drivers], Operations], seeds: float) -> Outcome:
    drivers = county(date(2011, 9, 1), date(2012, 10, 31))
    to = work(drivers)
    to.sow_a[0], to.sow_b[0], to.cut[:35] = seeds / 2, seeds / 2, 0
    return crowd.grown(Start(bare=1.0, soil_c=14), drivers, to)


def _first_season(drivers: Drivers) -> Operations:
    to = kept(drivers, 30, 7, 1.0)
    days = np.arange(len(to.cut))
    to.verticut_tips[(to.cut > 0) & (days > 180) & (drivers.tmean > 9)] = 2.0
    to.feed[200:400:30] = 2
    return to


def first_season(crowd: Crowd) -> Array:
    """Cover a year after sowing with the first-season programme over plain weekly cuts [%]."""
    worked, plain = (_second_summer(crowd, work, 16000) for work in (_first_season, kept))
    return np.asarray(100 * worked.outputs[POA][-1] / plain.outputs[POA][-1], np.float64)


def first_season_seed(crowd: Crowd) -> Array:
    """Seed returned in that year with the programme over plain weekly cuts [%]."""
    worked, plain = (_second_summer(crowd, work, 16000) for work in (_first_season, kept))
    return 100 * worked.totals[f"{POA}.returned"] / plain.totals[f"{POA}.returned"]


def early_cover(crowd: Crowd) -> Array:
    """Cover a year after a full sowing over that after a quarter of the seed [%]."""
    full, thin = (_second_summer(crowd, kept, seeds).outputs[POA][-1] for seeds in (16000, 4000))
    return np.asarray(100 * full / thin, np.float64)


def _fog_after(crowd: Crowd, start: Start, work: Operations) -> Array:
    return np.asarray(crowd.grown(start, county(*YEAR), work).outputs[FOG][-1], np.float64)


def fog_stood_up(crowd: Crowd) -> Array:
    """Yorkshire fog brushed up before each weekly cut for a year over cuts alone [%]."""
    plain, brushed = kept(county(*YEAR)), kept(county(*YEAR))
    brushed.brush[brushed.cut > 0] = 2.0
    return 100 * _fog_after(crowd, LAWN, brushed) / _fog_after(crowd, LAWN, plain)


def fog_dug(crowd: Crowd) -> Array:
    """A little Yorkshire fog dug four hours a fortnight on 300 m² for a year over left [%]."""
    start = Start(bare=0.02, weeds={FOG: 0.005}, height_mm=30, cut_height_mm=30, soil_c=5)
    left, dug = kept(county(*YEAR)), kept(county(*YEAR))
    dug.pull_hours[np.flatnonzero(county(*YEAR).tmean > 7)[::14]] = 4 / 300
    return 100 * _fog_after(crowd, start, dug) / _fog_after(crowd, start, left)


def fog_seed(crowd: Crowd) -> Array:
    """Seed returned a year for each share of ground, fog over annual meadow-grass [%]."""
    totals = crowd.grown(LAWN, county(*YEAR), kept(county(*YEAR))).totals
    fog, poa = totals[f"{FOG}.returned"] / 0.02, totals[f"{POA}.returned"] / 0.1
    return 100 * fog / np.maximum(poa, 1e-6)


def _with(crowd: Crowd, weed: str, work: Operations, drivers: Drivers) -> Array:
    start = Start(bare=0.02, weeds={weed: 0.1}, height_mm=25, cut_height_mm=25, soil_c=5)
    outputs = crowd.grown(start, drivers, work, "perennial ryegrass", weeds=(weed,)).outputs
    return np.asarray(outputs[weed][-1], np.float64)


def rough_in_drought(crowd: Crowd) -> Array:
    """Rough-stalked meadow-grass at the end of a dry year, not watered over watered [%]."""
    drivers = county(date(2003, 1, 1), date(2003, 9, 30))
    watered = kept(drivers, 25)
    watered.water[:] = np.where(drivers.et0 > 1.5, drivers.et0, 0)
    dry = _with(crowd, ROUGH, kept(drivers, 25), drivers)
    return 100 * dry / _with(crowd, ROUGH, watered, drivers)


def rough_in_winter(crowd: Crowd) -> Array:
    """Rough-stalked meadow-grass in ryegrass in March against October before [%]."""
    drivers = county(date(2001, 10, 1), date(2002, 3, 31))
    return 100 * _with(crowd, ROUGH, kept(drivers, 25), drivers) / 0.1


def bent_by_height(crowd: Crowd) -> Array:
    """Creeping bent after a year cut at 10 mm over at 40 mm, in ryegrass [%]."""
    drivers = county(*YEAR)
    close, high = (_with(crowd, BENT, kept(drivers, each, 4), drivers) for each in (10.0, 40.0))
    return 100 * close / high


def bent_seedlings(crowd: Crowd) -> Array:
    """Seedlings of creeping bent that become plants in a closed sward [%]."""
    return np.asarray(100 * crowd.parameters(weeds=(BENT,)).weeds[-1].survival_closed)
