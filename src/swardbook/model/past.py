"""A zone from its start to today: grown under its own weather and work, weighed at each count."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.foundation.dates import season_day
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.chance import Array, Chance
from swardbook.model.day import work_wanted
from swardbook.model.day_heads import grown_up
from swardbook.model.day_weed import found_today
from swardbook.model.expecting import Expected, expected_count
from swardbook.model.growing import Grow, from_rows, to_rows
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.learning import Cloud, Learned, Occasion, draw_again, learn
from swardbook.model.moving import moved_draws
from swardbook.model.observing import Standing, log_of_places, log_of_pull, log_of_walk
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import SownKinds
from swardbook.model.processes.hand_weeding import share_searched
from swardbook.model.start import Start
from swardbook.model.state import SwardState
from swardbook.model.unknowns import Latest, Unknowns, growth_year
from swardbook.observations.counts import PlaceCount

MEMORY = 2
"""Rows kept beside the state: cover and plants of annual meadow-grass last October."""
MEADOW_GRASS = "annual meadow-grass"
FOG = "yorkshire fog"


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen on one day: places counted, plants pulled, or a walk that found none.

    Parameters
    ----------
    day : date
        The day; held against the evening before.
    places : tuple of PlaceCount
        Treated places counted.
    pulled : float or None
        Plants pulled in one pass. [-]
    walked_m2 : float or None
        Ground walked without finding any. [m²]
    """

    day: date
    places: tuple[PlaceCount, ...] = ()
    pulled: float | None = None
    walked_m2: float | None = None


@dataclass(frozen=True, slots=True)
class Story:
    """All that is known of a zone up to today.

    Parameters
    ----------
    zone : Zone
        The zone.
    latitude : float
        Latitude, south negative. [°]
    kinds : SownKinds
        What is sown there.
    start : Start
        How it stood on the evening before `first`.
    first, today : date
        The first day of the story, and its last.
    drivers, operations : Drivers, Operations
        One value a day from `first` to `today`.
    seen : tuple of Seen
        What was seen, in order.
    assumed : tuple of str
        What is taken for granted because the book does not tell, in words.
    """

    zone: Zone
    latitude: float
    kinds: SownKinds
    start: Start
    first: date
    today: date
    drivers: Drivers
    operations: Operations
    seen: tuple[Seen, ...]
    assumed: tuple[str, ...] = ()

    @property
    def counters(self) -> tuple[str, ...]:
        """Who counted, by name."""
        return tuple(sorted({place.counter for each in self.seen for place in each.places}))

    @property
    def growing_days_to_verticut(self) -> float:
        """Growing days that the youngest sowing still needs before a verticut; 0 for none [d]."""
        work = self.operations
        seed = np.asarray(work.sow_a + work.sow_b + work.sow_c + work.sow_d)
        sown = np.flatnonzero(seed > value("seedling_zone_share") * np.max(seed, initial=0.0))
        if not len(sown):
            return 0.0
        fine = any(kind.kind in {"bent", "fescue", "hard_fescue"} for kind in self.kinds.kinds)
        weeks = value("verticut_growing_weeks_fine" if fine else "verticut_growing_weeks")
        warm = self.drivers.tmean[sown[-1] + 1 :] >= value("growing_week_mean_air")
        return max(7 * weeks - float(np.sum(warm)), 0.0)

    @property
    def last_autumn(self) -> date:
        """The latest autumn horizon up to three weeks after today, or today if it is as near."""
        near = self.today + timedelta(days=21)
        day = near
        while season_day(day, self.latitude) != round(value("look_ahead.autumn_day")):
            day -= timedelta(days=1)
        return min(day, self.today + timedelta(days=1))

    @property
    def years(self) -> tuple[int, ...]:
        """Growth years of the story."""
        first, last = (growth_year(day, self.latitude) for day in (self.first, self.today))
        return tuple(range(first, last + 1))


@dataclass(frozen=True, slots=True)
class Known:
    """The draws as they stand today, and how they came there.

    Parameters
    ----------
    unknowns : Unknowns
        The order of the guesses.
    before : array
        Scores before any count. [-]
    learned : Learned
        The draws today, and each count's weighing; or the refusal.
    expected : tuple of Expected
        Each count against what was expected before it.
    """

    unknowns: Unknowns
    before: Array
    learned: Learned
    expected: tuple[Expected, ...] = ()

    @property
    def state(self) -> SwardState:
        """The state of each draw."""
        return from_rows(self.learned.cloud.states[:-MEMORY])

    @property
    def last_autumn(self) -> tuple[Array, Array]:
        """Cover [-] and plants [m⁻²] of annual meadow-grass last October; no numbers if unknown."""
        cover, plants = self.learned.cloud.states[-MEMORY:]
        return cover, plants

    @property
    def scores(self) -> Array:
        """The scores of each draw [-]."""
        return self.learned.cloud.unbounded


def live_through(story: Story, draws: int, chance: Chance, grow: Grow) -> Known:
    """Grow the draws from the zone's start to today, weighing them at each thing seen.

    Parameters
    ----------
    story : Story
        What is known of the zone; with nothing in `seen` the draws stay as drawn.
    draws : int
        How many draws.
    chance : Chance
        The source, keyed by book and zone.
    grow : Grow
        Runs the model over some days and gives the last evening.
    """
    unknowns = Unknowns.of(story.kinds, story.counters, story.years)
    scores = unknowns.draw(draws, chance)
    source = chance.under("learning")
    met: dict[date, Expected] = {}
    occasions = tuple(_occasions(story, unknowns, grow, met, source.normals("luck", draws)))
    replay = _replayer(story, unknowns, occasions)

    def refresh(cloud: Cloud, upto: int, share: float) -> Cloud:
        moved, states = moved_draws(
            cloud.unbounded,
            lambda tried: replay(tried, upto, share),
            source.under(f"moves {upto} {share:.9f}"),
            most=round(value("learning.moves_most")),
            until=value("learning.moves_taken"),
        )
        return Cloud.of_equals(states, moved)

    learned = learn(
        _beginning(story, unknowns, scores),
        occasions,
        source,
        shrink=1.0,
        least_share=value("learning.least_effective_share"),
        draw_again_below=value("learning.draw_again_below"),
        refresh=refresh,
        most_steps=round(value("learning.steps_most")),
    )
    if learned.weighings and not learned.refusal:
        learned = _evened(learned, source, lambda tried: replay(tried, len(occasions), 1.0))
    return Known(unknowns, scores, learned, tuple(met.values()))


def _replayer(
    story: Story, unknowns: Unknowns, occasions: Sequence[Occasion]
) -> Callable[[Array, int, float], tuple[Array, Array]]:
    """Live through the story again with other scores, up to some occasion and part of it."""

    def replay(tried: Array, upto: int, share: float) -> tuple[Array, Array]:
        cloud = _beginning(story, unknowns, tried)
        total = np.zeros(cloud.draws)
        for place, occasion in enumerate(occasions[:upto], 1):
            cloud = occasion.advance(cloud)
            if occasion.log_likelihood is not None:
                part = share if place == upto else 1.0
                total = total + part * occasion.log_likelihood(cloud)
        return cloud.states, total

    return replay


def _evened(
    learned: Learned, source: Chance, replay: Callable[[Array], tuple[Array, Array]]
) -> Learned:
    """Make every draw count the same, and part the copies thoroughly."""
    even = draw_again(learned.cloud, source.under("tonight"), 1.0)
    blocks = round(value("learning.last_blocks"))
    moved, states = moved_draws(
        even.unbounded,
        replay,
        source.under("last moves"),
        most=blocks * round(value("learning.last_rounds")),
        blocks=blocks,
    )
    return replace(learned, cloud=Cloud.of_equals(states, moved))


def _beginning(story: Story, unknowns: Unknowns, scores: Array) -> Cloud:
    rows = to_rows(unknowns.start(story.start, scores))
    return Cloud.of_equals(np.vstack([rows, np.full((MEMORY, scores.shape[1]), np.nan)]), scores)


def standing_of(state: SwardState, parameters: Parameters) -> Standing:
    """Give what each draw has standing, as a count would meet it."""
    weeds = dict(zip((MEADOW_GRASS, FOG), state.weeds, strict=False))
    numbers = dict(zip(weeds, parameters.weeds, strict=False))
    return Standing(
        plants={name: grown_up(weed) for name, weed in weeds.items()},
        cover={name: weed.cover for name, weed in weeds.items()},
        found={name: found_today(weed, numbers[name]) for name, weed in weeds.items()},
    )


def _occasions(
    story: Story, unknowns: Unknowns, grow: Grow, met: dict[date, Expected], luck: Array
) -> Iterator[Occasion]:
    numbers = Latest(unknowns)
    reached = story.first
    for seen in story.seen:
        yield Occasion(
            f"{seen.day.day} {seen.day:%B %Y}",
            _advance(story, numbers, grow, reached, seen.day),
            _likelihood(story, unknowns, numbers, seen, met, luck),
        )
        reached = max(reached, seen.day)
    end = story.today + timedelta(days=1)
    yield Occasion("today", _advance(story, numbers, grow, reached, end))


def _advance(
    story: Story, numbers: Latest, grow: Grow, first: date, end: date
) -> Callable[[Cloud], Cloud]:
    """Grow from one day up to the evening before another, year by year."""
    autumn = story.last_autumn
    stretches = tuple(_stretches(first, end, autumn, story.latitude))

    def advance(cloud: Cloud) -> Cloud:
        state, memory = from_rows(cloud.states[:-MEMORY]), cloud.states[-MEMORY:]
        for low, high, year in stretches:
            part = slice((low - story.first).days, (high - story.first).days)
            drivers = Drivers(*(series[part] for series in story.drivers))
            work = Operations(*(series[part] for series in story.operations))
            state = grow(state, numbers.of(cloud.unbounded, year), drivers, work)
            if high == autumn:
                weed = state.weeds[0]
                memory = np.stack([weed.cover, grown_up(weed)])
        rows = np.vstack([to_rows(state), memory])
        return Cloud(rows, cloud.unbounded, cloud.log_weights)

    return advance


def _stretches(
    first: date, end: date, autumn: date, latitude: float
) -> Iterator[tuple[date, date, int]]:
    """Cut a stretch of days at each growth year and at last October."""
    while first < end:
        year = growth_year(first, latitude)
        last = first + timedelta(days=1)
        while last < end and last != autumn and growth_year(last, latitude) == year:
            last += timedelta(days=1)
        yield first, last, year
        first = last


def _likelihood(
    story: Story,
    unknowns: Unknowns,
    numbers: Latest,
    seen: Seen,
    met: dict[date, Expected],
    luck: Array,
) -> Callable[[Cloud], Array]:
    def log_likelihood(cloud: Cloud) -> Array:
        state = from_rows(cloud.states[:-MEMORY])
        year = growth_year(seen.day, story.latitude)
        parameters = numbers.of(cloud.unbounded, year)
        standing, seeing = standing_of(state, parameters), unknowns.seeing(cloud.unbounded)
        total = np.zeros(cloud.draws)
        if seen.places:
            # The first to ask are the draws on their way here, before this count weighs them.
            if seen.day not in met:
                told = expected_count(
                    seen.day, seen.places, MEADOW_GRASS, standing, seeing, cloud.weights, luck
                )
                if told is not None:
                    met[seen.day] = told
            total = total + log_of_places(seen.places, MEADOW_GRASS, standing, seeing)
        if seen.walked_m2:
            total = total + log_of_walk(seen.walked_m2, MEADOW_GRASS, standing, seeing)
        if seen.pulled is not None:
            hours = story.operations.pull_hours[(seen.day - story.first).days]
            share = share_searched(hours, work_wanted(state, parameters))
            area = story.zone.area_m2
            total = total + log_of_pull(seen.pulled, area, share, MEADOW_GRASS, standing, seeing)
        return total

    return log_likelihood
