"""A zone from its start to today: grown under its own weather and work, weighed at each count."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.handbook.species import model_name_of
from swardbook.model.chance import Array, Chance
from swardbook.model.digging import dug_out, share_dug
from swardbook.model.expecting import Expected
from swardbook.model.growing import Grow, from_rows, to_rows
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.learning import Cloud, Learned, Occasion, draw_again, learn
from swardbook.model.members import Members
from swardbook.model.moving import moved_draws
from swardbook.model.remembering import LEVEL, standing_of
from swardbook.model.seen import MEADOW_GRASS, Seen
from swardbook.model.state import SwardState
from swardbook.model.story import Story
from swardbook.model.unknowns import Latest, Unknowns, growth_year
from swardbook.model.weighing import Moment, Weigher

__all__ = [
    "MEADOW_GRASS",
    "Known",
    "Learn",
    "Seen",
    "Story",
    "live_through",
    "lived_on",
    "standing_of",
]  # fmt: skip


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
    rows : int
        Rows of the cloud that are state; what is remembered follows.
    expected : tuple of Expected
        Each count of annual meadow-grass against what was expected before it.
    expected_rest : tuple of Expected
        The same of bare ground and the other weed grasses.
    """

    unknowns: Unknowns
    before: Array
    learned: Learned
    rows: int
    expected: tuple[Expected, ...] = ()
    expected_rest: tuple[Expected, ...] = ()

    @property
    def state(self) -> SwardState:
        """The state of each draw."""
        return from_rows(self.learned.cloud.states[: self.rows])

    @property
    def last_autumn(self) -> tuple[Array, Array]:
        """Cover [-] and plants [m⁻²] of annual meadow-grass last October; no numbers if unknown."""
        cover, plants = self.learned.cloud.states[self.rows : self.rows + 2]
        return cover, plants

    @property
    def scores(self) -> Array:
        """The scores of each draw [-]."""
        return self.learned.cloud.unbounded


Learn = Callable[[Story, int, Chance, Grow], Known]
"""Takes draws through a story: `live_through`, or what looks first whether that was done before."""


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
    unknowns = story.unknowns
    scores = unknowns.draw(draws, chance)
    source, numbers = chance.under("learning"), Latest(unknowns)
    weigher, occasions = _set_out(story, numbers, source.normals("luck", draws), grow)
    level = LEVEL - story.memory.rows
    replay = _replayer(story, numbers, occasions, level)

    def refresh(cloud: Cloud, upto: int, share: float) -> Cloud:
        moved, states = moved_draws(
            cloud.unbounded,
            lambda tried: replay(tried, upto, share),
            source.under(f"moves {upto} {share:.9f}"),
            most=round(value("learning.moves_most")),
            until=value("learning.moves_taken"),
            known=(cloud.states, cloud.states[level] + share * _said(occasions[upto - 1], cloud)),
        )
        return Cloud.of_equals(states, moved)

    learned = learn(
        _beginning(story, numbers, scores),
        _keeping_level(occasions, level),
        source,
        shrink=1.0,
        least_share=value("learning.least_effective_share"),
        draw_again_below=value("learning.draw_again_below"),
        refresh=refresh,
        most_steps=round(value("learning.steps_most")),
    )
    if learned.weighings and not learned.refusal:
        learned = _evened(learned, source, lambda tried: replay(tried, len(occasions), 1.0), level)
    rows = len(learned.cloud.states) - story.memory.rows
    met = tuple(weigher.met.values())
    return Known(
        unknowns, scores, learned, rows,
        expected=tuple(each for each in met if each.kind == MEADOW_GRASS),
        expected_rest=tuple(each for each in met if each.kind != MEADOW_GRASS),
    )  # fmt: skip


def lived_on(known: Known, story: Story, chance: Chance, grow: Grow) -> Known:
    """Let draws that were learned from all that was seen stand as they do on a later day.

    What was seen decides the guesses, and what came after it only grows. So one more life up to
    that day gives what learning anew would give, to the last bit.

    Parameters
    ----------
    known : Known
        Draws that were learned, from the same story up to the last thing seen.
    story : Story
        What is known of the zone now; nothing more was seen.
    chance : Chance
        The source, keyed by book and zone.
    grow : Grow
        Runs the model over some days and gives the last evening.
    """
    luck = chance.under("learning").normals("luck", known.learned.cloud.draws)
    numbers, level = Latest(known.unknowns), LEVEL - story.memory.rows
    _, occasions = _set_out(story, numbers, luck, grow)
    states, _ = _replayer(story, numbers, occasions, level)(known.scores, len(occasions), 1.0)
    cloud = Cloud.of_equals(states, known.scores)
    return replace(known, learned=replace(known.learned, cloud=cloud))


def _set_out(
    story: Story, numbers: Latest, luck: Array, grow: Grow
) -> tuple[Weigher, tuple[Occasion, ...]]:
    weigher = Weigher(story.zone, story.memory, story.visits, luck)
    return weigher, tuple(_occasions(story, numbers, grow, weigher))


def _said(occasion: Occasion, cloud: Cloud) -> Array:
    """Logarithm of the likelihood of what an occasion saw [-]."""
    said = occasion.log_likelihood
    return np.zeros(cloud.draws) if said is None else said(cloud)


def _keeping_level(occasions: Sequence[Occasion], level: int) -> Iterator[Occasion]:
    """Let the draws carry the likelihood of what was seen before along with them."""

    def carrying(before: Occasion, occasion: Occasion) -> Callable[[Cloud], Cloud]:
        def advance(cloud: Cloud) -> Cloud:
            states = cloud.states.copy()
            states[level] += _said(before, cloud)
            return occasion.advance(replace(cloud, states=states))

        return advance

    yield from occasions[:1]
    for before, occasion in pairwise(occasions):
        yield replace(occasion, advance=carrying(before, occasion))


def _replayer(
    story: Story, numbers: Latest, occasions: Sequence[Occasion], level: int
) -> Callable[[Array, int, float], tuple[Array, Array]]:
    """Live through the story again with other scores, up to some occasion and part of it."""

    def replay(tried: Array, upto: int, share: float) -> tuple[Array, Array]:
        cloud = _beginning(story, numbers, tried)
        total = before = np.zeros(cloud.draws)
        for place, occasion in enumerate(occasions[:upto], 1):
            cloud, before = occasion.advance(cloud), total
            total = total + (share if place == upto else 1.0) * _said(occasion, cloud)
        states = cloud.states.copy()
        states[level] = before
        return states, total

    return replay


def _evened(
    learned: Learned, source: Chance, replay: Callable[[Array], tuple[Array, Array]], level: int
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
        known=(even.states, even.states[level]),
    )
    return replace(learned, cloud=Cloud.of_equals(states, moved))


def _beginning(story: Story, numbers: Latest, scores: Array) -> Cloud:
    rows = to_rows(numbers.start(story.start, scores))
    return Cloud.of_equals(np.vstack([rows, story.memory.empty(scores.shape[1])]), scores)


def _occasions(story: Story, numbers: Latest, grow: Grow, weigher: Weigher) -> Iterator[Occasion]:
    reached, before = story.first, None
    for seen in story.seen:
        end = seen.day + timedelta(days=1) if seen.is_after_work else seen.day
        grown = _advance(story, numbers, grow, reached, end)
        yield Occasion(
            f"{seen.day.day} {seen.day:%B %Y}",
            _with_work(story, numbers, before, grown, seen),
            _likelihood(story, numbers, seen, weigher),
        )
        reached, before = max(reached, end), seen
    grown = _advance(story, numbers, grow, reached, story.today + timedelta(days=1))
    yield Occasion("today", _with_work(story, numbers, before, grown))


def _with_work(
    story: Story, numbers: Latest, before: Seen | None, grown: Callable[[Cloud], Cloud],
    seen: Seen | None = None,
) -> Callable[[Cloud], Cloud]:  # fmt: skip
    """Take out the clumps that were dug, grow, and remember what stands at a count."""
    memory = story.memory
    visit = story.visits.index(seen) if seen is not None and seen.places else None

    def advance(cloud: Cloud) -> Cloud:
        if before is not None and before.dug is not None:
            state, kept = _parted(story, cloud)
            built = numbers.of(cloud.unbounded, growth_year(before.day, story.latitude))
            at = memory.weeds.index(model_name_of(before.species))
            share = share_dug(state, built, at, before.hours, story.zone.area_m2)
            cloud = _joined(dug_out(state, built, at, share), kept, cloud)
        cloud = grown(cloud)
        if visit is not None:
            state, kept = _parted(story, cloud)
            kept[:] = memory.with_visit(kept, visit, state)
        return cloud

    return advance


def _advance(
    story: Story, numbers: Latest, grow: Grow, first: date, end: date
) -> Callable[[Cloud], Cloud]:
    """Grow from one day up to the evening before another, year by year."""
    autumn, memory = story.last_autumn, story.memory
    stretches = tuple(_stretches(first, end, autumn, story.latitude))

    def advance(cloud: Cloud) -> Cloud:
        state, kept = _parted(story, cloud)
        members: Members | None = None
        for low, high, year in stretches:
            part = slice((low - story.first).days, (high - story.first).days)
            drivers = Drivers(*(series[part] for series in story.drivers))
            work = Operations(*(series[part] for series in story.operations))
            scores = cloud.unbounded
            first = members is None
            members = numbers.laid(scores, year, state) if first else numbers.onto(scores, year)
            grow.onward(members, drivers, work)
            if high == autumn:
                kept = memory.with_autumn(kept, members.state())
        rows = to_rows(state) if members is None else members.rows()
        return replace(cloud, states=np.vstack([rows, kept]))

    return advance


def _joined(state: SwardState, kept: Array, cloud: Cloud) -> Cloud:
    return Cloud(np.vstack([to_rows(state), kept]), cloud.unbounded, cloud.log_weights)


def _parted(story: Story, cloud: Cloud) -> tuple[SwardState, Array]:
    """Part the rows of a cloud into the state and what is remembered."""
    rows = len(cloud.states) - story.memory.rows
    return from_rows(cloud.states[:rows]), cloud.states[rows:]


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
    story: Story, numbers: Latest, seen: Seen, weigher: Weigher
) -> Callable[[Cloud], Array]:
    year = growth_year(seen.day, story.latitude)
    at = (seen.day - story.first).days

    def log_likelihood(cloud: Cloud) -> Array:
        state, memory = _parted(story, cloud)
        here = Moment(
            state, memory, numbers.of(cloud.unbounded, year), numbers.seeing(cloud.unbounded),
            cloud.weights, float(story.operations.pull_hours[at]),
        )  # fmt: skip
        return weigher.log_of(seen, here)

    return log_likelihood
