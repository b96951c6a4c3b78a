"""Go, wait or too late by date: each component against its soil and the warmth still to come."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.foundation.dates import say, season_day
from swardbook.handbook.parameters import value
from swardbook.handbook.species import Species
from swardbook.planning.checks_site import open_to_hose
from swardbook.planning.situation import Situation
from swardbook.planning.sowing import Answer, PastYear, past_years, warmth_needed
from swardbook.planning.states import Condition, Rank, State
from swardbook.weather.series import DailyWeather, Values
from swardbook.weather.soil_temperature import running_mean, soil_temperature_10cm


@dataclass(frozen=True, slots=True)
class DateAnswer:
    """One component on one day of sowing.

    Parameters
    ----------
    species : str
        Key of the species.
    answer : Answer
        Go, wait, too late or don't know.
    because : str
        The reason.
    soil : tuple of float or None
        Soil on that day in past years, four in five; None without any. [°C]
    enough : int
        Past years in which the warmth it needs was still to come.
    years : int
        Past years looked at.
    """

    species: str
    answer: Answer
    because: str
    soil: tuple[float, float, float] | None
    enough: int
    years: int


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of the sowing, besides the book; None where it is not.

    Parameters
    ----------
    is_watered : bool or None
        Whether the seedbed is kept damp.
    somebody_here : bool or None
        Whether somebody is there each day of the first weeks.
    slope : float or None
        Fall over run of the ground. [-]
    forecast : DailyWeather or None
        Days after today.
    """

    is_watered: bool | None = None
    somebody_here: bool | None = None
    slope: float | None = None
    forecast: DailyWeather | None = None


def answers_on(sit: Situation, species: Sequence[Species], day: date) -> tuple[DateAnswer, ...]:
    """Say for each component whether to sow on a day to come, from the site's past years.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    species : sequence of Species
        The components.
    day : date
        The day of sowing.
    """
    years = past_years(sit)
    soil = _soil_on(sit, day)
    return tuple(_answer(sit, each, day, years, soil) for each in species)


def whole(answers: Sequence[DateAnswer]) -> DateAnswer:
    """Give the answer that decides: too late before wait, before don't know, before go."""
    order = (Answer.TOO_LATE, Answer.WAIT, Answer.UNKNOWN, Answer.GO)
    return min(answers, key=lambda each: (order.index(each.answer), each.enough))


def conditions(sit: Situation, said: Said, day: date) -> tuple[Condition, ...]:
    """Check frost, heavy rain, water and people for a sowing on a day.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    said : Said
        What is said of the sowing.
    day : date
        The day of sowing.
    """
    return (_frost(sit, said, day), _rain(sit, said, day), _water(sit, said), _people(said))


def _answer(
    sit: Situation, species: Species, day: date, years: Sequence[PastYear],
    soil: tuple[float, float, float] | None,
) -> DateAnswer:  # fmt: skip
    season = season_day(day, sit.site.latitude)
    needed = warmth_needed(species)[1]
    enough = sum(year.warmth_from(season) >= needed for year in years)
    answer, because = _said(species, soil, season, needed, enough, len(years))
    return DateAnswer(species.key, answer, because, soil, enough, len(years))


def _said(
    species: Species, soil: tuple[float, float, float] | None, season: int, needed: float,
    enough: int, years: int,
) -> tuple[Answer, str]:  # fmt: skip
    minimum = species.minimum_soil_c
    if soil is None or minimum is None or years < value("sow_years_least"):
        return Answer.UNKNOWN, f"fewer than {value('sow_years_least'):g} past years of weather"
    told = f"soil {soil[1]:.0f} °C ({soil[0]:.0f} to {soil[2]:.0f}), wants {minimum.low:g} to" \
           f" {minimum.high:g}"  # fmt: skip
    warmth = f"{needed:g} °C d still to come in {enough} of {years} years"
    if season < value("soil_stop_from"):
        ready = soil[1] >= minimum.value
        return (
            (Answer.GO, told) if ready else (Answer.WAIT, f"{told}; spring starts by soil warmth")
        )
    if enough < value("sow_years_of_five") * years:
        return Answer.TOO_LATE, f"{warmth}, four in five wanted"
    if soil[1] < minimum.value:
        return Answer.TOO_LATE, f"{told}, and cooling"
    return Answer.GO, f"{told}; {warmth}"


def _soil_on(sit: Situation, day: date) -> tuple[float, float, float] | None:
    """Soil on one day of the calendar in past years: the range of four in five [°C]."""
    found = _past(sit, day, 1, _soils)
    if not len(found):
        return None
    low, middle, high = np.quantile(found[:, 0], (0.1, 0.5, 0.9))
    return float(low), float(middle), float(high)


def _soils(weather: DailyWeather) -> Values:
    return running_mean(soil_temperature_10cm(weather.tmean), int(value("soil_mean_days")))


def _past(sit: Situation, day: date, days: int, series: Callable[[DailyWeather], Values]) -> Values:
    """Lay the same days of every past year over one another: (years, days)."""
    weather = sit.weather
    if weather is None:
        return np.empty((0, days))
    values = series(weather)
    rows = []
    for year in range(weather.first.year, sit.today.year + 1):
        start = date(year, day.month, min(day.day, 28))
        if start >= weather.first and start + timedelta(days=days) <= weather.last:
            at = weather.index(start)
            row = values[at : at + days]
            if not np.isnan(row).any():
                rows.append(row)
    return np.array(rows) if rows else np.empty((0, days))


def is_kept_damp(sit: Situation, said: Said) -> bool:
    """Tell whether the seedbed is kept damp: as said, else with an open hose and somebody there.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    said : Said
        What is said of the sowing.
    """
    if said.is_watered is not None:
        return said.is_watered
    has_hose = sit.site.hose_l_min is not None and open_to_hose(sit).state is not State.NOT_MET
    return has_hose and said.somebody_here is not False


def _frost(sit: Situation, said: Said, day: date) -> Condition:
    limit, key = value("sow_when.frost"), "sow_when.frost"
    known, rest, past = _ahead(sit, said, day, lambda weather: weather.tmin)
    cold = int(np.sum(past.min(axis=1) <= limit)) if past.size else 0
    years = f"in {cold} of {len(past)} past years"
    if known is None:
        told = f"no forecast; frost within {rest} days {years}"
        state = State.MET if len(past) >= value("sow_years_least") and not cold else State.UNKNOWN
        return Condition("frost", state, told, "past years", key, Rank.GROUND)
    coldest = float(np.min(known.tmin))
    told = f"forecast minimum {coldest:.0f} °C by {say(known.last)}"
    if coldest > limit:
        told += f", then frost within {rest} days {years}" if past.size else ""
        return Condition("frost", State.MET, told, "forecast", key, Rank.GROUND)
    rising = season_day(day, sit.site.latitude) < value("soil_stop_from")
    return Condition(
        "frost", State.NOT_MET, told, "forecast", key, Rank.GROUND, until="the frost is past",
        blocks=rising or bool(known.tmin[0] <= limit),
    )  # fmt: skip


def _rain(sit: Situation, said: Said, day: date) -> Condition:
    name, key = "heavy rain on a slope", "trouble.downpour"
    if said.slope is None:
        told = "slope not known: measure it with `swardbook survey slope`, or give --slope"
        return Condition(name, State.UNKNOWN, told, "", key, Rank.GROUND,
                         until="the slope measured")  # fmt: skip
    if said.slope < value("slope_runs_off"):
        return Condition(name, State.MET, f"falls {100 * said.slope:.1f} %: seed lies", "survey",
                         key, Rank.GROUND)  # fmt: skip
    limit = value(key)
    known, rest, past = _ahead(sit, said, day, lambda weather: weather.rain)
    wet = int(np.sum(past.max(axis=1) >= limit)) if past.size else 0
    fall = f"falls {100 * said.slope:.0f} %"
    years = f"{limit:g} mm in a day within {rest} days in {wet} of {len(past)} past years"
    if known is None:
        return Condition(name, State.UNKNOWN, f"{fall}, no forecast; {years}", "past years", key,
                         Rank.GROUND, until="a forecast")  # fmt: skip
    most = float(np.max(known.rain))
    told = f"{fall}; forecast up to {most:.0f} mm in a day by {say(known.last)}: seed"
    if most >= limit:
        return Condition(name, State.NOT_MET, f"{told} will move", "forecast", key, Rank.GROUND,
                         until="the rain is past")  # fmt: skip
    after = f"; then {years}" if past.size else ""
    return Condition(name, State.MET, f"{told} lies{after}", "forecast", key, Rank.GROUND)


def _ahead(
    sit: Situation, said: Said, day: date, series: Callable[[DailyWeather], Values]
) -> tuple[DailyWeather | None, int, Values]:
    """Give the forecast after a sowing, the days left of those looked at, and past years' days."""
    days = round(value("sow_when.frost_days"))
    known = _forecast(said, day, days)
    rest = days - (0 if known is None else len(known))
    past = _past(sit, day + timedelta(days=days - rest), rest, series) if rest > 0 else np.empty(0)
    return known, rest, past


def _water(sit: Situation, said: Said) -> Condition:
    hose = open_to_hose(sit)
    if hose.state is State.NOT_MET:
        return Condition("water", State.NOT_MET, hose.because, hose.source, rank=Rank.SEEDLINGS,
                         blocks=False)  # fmt: skip
    if said.is_watered is None and said.somebody_here is False:
        told = "nobody is here to water: once chitted, one dry day can end it"
        return Condition("water", State.NOT_MET, told, "said", rank=Rank.SEEDLINGS, blocks=False)
    if said.is_watered is None and sit.site.hose_l_min is None:
        return Condition("water", State.UNKNOWN, "no hose in the book", "", rank=Rank.SEEDLINGS)
    if said.is_watered is False:
        told = "not watered: once chitted, one dry day can end it"
        return Condition("water", State.NOT_MET, told, "said", rank=Rank.SEEDLINGS, blocks=False)
    told = "said" if said.is_watered else f"a hose of {sit.site.hose_l_min:g} L/min"
    return Condition("water", State.MET, told, "site", rank=Rank.SEEDLINGS)


def _people(said: Said) -> Condition:
    weeks = f"the first {value('seedbed_weeks'):g} weeks"
    if said.somebody_here is None:
        told = f"who is here each day of {weeks}? Say --here or --nobody-here"
        return Condition("people", State.UNKNOWN, told, "", rank=Rank.SEEDLINGS,
                         until="somebody said with --here")  # fmt: skip
    state = State.MET if said.somebody_here else State.NOT_MET
    told = f"{'somebody' if said.somebody_here else 'nobody'} is here each day of {weeks}"
    return Condition("people", state, told, "said", rank=Rank.SEEDLINGS, blocks=False)


def _forecast(said: Said, day: date, days: int) -> DailyWeather | None:
    """Give the forecast days that follow a sowing; None where none do."""
    known = said.forecast
    if known is None or known.last < day or known.first > day:
        return None
    return known.between(day, min(known.last, day + timedelta(days=days - 1)))
