"""The look-ahead of one zone: what each programme is likely to lead to, how sure, what would tell.

It never promises. Without counts it is general knowledge only, and says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.model.ahead import Ahead, Horizon, horizons, set_out
from swardbook.model.carrying import Look, run_programmes
from swardbook.model.chance import Array, Chance
from swardbook.model.costs import Costs, costs_of, season_weeks, years_to_october
from swardbook.model.day_heads import grown_up
from swardbook.model.expecting import Expected
from swardbook.model.growing import Grow
from swardbook.model.knowing import Advice, Bill, advise, unknowns_of
from swardbook.model.leading import Leading, leading
from swardbook.model.learning import Weighing
from swardbook.model.measuring import MEASURED, Met, shown_by
from swardbook.model.past import MEADOW_GRASS, Known, Learn, Story, live_through
from swardbook.model.programmes import Planned, Programme
from swardbook.model.prospects import (
    Contrast,
    Lean,
    Moved,
    Range,
    Turn,
    contrast,
    leans,
    moved,
    order,
    turns,
)
from swardbook.model.unknowns import growth_year, with_year
from swardbook.model.weather_ahead import laid_over, weather_ahead
from swardbook.weather.series import DailyWeather

Reading = tuple[Callable[[Look], Array], str]
MEASURES: Mapping[str, Reading] = {
    # key: (how it is read from a look, unit)
    "annual_meadow_grass_cover": (lambda look: 100 * look.cover, "%"),
    "annual_meadow_grass_plants": (lambda look: look.plants, "plants/m2"),
    "annual_meadow_grass_heads": (lambda look: look.heads, "heads/m2"),
    "seed_returned": (lambda look: look.returned, "seeds/m2 since today"),
    "yorkshire_fog_cover": (lambda look: 100 * look.fog, "%"),
    "sown_cover": (lambda look: 100 * look.sown, "%"),
    "bare": (lambda look: 100 * look.bare, "%"),
}
MOVED_LEAST = 0.3
"""Least shift (in standard deviations) or narrowing that is told."""


@dataclass(frozen=True, slots=True)
class Question:
    """What a look-ahead is asked with.

    Parameters
    ----------
    story : Story
        The zone up to today.
    weather : DailyWeather
        The site's weather; nothing after today is read.
    elevation_m : float
        Height of the site above the sea. [m]
    plans : tuple of Programme
        Programmes, fitted to the zone; the first is the one the others are held against.
    draws : int
        How many draws.
    by_plants : bool
        Whether weed grass is told in plants; else in cover.
    is_full : bool
        Whether two counts of one season at enough fixed places are there.
    hour_price : float
        Weed grass one would leave for an hour a week less; 0: hours do not count in the choice.
        [plants m⁻² h⁻¹ week, or points]
    told : tuple of DailyWeather
        The forecast of the days after today, or its courses; past years follow it.
    """

    story: Story
    weather: DailyWeather
    elevation_m: float
    plans: tuple[Programme, ...]
    draws: int
    by_plants: bool
    is_full: bool
    hour_price: float = 0.0
    told: tuple[DailyWeather, ...] = ()


@dataclass(frozen=True, slots=True)
class Prospect:
    """What one programme is likely to lead to.

    Parameters
    ----------
    programme : Programme
        The programme.
    at : mapping of str to mapping of str to Range
        By horizon, each of `MEASURES`. [unit of the measure]
    hours_year, money_year, nitrogen_off_year : Range
        Hours [h], money [GBP] and nitrogen taken off with clippings [g m⁻²] in the first year.
    against : mapping of str to Contrast
        By horizon, against the first programme.
    since_last_autumn : Contrast or None
        Next October against last October in the same draws; None where last October is not known.
    """

    programme: Programme
    at: Mapping[str, Mapping[str, Range]]
    hours_year: Range
    money_year: Range
    nitrogen_off_year: Range
    against: Mapping[str, Contrast]
    since_last_autumn: Contrast | None


@dataclass(frozen=True, slots=True)
class LookAhead:
    """The whole answer for one zone.

    `refusal` is empty unless what was counted could not be learned from; programmes are then
    compared on general knowledge. `ranking` has the keys of the programmes, the one that ends
    with least weed grass next October first; a place in it is no verdict, `leading` is (None where
    there is one programme). `advice` says what would change the choice, and what to measure.
    """

    question: Question
    horizons: tuple[Horizon, ...]
    is_general: bool
    refusal: str
    effective_draws: float
    weighings: tuple[Weighing, ...]
    past_years: tuple[int, ...]
    now: Mapping[str, Range]
    prospects: tuple[Prospect, ...]
    ranking: tuple[str, ...]
    leading: Leading | None
    advice: Advice | None
    turns: tuple[Turn, ...]
    leans: tuple[Lean, ...]
    moved: tuple[Moved, ...]
    expected: tuple[Expected, ...]
    expected_rest: tuple[Expected, ...] = ()

    @property
    def may_be_sealed(self) -> bool:
        """Whether it may be sealed and spoken of as next year."""
        return self.question.is_full and not self.is_general


@dataclass(frozen=True, slots=True)
class Tonight:
    """The draws today, all counting the same, and what they share for the way ahead."""

    known: Known
    scores: Array
    ahead: Ahead
    past_years: tuple[int, ...]
    last_autumn: tuple[Array, Array]


def look_ahead(
    question: Question,
    chance: Chance,
    grow: Grow,
    tell: Callable[[str], None] = lambda _: None,
    learn: Learn = live_through,
) -> LookAhead:
    """Look ahead for one zone.

    Parameters
    ----------
    question : Question
        What is asked.
    chance : Chance
        The source, keyed by book and zone.
    grow : Grow
        Runs the model over some days.
    tell : callable
        Told in words what is being worked on.
    learn : callable
        Takes the draws through the story.

    Raises
    ------
    NotEnoughDataError
        If there is no whole past year of weather.
    """
    tell("growing the zone from its start to today")
    known = learn(question.story, question.draws, chance, grow)
    refusal = known.learned.refusal
    general = bool(refusal) or not known.learned.weighings
    if refusal:
        blind = replace(question.story, seen=())
        tell("the counts cannot be used; taking general knowledge")
        known = learn(blind, question.draws, chance, grow)
    tonight = stand_tonight(question, known, chance)
    marks = horizons(question.story.today, question.story.latitude)
    tell(f"three years of {', '.join(plan.name.lower() for plan in question.plans)}")
    found = run_programmes(tonight.ahead, question.plans, MEADOW_GRASS, marks, grow)
    keys = [plan.key for plan in question.plans]
    looks = {key: seen for key, (seen, _) in zip(keys, found, strict=True)}
    jobs = {key: work for key, (_, work) in zip(keys, found, strict=True)}
    return _told(question, tonight, marks, looks, jobs, chance, refusal, general)


def stand_tonight(question: Question, known: Known, chance: Chance) -> Tonight:
    """Set out the way ahead from the draws of tonight."""
    story = question.story
    last = horizons(story.today, story.latitude)[-1].day
    courses = weather_ahead(
        question.weather, story.today, last, round(value("programme.courses")), chance
    )
    courses = laid_over(courses, question.told)
    ahead = set_out(
        known, known.state, known.scores, courses, story.zone,
        (story.latitude, question.elevation_m), story.today, chance.under("ahead"),
        story.young,
    )  # fmt: skip
    return Tonight(known, known.scores, ahead, courses.past_years, known.last_autumn)


def _told(
    question: Question, tonight: Tonight, marks: tuple[Horizon, ...],
    looks: Mapping[str, Mapping[str, Look]], jobs: Mapping[str, tuple[tuple[Planned, ...], ...]],
    chance: Chance, refusal: str, general: bool,
) -> LookAhead:  # fmt: skip
    by_plants = question.by_plants
    outcomes = {key: _weed(look["autumn"], by_plants) for key, look in looks.items()}
    names = tonight.known.unknowns.keys
    scores = dict(zip(names, tonight.scores[: len(names)], strict=True))
    before = tonight.known.unknowns.values(tonight.known.before)
    after = tonight.known.unknowns.values(tonight.scores)
    learned = tonight.known.learned
    ranked = tuple(order(outcomes))
    costs = {
        plan.key: costs_of(tonight.ahead, plan, looks[plan.key]["autumn"], jobs[plan.key], chance)
        for plan in question.plans
    }
    return LookAhead(
        question=question,
        horizons=marks,
        is_general=general,
        refusal=refusal,
        effective_draws=learned.effective_draws,
        weighings=learned.weighings,
        past_years=tonight.past_years,
        now=_now(tonight),
        prospects=tuple(
            _prospect(question, tonight, plan, looks, costs[plan.key]) for plan in question.plans
        ),
        ranking=ranked,
        leading=leading(ranked, outcomes, is_density=by_plants),
        advice=_advice(question, tonight, looks, costs, chance.under("measuring")),
        turns=turns(outcomes, scores, is_density=by_plants),
        leans=leans(outcomes, scores, is_density=by_plants),
        moved=() if general else moved(before, after, names, least=MOVED_LEAST),
        expected=tonight.known.expected,
        expected_rest=tonight.known.expected_rest,
    )


def _prospect(
    question: Question, tonight: Tonight, plan: Programme,
    looks: Mapping[str, Mapping[str, Look]], costs: Costs,
) -> Prospect:  # fmt: skip
    mine, first = looks[plan.key], looks[question.plans[0].key]
    base = question.plans[0].key
    by_plants = question.by_plants
    last = tonight.last_autumn[1 if by_plants else 0]
    autumn = _weed(mine["autumn"], by_plants)
    since = None
    if not np.any(np.isnan(last)):
        since = contrast(plan.key, autumn, "last October", last, is_density=by_plants)
    return Prospect(
        programme=plan,
        at={
            key: {name: Range.of(read(look)) for name, (read, _) in MEASURES.items()}
            for key, look in mine.items()
        },
        hours_year=Range.of(costs.hours),
        money_year=Range.of(costs.money),
        nitrogen_off_year=Range.of(mine["autumn"].nitrogen_off / years_to_october(tonight.ahead)),
        against={
            key: contrast(
                plan.key, _weed(look, by_plants), base, _weed(first[key], by_plants),
                is_density=by_plants,
            )
            for key, look in mine.items()
        },
        since_last_autumn=since,
    )  # fmt: skip


def _advice(
    question: Question, tonight: Tonight, looks: Mapping[str, Mapping[str, Look]],
    costs: Mapping[str, Costs], chance: Chance,
) -> Advice | None:  # fmt: skip
    spring = _spring(question, looks)
    ahead, names = tonight.ahead, tonight.known.unknowns
    weeks, times = season_weeks(), 1.0 if question.by_plants else 100.0
    year = growth_year(ahead.today + timedelta(days=1), ahead.latitude)
    met = Met(
        state=ahead.state,
        numbers=with_year(ahead.usual, ahead.effects[year]),
        seeing=names.seeing(tonight.scores),
        counter=_last_counter(question.story),
        by_plants=question.by_plants,
        height_mm=question.story.zone.height_of_cut_mm,
        spring=spring,
    )
    return advise(
        Bill(
            left={
                key: times * _weed(look["autumn"], question.by_plants)
                for key, look in looks.items()
            },
            hours={key: each.hours / weeks for key, each in costs.items()},
            price=question.hour_price,
            weeks=weeks,
            groups=ahead.course_of_draw,
        ),
        unknowns_of(names.keys, tonight.scores, ahead.state, question.story.kinds.weeds),
        [key for key in MEASURED if spring is not None or key != "honest_squares"],
        lambda key: shown_by(key, met, chance),
    )


def _spring(
    question: Question, looks: Mapping[str, Mapping[str, Look]]
) -> tuple[Array, Array] | None:
    """Give what next spring holds by the first programme and by cutting only, where both ran."""
    first = question.plans[0].key
    if "cut_only" not in looks or first == "cut_only":
        return None
    worked, left = (_weed(looks[key]["spring"], question.by_plants) for key in (first, "cut_only"))
    return worked, left


def _last_counter(story: Story) -> str:
    """Give who counted last; empty if nobody did."""
    return next((seen.places[0].counter for seen in reversed(story.seen) if seen.places), "")


def _weed(look: Look, by_plants: bool) -> Array:
    return look.plants if by_plants else look.cover


def _now(tonight: Tonight) -> dict[str, Range]:
    state = tonight.ahead.state
    weed = state.weeds[0]
    return {
        "annual_meadow_grass_cover": Range.of(100 * weed.cover),
        "annual_meadow_grass_plants": Range.of(grown_up(weed)),
        "yorkshire_fog_cover": Range.of(100 * state.weeds[1].cover),
        "sown_cover": Range.of(100 * sum(part.cover for part in state.sown)),
        "bare": Range.of(100 * state.zone.gap),
    }
