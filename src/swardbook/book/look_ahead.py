"""Will next year be better? The look-ahead of a zone, programme by programme."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import inf

from swardbook.book.advice import Hinges, hinges_of
from swardbook.book.compiled import kernel_of
from swardbook.book.forecast import courses_told
from swardbook.book.kept_learning import learner_of
from swardbook.book.opening import Book
from swardbook.book.programmes import own_plans, place_of, require_fit
from swardbook.book.trial_learning import NOTHING, TrialLearned, learned_for
from swardbook.book.zone_story import is_sown, story_of
from swardbook.evidence.verdicts import Comparison
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.foundation.workings import Workings
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.husbandry.ground import Ground, Zone
from swardbook.model.chance import Chance
from swardbook.model.compiling import Kernel
from swardbook.model.costs import season_weeks
from swardbook.model.growing import grower
from swardbook.model.kernel_text import LANES
from swardbook.model.look_ahead import LookAhead, Prospect, Question, look_ahead
from swardbook.model.never import breaches_in
from swardbook.model.past import MEADOW_GRASS, Learn, Story, live_through
from swardbook.model.programmes import (
    Programme,
    as_recorded,
    fit_to_zone,
    programmes,
)
from swardbook.model.prospects import Contrast, Range
from swardbook.observations.counts import Method
from swardbook.observations.samples import Smallest
from swardbook.review.better_or_worse import Year, year_word
from swardbook.review.seasons import season_pairs
from swardbook.weather.series import DailyWeather

GENERAL = "general knowledge only"
LEARNED = "learned from your counts, but no verdict on next year yet"
FULL = "learned from your counts"
Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class ZoneLookAhead:
    """The look-ahead of one zone, ready to be told.

    Parameters
    ----------
    zone : str
        Name of the zone.
    look : LookAhead
        The model's answer.
    label : str
        What it rests on, in words that stand beside every figure of it.
    why_not_full : str
        What is missing for a verdict on next year; empty if nothing is.
    years : mapping of str to Year
        The word for next year by programme; ``cannot say`` throughout unless it is full.
    hinges : Hinges
        What would change the advice, and what to measure first.
    weekly_hours : float or None
        Hours of work there are in a week, on the whole site. [h]
    season_weeks : float
        Weeks of the season of cuts, over which a year's hours are spread. [weeks]
    hours_week : mapping of str to Range
        Hours a week in season that each programme takes in this zone. [h]
    is_priced : bool
        Whether money is told: the handbook's prices are in pounds.
    identity : str
        Fingerprint of model and machine: with the same one the same question has the same bits.
    trial : TrialLearned
        What a trial on this ground taught of its sown grasses, or why it is not leaned on.
    """

    zone: str
    look: LookAhead
    label: str
    why_not_full: str
    years: Mapping[str, Year]
    hinges: Hinges
    weekly_hours: float | None
    season_weeks: float
    hours_week: Mapping[str, Range]
    is_priced: bool
    identity: str
    trial: TrialLearned = NOTHING


def look_ahead_of(
    book: Book,
    zone: str,
    draws: int | None = None,
    names: Sequence[str] = (),
    tell: Tell = lambda _: None,
    hour_price: float = 0.0,
    learn: Learn | None = None,
) -> ZoneLookAhead:
    """Look ahead for one zone of the book, from what it holds up to its today.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    draws : int, optional
        How many draws, a multiple of 64; the setting if not given.
    names : sequence of str
        Programmes to compare, by name; none: all. The way recorded so far is always the first.
    tell : callable
        Told in words what is being worked on.
    hour_price : float
        Weed grass one would leave for an hour a week less; 0: hours do not count in the choice.
        [plants m⁻² h⁻¹ week, or points of cover]
    learn : callable, optional
        Takes the draws through the story; if not given, what was learned before is read.

    Raises
    ------
    UnknownNameError
        If there is no such zone or programme.
    NotEnoughDataError
        If there is no weather up to today, no whole past year of it, or no one mixture.
    BadInputError
        If the draws are no multiple of 64, or the price of an hour is below 0.
    """
    weather = book.all_weather()
    number = _checked(draws or book.settings.draws)
    if weather is None:
        raise NotEnoughDataError("a look-ahead", "daily weather of the site", "none")
    ground = book.ground()
    place = ground.zone(zone)
    kernel = kernel_of(book.settings, tell)
    asked = Asked(
        ground,
        weather,
        book.today,
        number,
        tuple(names),
        own_plans(book),
        _checked_price(hour_price),
        learned_for(book, place, kernel, tell),
        courses_told(book),
    )
    return zone_look_ahead(
        asked, zone, kernel, threads=book.settings.threads, tell=tell,
        learn=learn or learner_of(book.settings),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Asked:
    """What a look-ahead is asked of: the ground, its weather, the day, the draws, programmes.

    `own` are the programmes written in the book; one with the key of the handbook's stands in its
    place. `hour_price` is the weed grass one would leave for an hour a week less. `trial` is what a
    trial on this ground taught. `told` is the forecast, or its courses.
    """

    ground: Ground
    weather: DailyWeather
    today: date
    draws: int
    names: tuple[str, ...] = ()
    own: tuple[Programme, ...] = ()
    hour_price: float = 0.0
    trial: TrialLearned = NOTHING
    told: tuple[DailyWeather, ...] = ()


def zone_look_ahead(
    asked: Asked, zone: str, kernel: Kernel, *, threads: int = 1,
    tell: Tell = lambda _: None, learn: Learn = live_through,
) -> ZoneLookAhead:  # fmt: skip
    """Look ahead for one zone of a ground; see `look_ahead_of`."""
    question, missing = question_of(asked, zone)
    place = question.story.zone
    chance = chance_of(asked.ground, place)
    look = look_ahead(question, chance, grower(kernel, threads), tell, learn)
    weeks = season_weeks()
    return ZoneLookAhead(
        zone=place.name,
        look=look,
        label=GENERAL if look.is_general else (FULL if look.may_be_sealed else LEARNED),
        why_not_full=_why_not(look, missing),
        years={each.programme.key: _year(look, each) for each in look.prospects},
        hinges=hinges_of(look),
        weekly_hours=asked.ground.site.weekly_hours,
        season_weeks=weeks,
        hours_week={each.programme.key: each.hours_year.over(weeks) for each in look.prospects},
        is_priced=asked.ground.site.currency == "GBP",
        identity=kernel.identity,
        trial=asked.trial.only(question.story.kinds),
    )


def chance_of(ground: Ground, zone: Zone) -> Chance:
    """Give the source of random numbers of one zone."""
    return Chance(("look-ahead", ground.site.name, zone.name))


def question_of(asked: Asked, zone: str) -> tuple[Question, str]:
    """Read the question from the book, and what is missing for a verdict on next year."""
    story = asked.trial.told_to(story_of(asked.ground, zone, asked.weather, asked.today))
    missing = _missing(asked.ground, story)
    last = next((seen for seen in reversed(story.seen) if seen.places), None)
    methods = {place.method for place in last.places} if last else set()
    question = Question(
        story=story,
        weather=asked.weather,
        elevation_m=asked.ground.site.elevation_m,
        plans=_plans(asked, story),
        draws=asked.draws,
        by_plants=Method.PLANTS in methods,
        is_full=not missing,
        hour_price=asked.hour_price,
        told=asked.told,
    )
    return question, missing


def _checked_price(price: float) -> float:
    if not 0 <= price < inf:
        raise BadInputError("the price of an hour", price, "0 or more", "Leave it out for none.")
    return price


def _checked(draws: int) -> int:
    if draws < LANES or draws % LANES:
        raise BadInputError("the draws", draws, f"a multiple of {LANES}", "Try 4096.")
    return draws


def _plans(asked: Asked, story: Story) -> tuple[Programme, ...]:
    ground, zone, today = asked.ground, story.zone, story.today
    done = [
        (entry.day, entry.what, entry.hours)
        for entry in ground.entries(zone.name)
        if entry.day <= today
    ]
    recorded = as_recorded(done, zone, today - timedelta(days=365), today)
    wanted = list(dict.fromkeys(_wanted(asked)))
    place = place_of(ground, zone.name)
    if asked.names:
        for each in wanted:
            if each in asked.own:
                require_fit(each, place)
    else:
        wanted = [each for each in wanted if each not in asked.own or not breaches_in(each, place)]
    first = [recorded] if recorded is not None else []
    comfort = _comfort(story)
    return tuple(
        fit_to_zone(each, zone, comfort, ground.site.weekly_hours) for each in [*first, *wanted]
    )


def _wanted(asked: Asked) -> list[Programme]:
    known = dict(programmes()) | {each.key: each for each in asked.own}
    if not asked.names:
        return list(known.values())
    called = {each.name.casefold(): each for each in known.values()}
    called |= {key.replace("_", " "): each for key, each in known.items()} | known
    found = []
    for name in asked.names:
        wanted = name.strip().casefold()
        if wanted not in called:
            names = [each.name for each in known.values()]
            raise UnknownNameError("programme", name, names)
        found.append(called[wanted])
    return found


def _comfort(story: Story) -> list[tuple[str, float]]:
    found = []
    for kind in story.kinds.kinds:
        species = find_species(kind.species)
        if species.comfort_height_mm is not None:
            found.append((species.key, species.comfort_height_mm.low))
    return found


def _missing(ground: Ground, story: Story) -> str:
    """Say what is missing for a verdict on next year; empty if nothing is."""
    least = round(value("learning.places_full"))
    pairs = season_pairs(ground, story.zone.name, MEADOW_GRASS, Smallest.customary())
    shared = max((pair.made.n for pair in pairs if pair.made is not None), default=0)
    if shared >= least:
        return ""
    needed = f"two counts of one season at {least} or more of the same places"
    if not any(seen.places for seen in story.seen):
        start = "" if is_sown(story) else "no sowing and "
        return f"It needs {needed}; the book holds {start}no count of this zone."
    if shared:
        return f"It needs {needed}; the book holds one pair with {shared}."
    return f"It needs {needed}; the book holds no such pair yet."


def _why_not(look: LookAhead, missing: str) -> str:
    return " ".join(each for each in (look.refusal, missing) if each)


def _year(look: LookAhead, prospect: Prospect) -> Year:
    if not look.may_be_sealed or prospect.since_last_autumn is None:
        return Year.CANNOT_SAY
    return year_word(_comparison(prospect.since_last_autumn))


def _comparison(made: Contrast) -> Comparison:
    return Comparison(
        difference=made.difference,
        spread=made.spread,
        unit=made.unit,
        smallest=made.smallest,
        verdict=made.verdict,
        before=0.0,
        after=0.0,
        value_unit="",
        n=0,
        method="the same draws, last October and next",
        workings=Workings("next October against last", made.verdict.value),
    )
