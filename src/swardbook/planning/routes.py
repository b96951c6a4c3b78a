"""Mend or start again: three routes with what each takes, and which the count speaks for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from math import log
from statistics import NormalDist, fmean, median, quantiles
from typing import Any, NamedTuple

from swardbook.evidence import Estimate, normal_quantile
from swardbook.foundation.quantities import read_number
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.bulk import barrows, loose_l, volume_l
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Brush, Dress, Happening, Scarify, Tine

_PER_M2 = 100.0
_EDGE = 0.005
_OWN_LEAST = 3
"""Own jobs from which their own spread is taken; below that the handbook's about their mean."""
_OWN_MANY = 10
"""From here eight in ten of them, so that one odd day does not make the range."""


class Route(StrEnum):
    """What can be done with a tired zone."""

    OVERSOW = "oversow"
    RENOVATE = "hard renovation"
    START_AGAIN = "start again"

    @property
    def key(self) -> str:
        """Its name in the handbook's keys."""
        return {"hard renovation": "renovate"}.get(self.value, self.value.replace(" ", "_"))


class Span(NamedTuple):
    """A middle with the range it may have, in the unit of its name."""

    middle: float
    low: float
    high: float

    def times(self, by: float) -> Span:
        """Give the span of so many times as much."""
        return Span(self.middle * by, self.low * by, self.high * by)

    def plus(self, other: Span) -> Span:
        """Add ends to ends: the slow days of all jobs together, and the quick ones."""
        return Span(*(one + two for one, two in zip(self, other, strict=True)))


NOTHING = Span(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class JobCost:
    """One job of a route.

    Parameters
    ----------
    job : str
        What is done.
    times : float
        How often. [-]
    hours, money : Span
        For all times together. [h, currency]
    own_hours, own_money : int
        Past jobs of the book that they rest on; 0 for the handbook's defaults.
    """

    job: str
    times: float
    hours: Span
    money: Span
    own_hours: int
    own_money: int


@dataclass(frozen=True, slots=True)
class RouteCost:
    """What one route takes in a zone.

    Parameters
    ----------
    route : Route
        The route.
    jobs : tuple of JobCost
        Job by job.
    hours : Span
        Hours of all people together. [h]
    money : Span
        Hire, material and seed. [currency]
    seed_kg, seed_money : Span
        Seed in it, and what it costs. [kg, currency]
    weeks : Span
        Out of use, in growing weeks. [weeks]
    water_m3 : Span
        Water on the seedbed beyond rain. [m³]
    spoil_m3, barrows : float
        Loose spoil, and the barrows it fills. [m³, -]
    """

    route: Route
    jobs: tuple[JobCost, ...]
    hours: Span
    money: Span
    seed_kg: Span
    seed_money: Span
    weeks: Span
    water_m3: Span
    spoil_m3: float
    barrows: int


@dataclass(frozen=True, slots=True)
class Band:
    """Which route the share of grass worth keeping speaks for.

    Parameters
    ----------
    route : Route
        By the middle of the count, or by creeping perennials.
    chances : mapping of Route to float
        Chance that the true share lies in each route's band. [-]
    doubt : str
        ``with little doubt``, ``probably`` or ``on the edge of two bands``.
    regret : mapping of Route to float
        Chance that a route is the wrong one: too little kept for it, or good grass thrown away. [-]
    """

    route: Route
    chances: Mapping[Route, float]
    doubt: str
    regret: Mapping[Route, float]


def band_of(estimate: Estimate, *, creeping: bool = False) -> Band:
    """Hold the share of grass worth keeping against the guide bands.

    The count's range is read as a normal one on the log of the odds.

    Parameters
    ----------
    estimate : Estimate
        The share with its range. [%]
    creeping : bool
        Whether creeping perennials stand throughout: then it is start again, whatever the share.
    """
    upper, lower = value("route_oversow_from"), value("route_renovate_from")
    middle, low, high = (
        _odds(each / 100)
        for each in (estimate.value, estimate.interval.low, estimate.interval.high)
    )
    spread = max((high - low) / (2 * normal_quantile(estimate.level)), 1e-6)
    true = NormalDist(middle, spread)
    under_lower, under_upper = true.cdf(_odds(lower)), true.cdf(_odds(upper))
    chances = {
        Route.OVERSOW: 1 - under_upper, Route.RENOVATE: under_upper - under_lower,
        Route.START_AGAIN: under_lower,
    }  # fmt: skip
    share = estimate.value / 100
    by_count = (
        Route.OVERSOW if share >= upper
        else Route.RENOVATE if share >= lower else Route.START_AGAIN
    )  # fmt: skip
    regret = {
        Route.OVERSOW: under_upper,
        Route.RENOVATE: under_lower,
        Route.START_AGAIN: 1 - under_lower,
    }
    if creeping:
        regret = {Route.OVERSOW: 1.0, Route.RENOVATE: 1.0, Route.START_AGAIN: 0.0}
        return Band(Route.START_AGAIN, chances, "with little doubt", regret)
    return Band(by_count, chances, _doubt(chances[by_count]), regret)


def risk_word(chance: float) -> str:
    """Say how great the chance of the wrong route is: ``low``, ``some`` or ``high``."""
    if chance < value("route_regret_low"):
        return "low"
    return "some" if chance < value("route_regret_high") else "high"


def route_costs(ground: Ground, zone: Zone) -> tuple[RouteCost, ...]:
    """Reckon the three routes for a zone from the book's own past jobs, else from defaults.

    Parameters
    ----------
    ground : Ground
        The ground with its diary and lots.
    zone : Zone
        The zone.
    """
    return tuple(_route(ground, zone, route) for route in Route)


def job_kind(job: str) -> str:
    """Give the kind of diary entry that is such a job; empty where none is."""
    found: str = _table()["kinds"].get(job, "")
    return found


def _route(ground: Ground, zone: Zone, route: Route) -> RouteCost:
    row = _table()[route.key]
    jobs = tuple(_job(ground, zone, job, times) for job, times in row["jobs"].items())
    hours, money = NOTHING, NOTHING
    for each in jobs:
        hours, money = hours.plus(each.hours), money.plus(each.money)
    seed = _default(row["seed"]).times(zone.area_m2 / 1000)
    price = _price(ground)
    cost = Span(*(kg * per for kg, per in zip(seed, price, strict=True)))
    water = _default(f"route_water_{route.key}").times(zone.area_m2 / 1000)
    spoil = _spoil_l(ground, zone, row["jobs"])
    return RouteCost(
        route, jobs, hours, money.plus(cost), seed, cost, _default(f"route_weeks_{route.key}"),
        water, spoil / 1000, barrows(spoil),
    )  # fmt: skip


def _job(ground: Ground, zone: Zone, job: str, times: float) -> JobCost:
    key = job.replace(" ", "_")
    kind = job_kind(job)
    scale = times * zone.area_m2 / _PER_M2
    hours, money = own_rates(ground, kind, zone.area_m2) if kind else ([], [])
    return JobCost(
        job, times, _span(hours, f"route_hours_{key}").times(scale),
        _span(money, f"route_money_{key}").times(scale), len(hours), len(money),
    )  # fmt: skip


def own_rates(ground: Ground, kind: str, area_m2: float) -> tuple[list[float], list[float]]:
    """Give what past jobs of a kind took, a pass: hours and money for 100 m².

    Jobs on much smaller ground are left out where there are others: getting ready takes as long.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    kind : str
        Kind of entry, such as ``scarify``.
    area_m2 : float
        Area that is to be worked. [m²]

    Returns
    -------
    tuple of list
        Hours [h per 100 m²] and money [currency per 100 m²], of entries that name a zone.
    """
    areas = {zone.name.casefold(): zone.area_m2 for zone in ground.zones}
    hours: list[tuple[float, float]] = []
    money: list[tuple[float, float]] = []
    for entry in ground.diary:
        if entry.what.kind != kind or entry.zone.casefold() not in areas or _is_other(entry.what):
            continue
        area = getattr(entry.what, "area_m2", None) or areas[entry.zone.casefold()]
        worked = area * getattr(entry.what, "passes", 1) / _PER_M2
        if entry.hours:
            hours.append((area, entry.hours / worked))
        if entry.money:
            money.append((area, float(entry.money) / worked))
    return _on_like_ground(hours, area_m2), _on_like_ground(money, area_m2)


def _on_like_ground(rates: Sequence[tuple[float, float]], area_m2: float) -> list[float]:
    least = value("route_like_ground") * area_m2
    return [rate for area, rate in rates if area >= least] or [rate for _, rate in rates]


def _is_other(what: Happening) -> bool:
    """Tell whether an entry is of a kind but no such job: a new rootzone, dew brushed off."""
    if isinstance(what, Dress):
        return (what.depth_mm or 0) > value("route_dress_most_mm")
    if isinstance(what, Tine):
        return not what.hollow
    return isinstance(what, Brush) and what.tool != "rake"


def _span(own: Sequence[float], key: str) -> Span:
    default = parameter(key)
    if not own:
        return _default(key)
    if len(own) >= _OWN_MANY:
        tenths = quantiles(own, n=10)
        return _at_least_spread(median(own), tenths[0], tenths[-1])
    if len(own) >= _OWN_LEAST:
        return _at_least_spread(median(own), min(own), max(own))
    middle = fmean(own)
    if default.value == 0:
        return Span(middle, middle, middle)
    share = middle / default.value
    return Span(middle, default.low * share, default.high * share)


def _at_least_spread(middle: float, low: float, high: float) -> Span:
    """Widen a range of jobs that went alike: the next one goes a little quicker or slower."""
    spread = value("route_least_spread")
    return Span(middle, min(low, middle * (1 - spread)), max(high, middle * (1 + spread)))


def _default(key: str) -> Span:
    row = parameter(key)
    return Span(row.value, row.low, row.high)


def _price(ground: Ground) -> Span:
    """Give the price of seed by the lots bought in quantity, a kilogram."""
    priced = [(lot.bought_g or 0.0, read_number(lot.price_per_kg)) for lot in ground.lots]
    most = max((grams for grams, price in priced if price is not None), default=0.0)
    prices = [price for grams, price in priced if price is not None and grams >= most / 4]
    if not prices:
        return _default("route_seed_price")
    return Span(median(prices), min(prices), max(prices))


def _spoil_l(ground: Ground, zone: Zone, jobs: Mapping[str, float]) -> float:
    """Give the loose spoil [L] of stripping and scarifying."""
    found = 0.0
    if jobs.get("strip"):
        found += loose_l(volume_l(zone.area_m2, value("route_strip_mm")))
    areas = {each.name.casefold(): each.area_m2 for each in ground.zones}
    own = [
        entry.what.spoil_m3 * 1000 / areas[entry.zone.casefold()] / entry.what.passes
        for entry in ground.diary
        if isinstance(entry.what, Scarify) and entry.what.spoil_m3
        and entry.zone.casefold() in areas
    ]  # fmt: skip
    a_pass = fmean(own) if own else value("route_scarify_spoil")
    return found + jobs.get("scarify", 0) * a_pass * zone.area_m2


def _doubt(chance: float) -> str:
    if chance >= value("route_little_doubt"):
        return "with little doubt"
    return "probably" if chance >= value("route_probably") else "on the edge of two bands"


def _odds(share: float) -> float:
    held = min(max(share, _EDGE), 1 - _EDGE)
    return log(held / (1 - held))


@cache
def _table() -> Mapping[str, Any]:
    return read_toml_table(files("swardbook.handbook") / "data" / "routes.toml")
