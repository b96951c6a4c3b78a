"""Hours and money of a programme's first year, drawn with the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.handbook.parameters import parameter, value
from swardbook.model.ahead import Ahead, horizons
from swardbook.model.carrying import Look
from swardbook.model.chance import Array, Chance
from swardbook.model.programmes import Amount, Planned, Programme, work_hours

_RANGE_SCORE = 1.6448536269514722


@dataclass(frozen=True, slots=True)
class Costs:
    """What a programme costs in its first year, one value a draw.

    Parameters
    ----------
    hours : array
        Work in the zone. [h]
    money : array
        Feed and running the machines. [GBP]
    """

    hours: Array
    money: Array


def costs_of(
    ahead: Ahead, plan: Programme, look: Look, jobs: Sequence[Sequence[Planned]], chance: Chance
) -> Costs:
    """Work out hours and money of the first year; their handbook rates are drawn as well.

    Parameters
    ----------
    ahead : Ahead
        What all programmes share.
    plan : Programme
        The programme.
    look : Look
        What each draw has next October.
    jobs : sequence of sequence of Planned
        The jobs of each course of weather.
    chance : Chance
        The source, keyed by book and zone.
    """
    zone, years = ahead.zone, years_to_october(ahead)
    end = horizons(ahead.today, ahead.latitude)[1].day
    per_course = [work_hours(zone, [job for job in each if job.day <= end], years) for each in jobs]
    score = chance.normals("hours", len(look.cover))
    middle = np.array([each.middle for each in per_course])[ahead.course_of_draw]
    usual = _mean(per_course)
    machine = middle * _drawn(usual, score) / max(usual.middle, 1e-9)
    hours = machine + look.pull_hours * zone.area_m2 / years
    nitrogen = plan.nitrogen_g_m2_year * zone.area_m2 / 1000
    money = nitrogen * _price("programme.price_nitrogen", chance, len(score))
    money = money + machine * _price("programme.price_machine_hour", chance, len(score))
    return Costs(hours, money)


def years_to_october(ahead: Ahead) -> float:
    """Time from today to next October [years]."""
    end = horizons(ahead.today, ahead.latitude)[1].day
    return (end - ahead.today).days / 365.25


def season_weeks() -> float:
    """Weeks in a year in which cuts are planned [weeks]."""
    return (value("mowing_to") - value("mowing_from")) / 7


def _price(key: str, chance: Chance, draws: int) -> Array:
    number = parameter(key)
    return _drawn(Amount(number.value, number.low, number.high), chance.normals(key, draws))


def _drawn(amount: Amount, score: Array) -> Array:
    """Draw an amount whose bounds are a 90 % range, each side with its own spread."""
    if amount.middle <= 0 or amount.low <= 0:
        return np.full_like(score, amount.middle)
    below, above = np.log(amount.middle / amount.low), np.log(amount.high / amount.middle)
    power = score * np.where(score < 0, below, above) / _RANGE_SCORE
    return np.asarray(amount.middle * np.exp(power))


def _mean(amounts: Sequence[Amount]) -> Amount:
    total = Amount(0.0, 0.0, 0.0)
    for each in amounts:
        total = total + each
    n = len(amounts)
    return Amount(total.middle / n, total.low / n, total.high / n)
