"""Sow go, wait or too late: each component of a lot has its own answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import lru_cache

import numpy as np

from swardbook.foundation.dates import say, season_day_from
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import Species
from swardbook.husbandry.happenings import Reading
from swardbook.planning.kinds import components
from swardbook.planning.situation import Situation
from swardbook.seed.lot import SeedLot
from swardbook.weather.series import Values
from swardbook.weather.soil_temperature import running_mean, soil_temperature_10cm

SEASON_DAYS = 366 + 59
"""A season is read on to the end of the next February, should soil never stop growth [d]."""


class Answer(StrEnum):
    """Whether a component can be sown today."""

    GO = "go"
    WAIT = "wait"
    TOO_LATE = "too late"
    UNKNOWN = "don't know"

    @property
    def shape(self) -> str:
        """The mark shown beside the word."""
        return {"go": "✓", "wait": "◷", "too late": "✗", "don't know": "?"}[self.value]


@dataclass(frozen=True, slots=True)
class ComponentAnswer:
    """Sow today? One component of a lot.

    Parameters
    ----------
    species : str
        English name.
    share_by_weight : float
        Its part of the lot. [-]
    answer : Answer
        Go, wait, too late or don't know.
    because : str
        The reason.
    last_day : date or None
        Last sensible day this season, four years in five; None without enough past years.
    days_left : int or None
        Days to it.
    first_seen_days : tuple of float or None
        Days to the first seedlings if sown now, as a range; None where no date can be given.
    """

    species: str
    share_by_weight: float
    answer: Answer
    because: str
    last_day: date | None
    days_left: int | None
    first_seen_days: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class SowingAnswer:
    """Sow today? A whole lot, told by component."""

    lot: str
    mixture: str
    soil: float | None
    soil_source: str
    components: tuple[ComponentAnswer, ...]
    answer: Answer
    because: str
    past_years: int
    workings: Workings


def sowing_answer(sit: Situation, lot: SeedLot) -> SowingAnswer:
    """Say for each component of a lot whether to sow today.

    Parameters
    ----------
    sit : Situation
        The zone on its day; past years are those of its weather before today.
    lot : SeedLot
        The lot.

    Returns
    -------
    SowingAnswer
        Its own answer is that of the slowest component that matters.
    """
    soil, source = soil_now(sit)
    years = past_years(sit)
    told = tuple(_component(sit, species, lot, soil, years) for species in components(lot))
    answer, because = _whole(told)
    return SowingAnswer(
        lot.code, lot.mixture, soil, source, told, answer, because, len(years),
        _workings(sit, lot, soil, source, told, len(years), answer),
    )  # fmt: skip


def soil_now(sit: Situation) -> tuple[float | None, str]:
    """Give the soil temperature at sowing depth and where it comes from.

    Returns
    -------
    tuple of float or None and str
        The temperature, measured within three days or judged from 11 days of air. [°C]
    """
    for each in reversed(sit.happened(Reading, within_days=value("soil_reading_days"))):
        if "soil" in each.what.quantity.casefold() and "temp" in each.what.quantity.casefold():
            return each.what.value, f"measured, {say(each.day)}"
    if sit.lately.soil is None:
        return None, "no reading and no weather"
    return sit.lately.soil, "judged from 11 days of air, right to about 2 °C"


def first_seen_days(species: Species, soil: float | None) -> tuple[float, float] | None:
    """Range of days from sowing to the first seedlings in soil of one temperature.

    Parameters
    ----------
    species : Species
        The species.
    soil : float or None
        Soil temperature. [°C]

    Returns
    -------
    tuple of float or None
        Fewest and most days; None below 8 °C or where nothing is known. [d]
    """
    warm, cool = species.first_seen_15c_days, species.first_seen_10c_days
    if soil is None or soil < value("single_date_soil") or warm is None or cool is None:
        return None
    if soil < 10:
        return cool.low, cool.high * 10 / soil
    part = min((soil - 10) / 5, 1.0)
    return (cool.low + part * (warm.low - cool.low), cool.high + part * (warm.high - cool.high))


@dataclass(frozen=True, slots=True)
class PastYear:
    """One past season: the day its soil stopped growth, and the warmth from each day to then."""

    first: date
    stop: int
    """Days after `first` on which the soil's 11-day mean fell below 6 °C. [d]"""
    to_come: Values
    """Degree-days above 0 °C from each day after `first` to the stop. [°C d]"""

    def warmth_from(self, season: int) -> float:
        """Warmth still to come from a season day [°C d]."""
        return float(self.to_come[season - 1]) if season - 1 < len(self.to_come) else 0.0

    def last_season_day(self, needed: float) -> int:
        """Last season day with at least so much warmth [°C d] to come."""
        enough = np.flatnonzero(self.to_come >= needed)
        return int(enough[-1]) + 1 if len(enough) else 0


def past_years(sit: Situation) -> list[PastYear]:
    """Read the site's past seasons that were over before today."""
    weather = sit.weather
    if weather is None or not len(weather):
        return []
    means = weather.tmean.tobytes()
    return [
        year
        for year in _seasons(weather.first, means, sit.site.latitude)
        if year.first + timedelta(days=year.stop) < sit.today
    ]


@lru_cache(maxsize=16)
def _seasons(first: date, means: bytes, latitude: float) -> tuple[PastYear, ...]:
    """Read all seasons of daily means [°C] from a day on; one page asks for them a dozen times."""
    air = np.frombuffer(means)
    soils = running_mean(soil_temperature_10cm(air), int(value("soil_mean_days")))
    found, start = [], season_day_from(first, 1, latitude)
    while (begin := (start - first).days) < len(air):
        year = _past_year(air[begin:], soils[begin:], start)
        found += [] if year is None else [year]
        start = season_day_from(start + timedelta(days=1), 1, latitude)
    return tuple(found)


def warmth_needed(species: Species) -> tuple[str, float]:
    """Give the handbook key and the warmth [°C d] a species needs before soil stops."""
    by_group = {"ryegrass": "ryegrass", "bent": "bent", "tall fescue": "tall_fescue",
                "meadow-grass": "meadow_grass"}  # fmt: skip
    key = f"sow_warmth_{by_group.get(species.group, 'fescue')}"
    return key, value(key)


def _component(
    sit: Situation, species: Species, lot: SeedLot, soil: float | None, years: Sequence[PastYear]
) -> ComponentAnswer:
    share = sum(p.share_by_weight for p in lot.parts if _same(p.species, species))
    needed = warmth_needed(species)[1]
    last, left = _last_day(sit, needed, years)
    answer, because = _answer(sit, species, soil, years, left)
    seen = first_seen_days(species, soil) if answer is Answer.GO else None
    return ComponentAnswer(species.english, share, answer, because, last, left, seen)


def _answer(
    sit: Situation, species: Species, soil: float | None, years: Sequence[PastYear],
    left: int | None,
) -> tuple[Answer, str]:  # fmt: skip
    minimum = species.minimum_soil_c
    if soil is None or minimum is None:
        return Answer.UNKNOWN, "soil temperature not known"
    told = f"soil {soil:.0f} °C, wants {minimum.low:g} to {minimum.high:g}"
    rising = sit.season_day < value("soil_stop_from")
    slow = "; slow and ragged below the upper figure" if soil < minimum.high else ""
    if rising and soil < minimum.value:
        return Answer.WAIT, f"{told}; spring starts by soil warmth"
    if rising:
        return Answer.GO, f"{told}{slow}"
    if len(years) < value("sow_years_least"):
        known = f"fewer than {value('sow_years_least'):g} past years of weather"
        return Answer.UNKNOWN, f"{told}; last date not known: {known}"
    if left is not None and left < 0:
        return Answer.TOO_LATE, f"{-left} days past the last date, four years in five"
    if soil < minimum.value:
        return Answer.TOO_LATE, f"{told}, and cooling"
    return Answer.GO, f"{told}; {left} days to the last date{slow}"


def _last_day(
    sit: Situation, needed: float, years: Sequence[PastYear]
) -> tuple[date | None, int | None]:
    if len(years) < value("sow_years_least"):
        return None, None
    days = sorted(year.last_season_day(needed) for year in years)
    safe = days[int(len(days) * (1 - value("sow_years_of_five")))]
    left = safe - sit.season_day
    return sit.today + timedelta(days=left), left


def _whole(told: Sequence[ComponentAnswer]) -> tuple[Answer, str]:
    if not told:
        return Answer.UNKNOWN, "the label names no species the handbook knows"
    order = (Answer.TOO_LATE, Answer.WAIT, Answer.UNKNOWN, Answer.GO)
    worst = min(told, key=lambda each: (order.index(each.answer), each.days_left or 0))
    go = [each.species for each in told if each.answer is Answer.GO]
    if go and worst.answer is not Answer.GO:
        return worst.answer, f"{worst.species} {worst.answer.value}; go for {', '.join(go)}"
    return worst.answer, f"{worst.species}: {worst.because}"


def _past_year(air: Values, soils: Values, start: date) -> PastYear | None:
    autumn = int(value("soil_stop_from"))
    span = soils[:SEASON_DAYS]
    cold = np.flatnonzero(span[autumn:] < value("soil_stop"))
    if not len(cold) and len(span) < SEASON_DAYS:
        return None
    stop = autumn + int(cold[0]) if len(cold) else len(span)
    warmth = np.maximum(air[:stop], 0.0)
    return PastYear(start, stop, np.cumsum(warmth[::-1])[::-1])


def _same(name: str, species: Species) -> bool:
    from swardbook.planning.kinds import known_species

    return known_species(name) == species


def _workings(
    sit: Situation, lot: SeedLot, soil: float | None, source: str,
    told: Sequence[ComponentAnswer], years: int, answer: Answer,
) -> Workings:  # fmt: skip
    keys = sorted({warmth_needed(species)[0] for species in components(lot)})
    return Workings(
        question=f"Sow {lot.mixture} ({lot.code}) in {sit.zone.name} on {say(sit.today)}?",
        answer=answer.value,
        formula="degree-days above 0 °C from today to the day the soil's 11-day mean falls below"
        " 6 °C, in each past year; the last date leaves enough in four years of five",
        inputs=(
            Input("soil", "not known" if soil is None else round(soil, 1), "°C", source=source),
            Input("past years", years, "years", source="weather of the book, before today"),
            *(Input.of(key.replace("_", " "), parameter(key)) for key in keys),
        ),
        arithmetic=tuple(f"{each.species}: {each.answer.value}; {each.because}" for each in told),
        assumptions=("Soil temperature judged from air is right to about 2 °C.",),
    )
