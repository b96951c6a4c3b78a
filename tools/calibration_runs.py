"""The runs behind `make calibrate`: each target, and what the model has for it in every draw."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files

import numpy as np
from benchmarks._measuring import the_kernel

from swardbook.model.calibration import Found, Target
from swardbook.model.chance import Array, Chance
from swardbook.model.drivers import autumn_season, drivers_from, seasonal_readiness
from swardbook.model.ensemble import Outcome, run
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.operations import no_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import SownKind, SownKinds, central_parameters, draw_parameters
from swardbook.model.processes.establishment import survival
from swardbook.model.rows import output_names
from swardbook.model.start import Start, start_state
from swardbook.model.state import SwardState
from swardbook.weather.series import DailyWeather

CHANCE = Chance(("calibration",))
POA, FOG = "annual_meadow_grass", "yorkshire_fog"
FINE = ("chewings fescue", "strong creeping red fescue", "perennial ryegrass", "browntop bent")
LAWN = Start(bare=0.03, weeds={POA: 0.1, FOG: 0.02}, height_mm=30, cut_height_mm=30, soil_c=5)


@dataclass(frozen=True)
class Crowd:
    """Draws of a zone: at the stated values, or from the ranges."""

    draws: int
    is_central: bool

    def parameters(
        self, *species: str, weeds: tuple[str, ...] = (), use: str = "ornamental"
    ) -> Parameters:
        """Give the constants of each draw."""
        sown = tuple(SownKind(name, 500.0) for name in species or FINE)
        kinds = SownKinds(sown, weeds=(POA, FOG, *weeds), use=use)
        if self.is_central:
            return central_parameters(kinds, self.draws)
        return draw_parameters(kinds, self.draws, CHANCE)

    def start(
        self, start: Start, parameters: Parameters, weeds: tuple[str, ...] = ()
    ) -> SwardState:
        """Give the first evening of each draw."""
        chance = None if self.is_central else CHANCE
        return start_state(start, parameters, chance, names=(POA, FOG, *weeds))

    def grown(
        self, start: Start, drivers: Drivers, work: Operations, *species: str, every: int = 7,
        weeds: tuple[str, ...] = (), use: str = "ornamental", all_caught: bool = False,
    ) -> Outcome:  # fmt: skip
        """Grow each draw; `weeds` are further ones."""
        parameters = self.parameters(*species, weeds=weeds, use=use)
        if all_caught:
            first = parameters.weeds[0]._replace(capture=np.ones(self.draws))
            parameters = parameters._replace(weeds=(first, *parameters.weeds[1:]))
        state, names = self.start(start, parameters, weeds), (POA, FOG, *weeds)
        return run(
            state, parameters, drivers, work, kernel=the_kernel(), every=every, weeds=names,
            outputs=output_names(names),
        )  # fmt: skip


@cache
def county(first: date, last: date) -> Drivers:
    """Give the county series that ships with the made-up ground."""
    file = files("swardbook.demo") / "data" / "cambridge.csv"
    rows = list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))
    tmin, tmax, rain = (np.array([float(row[n]) for row in rows]) for n in ("tmin", "tmax", "rain"))
    days = np.array([row["date"] for row in rows], dtype="datetime64[D]")
    weather = DailyWeather(days, tmin, tmax, rain, flags=np.zeros(len(rows), np.int64))
    return drivers_from(weather, 52.2, 15.0, first, last)


def steady(days: int, celsius: float, rain: float = 3.0, et0: float = 2.0) -> Drivers:
    """Give the same weather every day from the end of April on."""
    same = np.ones(days)
    season = np.asarray((119 + np.arange(days)) % 365 + 1, dtype=np.float64)
    winter = np.where((season >= 274) | (season < 91), 1.0, 0.0)
    return Drivers(
        celsius * same, rain * same, et0 * same, 15 * same, season,
        seasonal_readiness(season), autumn_season(season), winter,
    )  # fmt: skip


def kept(drivers: Drivers, height: float = 30.0, every: int = 7, boxed: float = 0.0) -> Operations:
    """Cut at a pace whenever it is warm enough to grow."""
    to, since = no_operations(len(drivers.tmean)), every
    for day, celsius in enumerate(drivers.tmean):
        since += 1
        if celsius > 6 and since >= every:
            to.cut[day], to.cut_height[day], to.boxed[day], since = 1.0, height, boxed, 0
    return to


def clippings(
    crowd: Crowd, boxed: float, fed: float = 15.0, last: date = date(2003, 12, 31)
) -> Array:
    """Change of cover of annual meadow-grass in a fairway, over three years if not said [%]."""
    drivers = county(date(2001, 1, 1), last)
    to = kept(drivers, 13, 3, boxed)
    for day in range(90, len(to.cut)):
        if day % 30 == 0 and drivers.tmean[day] > 6:
            to.feed[day] = fed / 8
        if day % 3 == 0 and drivers.et0[day] > 1.5:
            wanted = 3 * drivers.et0[day] - drivers.rain[day - 3 : day].sum()
            to.water[day] = max(0.0, wanted)
    start = Start(bare=0.02, weeds={POA: 0.5}, height_mm=13, cut_height_mm=13,
                  seed_bank={POA: 60000})  # fmt: skip
    cover = crowd.grown(start, drivers, to, "creeping bent", every=30).outputs[POA][-1]
    return np.asarray(100 * (cover / 0.5 - 1), np.float64)


def clippings_ratio(crowd: Crowd) -> Array:
    """Cover with clippings left over cover with them off, after three years [-]."""
    return (100 + clippings(crowd, 0.0)) / (100 + clippings(crowd, 1.0))


def bank_left(crowd: Crowd, passes: float, times: int = 3) -> Array:
    """Share of buried seed left after six years without seed rain [%]."""
    days = 6 * 365
    season = np.asarray(np.arange(days) % 365 + 1, dtype=np.float64)
    wave, same = np.cos(2 * np.pi * (season - 200) / 365), np.ones(days)
    drivers = Drivers(
        10 + 6.5 * wave, 2 * same, 1.5 + 1.3 * wave, 10 + 7 * wave, season,
        seasonal_readiness(season), 0 * same, 0 * same,
    )  # fmt: skip
    work = no_operations(days)
    work.scarify[60 :: 360 // times] = passes
    work.pull_hours[:] = 1.0
    parameters = crowd.parameters()
    weed = parameters.weeds[0]._replace(
        immigration=np.zeros(crowd.draws), seed_on_tools=np.zeros(crowd.draws)
    )
    parameters = parameters._replace(weeds=(weed, *parameters.weeds[1:]))
    state = crowd.start(Start(bare=1.0, seed_bank={POA: 1000}), parameters)
    mixed = state.weeds[0]
    mixed = mixed._replace(ready=mixed.ready * 0, buried=mixed.ready + mixed.buried)
    state = state._replace(weeds=(mixed, *state.weeds[1:]))
    final = run(state, parameters, drivers, work, kernel=the_kernel(), every=days).final
    left = final.weeds[0]
    held = left.dormant + left.ready + left.buried - left.returned
    return np.asarray(np.maximum(held, 0.0) / 10)


def survival_closed(crowd: Crowd) -> Array:
    """Share of seedlings that become plants in a closed sward [%]."""
    p = crowd.parameters().weeds[0]
    return np.asarray(100 * survival(0.0, p.light_closed, p.survival_gap, p.survival_closed))


def _heads(crowd: Crowd) -> tuple[Array, Array]:
    drivers = county(date(2001, 1, 1), date(2001, 12, 31))
    outcome = crowd.grown(LAWN, drivers, kept(drivers), every=1)
    return np.asarray(outcome.outputs[f"{POA}_heads"], np.float64), drivers.season_day


def spring_peak(crowd: Crowd) -> Array:
    """Day of the year on which most heads stand, January to July [d]."""
    heads, season = _heads(crowd)
    return np.asarray(season[np.argmax(heads[season < 213], axis=0)])


def autumn_rise(crowd: Crowd) -> Array:
    """Most heads of October and November over the fewest of August and September [-]."""
    heads, season = _heads(crowd)
    autumn = heads[(season >= 274) & (season < 335)].max(axis=0)
    return np.asarray(autumn / heads[(season >= 213) & (season < 274)].min(axis=0))


def peak_warmth(crowd: Crowd) -> Array:
    """Degree-days above -5 °C to most heads on a watered fairway at 15 mm [°C d]."""
    drivers = county(date(2001, 1, 1), date(2001, 12, 31))
    warmth = np.cumsum(np.where(drivers.season_day < 46, 0, np.maximum(drivers.tmean + 5, 0)))
    work = kept(drivers, 15, 3)
    work.water[:] = np.where(drivers.et0 > 1.5, drivers.et0, 0)
    heads = crowd.grown(LAWN, drivers, work, every=1).outputs[f"{POA}_heads"]
    return np.asarray(warmth[np.argmax(heads[drivers.season_day < 213], axis=0)])


def sown_alone(crowd: Crowd, species: str, celsius: float, water: float = 1.0) -> Array:
    """Cover of one species sown alone without weeds: (days, draws) [-]."""
    wet = 3.0 if celsius < 22 else 5.0
    drivers = steady(180, celsius, wet * water, 2.0 if celsius < 22 else 5.0)
    work = no_operations(180)
    work.sow_a[0] = 20000
    work.feed[:90:30] = 3
    start = Start(soil_c=celsius, seed_bank={POA: 0.0, FOG: 0.0})
    return np.asarray(crowd.grown(start, drivers, work, species, every=1).outputs["sown"])


def first_day(cover: Array, share: float = 0.5) -> Array:
    """Days until a share is covered; the whole run where it never is [d]."""
    reached = cover >= share
    return np.where(reached.any(axis=0), np.argmax(reached, axis=0) + 1.0, float(len(cover)))


def delay(crowd: Crowd, water: float) -> Array:
    """Days by which another amount of water delays half cover of tall fescue [d]."""
    usual = first_day(sown_alone(crowd, "tall fescue", 22.0))
    return first_day(sown_alone(crowd, "tall fescue", 22.0, water)) - usual


def in_order(crowd: Crowd) -> Array:
    """1 where ryegrass comes before tall fescue and that before meadow-grass, else 0 [-]."""
    names = ("perennial ryegrass", "tall fescue", "smooth-stalked meadow-grass")
    rye, tall, smooth = (first_day(sown_alone(crowd, name, 20.0)) for name in names)
    return np.asarray((rye < tall) & (tall < smooth), np.float64)


def meadow_grass_share(
    crowd: Crowd, last: date, companions: tuple[str, ...], share: float = 0.55, behind: int = 0,
    use: str = "ornamental",
) -> Array:  # fmt: skip
    """Smooth-stalked meadow-grass's part of the sown cover, its companions sown so late [%]."""
    drivers = county(date(2001, 6, 1), last)
    to = kept(drivers, 30)
    to.cut[:28] = 0
    to.sow_a[0] = share * 16000
    for row in (to.sow_b, to.sow_c)[: len(companions)]:
        row[behind] = (1 - share) * 16000 / len(companions)
    to.feed[20::60] = 2
    to.water[:60] = drivers.et0[:60]
    start = Start(soil_c=15, seed_bank={POA: 0.0, FOG: 0.0})
    names = ("smooth-stalked meadow-grass", *companions)
    outcome = crowd.grown(start, drivers, to, *names, use=use)
    sown = outcome.outputs["sown"][-1]
    return np.asarray(100 * outcome.outputs["sown_a"][-1] / np.maximum(sown, 1e-6), np.float64)


def boxed_share(crowd: Crowd) -> Array:
    """Share of all seed formed that weekly boxed cuts at 40 mm take away [%]."""
    drivers = county(date(2001, 1, 1), date(2001, 12, 31))
    totals = crowd.grown(LAWN, drivers, kept(drivers, 40, 7, 1.0)).totals
    return 100 * totals[f"{POA}.boxed"] / totals[f"{POA}.produced"]


def heads_again(crowd: Crowd) -> Array:
    """Days after heads are lifted and boxed until half as many stand again, at 12 °C [d]."""
    drivers = steady(60, 12.0)
    work = kept(drivers, 30, 7, 1.0)
    work.cut[20:], work.brush[20], work.verticut_tips[20], work.cut[20] = 0.0, 3.0, 3.0, 1.0
    work.cut_height[20], work.boxed[20] = 30.0, 1.0
    start = Start(bare=0.03, weeds={POA: 0.1}, height_mm=30, cut_height_mm=30, soil_c=12,
                  season_warmth=900)  # fmt: skip
    heads = np.asarray(crowd.grown(start, drivers, work, every=1).outputs[f"{POA}_heads"])
    after = heads[20:] >= heads[19] / 2
    return np.where(after.any(axis=0), np.argmax(after, axis=0).astype(float), 40.0)


def eight_weeks(crowd: Crowd) -> Array:
    """Seedlings and plants of annual meadow-grass 59 days after a September sowing [m⁻²]."""
    drivers = county(date(2011, 9, 1), date(2011, 10, 30))
    to = kept(drivers, 30)
    to.sow_a[0], to.sow_b[0], to.cut[:35] = 8000, 8000, 0
    outputs = crowd.grown(Start(bare=1.0, soil_c=14), drivers, to).outputs
    seen = outputs[f"{POA}_plants"][-1] + outputs[f"{POA}_seedlings"][-1]
    return np.asarray(seen, np.float64)


def digging(crowd: Crowd, plants: float) -> Array:
    """Plants with four hours of digging a fortnight on 300 m² over plants without [%]."""
    drivers = county(date(2001, 1, 1), date(2001, 12, 31))
    start = Start(bare=0.01, weeds={POA: plants * 10 / 1e4}, height_mm=30, cut_height_mm=30,
                  soil_c=5, seed_bank={POA: 100 * plants})  # fmt: skip
    left, dug = kept(drivers), kept(drivers)
    dug.pull_hours[np.flatnonzero(drivers.tmean > 7)[::14]] = 4 / 300
    without, with_digging = (
        np.asarray(crowd.grown(start, drivers, work).outputs[f"{POA}_plants"][-1], np.float64)
        for work in (left, dug)
    )
    return 100 * with_digging / without


def fog_kept(crowd: Crowd, verticut: bool) -> Array:
    """Yorkshire fog after a year of weekly cuts, or of verticutting over that [%]."""
    drivers = county(date(2001, 1, 1), date(2001, 12, 31))
    work = kept(drivers)
    plain = np.asarray(crowd.grown(LAWN, drivers, work).outputs[FOG][-1], np.float64)
    if not verticut:
        return 100 * plain / 0.02
    work.verticut_blade[np.flatnonzero(drivers.tmean > 9)[::14]] = 1
    return 100 * np.asarray(crowd.grown(LAWN, drivers, work).outputs[FOG][-1]) / plain


Measure = Callable[[Crowd], Array]


def find(target: Target, measure: Measure, draws: int) -> Found:
    """Ask the model."""
    central = measure(Crowd(64, True))
    return Found(target, float(central[0]), np.asarray(measure(Crowd(draws, False)), np.float64))
