"""The harder twin as it is: lawns of many squares that do not go by the look-ahead's book.

What makes them harder is fixed in `tools/data/harder_twin.toml`. Lawns of one kind and county are
run together, one after the other in lanes, a day at a time.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from swardbook.foundation.dates import days_between
from swardbook.handbook.parameters import value
from swardbook.model.ahead import horizons, weekly_growth
from swardbook.model.carrying import operations_of
from swardbook.model.chance import Array, Chance
from swardbook.model.day_heads import grown_up
from swardbook.model.drivers import drivers_from, stack_drivers
from swardbook.model.growing import Grow, from_rows, to_rows
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES
from swardbook.model.members import Members
from swardbook.model.operations import stack_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import sown_kinds
from swardbook.model.past import MEADOW_GRASS, Story
from swardbook.model.programmes import Programme, expand, programmes
from swardbook.model.unknowns import YEARLY, Unknowns, growth_year, with_year
from swardbook.observations.counts import PlaceCount
from swardbook.seed.lot import LotPart
from tools.county_series import County, county
from tools.made_up_lawns import Lawn, book_of, nothing_found, story_from, zone_of
from tools.twin_count import Squares, counted_squares
from tools.twin_work import lawn_weather, really_done

FILE = Path(__file__).parent / "data" / "harder_twin.toml"
NOISY = ("emergence", "survival", "heads", "thinning", "creeping")
"""Years' effects that the twin has; fixed with the file, whatever the model knows since."""


@cache
def settings() -> Mapping[str, Any]:
    """Read what makes the twin harder."""
    return tomllib.loads(FILE.read_text(encoding="utf-8"))


@cache
def lawns() -> Mapping[str, Lawn]:
    """Give the kinds of lawns by key."""
    return {row["key"]: Lawn.read(row) for row in settings()["lawns"]}


@dataclass(frozen=True, slots=True)
class Twin:
    """One lawn of the harder twin, by what its keeper knows of it.

    Parameters
    ----------
    lawn : Lawn
        The kind of lawn.
    county : County
        Where it lies.
    year : int
        The year of the forecast; it begins in the year before.
    plan : Programme
        How it is worked until then.
    """

    lawn: Lawn
    county: County
    year: int
    plan: Programme

    @classmethod
    def of(cls, lawn: Lawn, county: County, year: int) -> Twin:
        """Give a lawn; the way it is worked takes turns over the years."""
        keys = settings()["runs"]["programmes"]
        turn = (year + list(lawns()).index(lawn.key)) % len(keys)
        return cls(lawn, county, year, programmes()[keys[turn]])

    @property
    def today(self) -> date:
        """The day of the forecast."""
        return date(self.year, 11, 1)

    @property
    def marks(self) -> tuple[date, date]:
        """The days that are foretold: 1 June and the October count's."""
        autumn = horizons(self.today, self.county.latitude)[1].day
        return date(self.year + 1, 6, 1), autumn

    def chance(self, key: str) -> Chance:
        """Give the source of its own luck."""
        return Chance((key, self.county.name, self.lawn.key, str(self.year)))

    def story(self) -> Story:
        """Read its story from its book, as yet without what was found."""
        book = book_of(
            self.lawn, self.county, self.year - 1, self.plan, self.today, nothing_found(self.lawn)
        )
        return story_from(book, self.county.weather().until(self.today), self.today)


Ends = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Truth:
    """What one lawn had.

    Parameters
    ----------
    counts : tuple of tuple of PlaceCount
        What its keeper counted, occasion by occasion.
    became : mapping of str to tuple
        By programme, for each day foretold: cover [-] and plants [m⁻²] of annual meadow-grass.
    tonight : tuple of float
        The same on the evening of the forecast.
    """

    counts: tuple[tuple[PlaceCount, ...], ...]
    became: Mapping[str, Ends]
    tonight: tuple[float, float]


def live(twins: Sequence[Twin], key: str, grow: Grow) -> list[Truth]:
    """Run lawns of one kind and county through all their days.

    Parameters
    ----------
    twins : sequence of Twin
        The lawns, one a year.
    key : str
        What their luck is keyed by.
    grow : Grow
        Runs the model over some days.
    """
    world = _World.of(twins, key)
    watched = [_Watch.of(twin) for twin in twins]
    split = min(watch.today for watch in watched) + 1
    members, seen = world.begin(), [dict[int, Squares]() for _ in twins]
    for day in range(split):
        world.day(members, day, world.plans[0], grow)
        # A lawn a day behind the others in its year is looked at on the same evening as they.
        last = day == split - 1
        evening = [n for n, watch in enumerate(watched) if last or day in watch.evenings]
        for place, squares in world.squares(members, evening):
            seen[place][day] = squares
    tonight = [_mean(found.pop(split - 1)) for found in seen]
    became: list[dict[str, Ends]] = [{} for _ in twins]
    for plan in world.plans:
        for place, ends in enumerate(_gone_on(world, watched, members, split, plan, grow)):
            became[place][plan] = ends
    about = settings()["counting"]
    return [
        Truth(
            tuple(
                counted_squares(twin.lawn, squares, number, about, chance)
                for number, squares in enumerate(found.values())
            ),
            plans,
            now,
        )
        for twin, found, plans, chance, now in zip(
            twins, seen, became, world.chances, tonight, strict=True
        )
    ]


def _mean(squares: Squares) -> tuple[float, float]:
    return float(np.mean(squares.cover)), float(np.mean(squares.plants))


def _gone_on(
    world: _World, watched: Sequence[_Watch], split_at: Members, split: int, plan: str, grow: Grow
) -> list[Ends]:
    """Carry on from the split under one programme; gives what each lawn comes to."""
    members = replace(split_at, blocks=split_at.blocks.copy())
    ends: list[list[tuple[float, float]]] = [[] for _ in watched]
    for day in range(split, max(watch.marks[-1] for watch in watched) + 1):
        world.day(members, day, plan, grow)
        marked = [place for place, watch in enumerate(watched) if day in watch.marks]
        for place, squares in world.squares(members, marked):
            ends[place].append(_mean(squares))
    return [tuple(each) for each in ends]


@dataclass(frozen=True, slots=True)
class _Watch:
    """Days of one lawn, counted from its first."""

    today: int
    evenings: frozenset[int]
    marks: tuple[int, ...]

    @classmethod
    def of(cls, twin: Twin) -> _Watch:
        first = twin.lawn.first(twin.year - 1)
        counts = twin.lawn.count_days(twin.year - 1)
        return cls(
            (twin.today - first).days,
            # A count is held against the evening before; one on the first day against that evening.
            frozenset(max((day - first).days - 1, 0) for day in counts),
            tuple((day - first).days for day in twin.marks),
        )


@dataclass(frozen=True, slots=True)
class _World:
    """Everything the days of some lawns are run with, a column a square."""

    twins: Sequence[Twin]
    chances: Sequence[Chance]
    first_rows: Array
    usual: Parameters
    effects: Array
    """Scores of what differs by year, and the log of plant death: (effects, days, lawns)."""
    drivers: Drivers
    work: Mapping[str, Operations]

    @classmethod
    def of(cls, twins: Sequence[Twin], key: str) -> _World:
        chances = [twin.chance(key) for twin in twins]
        stories = [twin.story() for twin in twins]
        lots = list(zip(twins, stories, chances, strict=True))
        known = _unknowns(twins[0], stories[0])
        scores = [_scores(known.names, chance) for chance in chances]
        rows = [
            to_rows(known.start(story.start, score))
            for story, score in zip(stories, scores, strict=True)
        ]
        days = max((twin.marks[-1] - story.first).days for twin, story, _ in lots) + 1
        effects = [_effects(story.first, days, story.latitude, luck) for _, story, luck in lots]
        weather = [_weather(twin, story.first, days, luck) for twin, story, luck in lots]
        return cls(
            twins=twins,
            chances=chances,
            first_rows=np.hstack(rows),
            usual=known.parameters(np.hstack(scores)),
            effects=np.stack(effects, axis=2),
            drivers=stack_drivers(weather),
            work={
                plan: stack_operations([_work(*lot[:2], plan, days, lot[2]) for lot in lots])
                for plan in settings()["runs"]["programmes"]
            },
        )

    @property
    def plans(self) -> tuple[str, ...]:
        """Keys of the programmes; up to the split all are alike."""
        return tuple(self.work)

    def begin(self) -> Members:
        """Give the evening before the first day."""
        return Members.of(from_rows(self.first_rows), self.usual)

    def day(self, members: Members, day: int, plan: str, grow: Grow) -> None:
        """Take all lawns through one day, in place."""
        part = slice(day, day + 1)
        *known, death = np.repeat(self.effects[:, day], LANES, axis=1)
        quiet = [np.zeros_like(death)] * (len(YEARLY) - len(NOISY))
        numbers = with_year(self.usual, np.stack([*known, *quiet]))
        weeds = tuple(
            weed._replace(plant_death=weed.plant_death * np.exp(death)) for weed in numbers.weeds
        )
        members.change(self.usual, numbers._replace(weeds=weeds))
        grow.onward(
            members,
            Drivers(*(series[:, part] for series in self.drivers)),
            Operations(*(series[:, part] for series in self.work[plan])),
        )

    def squares(self, members: Members, places: Sequence[int]) -> Iterator[tuple[int, Squares]]:
        """Look at the squares of some lawns."""
        if not places:
            return
        state = members.state()
        weed, fog = state.weeds[0], state.weeds[1]
        rows = [weed.cover, grown_up(weed), weed.seedling_2, fog.cover, grown_up(fog)]
        whole = np.stack([*rows, state.zone.gap])
        for place in places:
            yield place, Squares(*whole[:, place * LANES : (place + 1) * LANES])


def _unknowns(twin: Twin, story: Story) -> Unknowns:
    row = next(row for row in settings()["lawns"] if row["key"] == twin.lawn.key)
    sward = row.get("real_sward")
    kinds = story.kinds
    if sward:
        kinds = sown_kinds([LotPart(name, share) for name, share in sward.items()], kinds.soil)
    return Unknowns.of(kinds)


def _scores(names: Sequence[str], chance: Chance) -> Array:
    """Draw the numbers of a lawn's squares, as scores: (numbers, squares)."""
    about = settings()
    shifts = {row["key"]: row["by"] for row in about["shift"]}
    ground, spread = about["squares"], about["numbers"]["lawn_spread"]
    rows = []
    for name in names:
        middle = spread * chance.normals(name, 1)[0] + shifts.get(name, 0.0)
        patchy = ground["spread"] if name in ground["keys"] else 0.0
        patchy = ground["start_spread"] if name.startswith("start.") else patchy
        rows.append(middle + patchy * _patches(chance.normals(f"patches of {name}", LANES)))
    return np.stack(rows)


def _patches(luck: Array) -> Array:
    """Spread standard normal numbers over the squares in patches."""
    return np.asarray(_rooted() @ luck)


@cache
def _rooted() -> Array:
    side, reach = settings()["squares"]["side"], settings()["squares"]["reach"]
    across, along = np.divmod(np.arange(side * side), side)
    apart = np.hypot(across[:, None] - across, along[:, None] - along)
    return np.linalg.cholesky(np.exp(-apart / reach))


def _effects(first: date, days: int, latitude: float, chance: Chance) -> Array:
    """Give the years' and days' noise of one lawn, the days' in emergence: (effects, days)."""
    about, noise = settings()["years"], settings()["days"]
    known = value("learning.year_spread")
    grown = [growth_year(first + timedelta(days=n), latitude) for n in range(days)]
    rows = []
    for name in (*NOISY, "death of plants"):
        luck = {year: chance.normals(f"{name} of {year}", 1)[0] for year in set(grown)}
        spread = about["spread"] / known if name in NOISY else about["death_spread"]
        rows.append(spread * np.array([luck[year] for year in grown]))
    burst = noise["spread"] * _held_on(chance.normals("days", days), noise["holds"])
    up = YEARLY.index("emergence")
    rows[up] = rows[up] + (burst - noise["spread"] ** 2 / 2) / known
    return np.stack(rows)


def _held_on(luck: Array, holds: float) -> Array:
    found = luck.copy()
    for n in range(1, len(found)):
        found[n] = holds * found[n - 1] + np.sqrt(1 - holds**2) * luck[n]
    return found


def _weather(twin: Twin, first: date, days: int, chance: Chance) -> Drivers:
    place, last = twin.county, first + timedelta(days=days - 1)
    drivers = drivers_from(place.weather(), place.latitude, place.elevation_m, first, last)
    return lawn_weather(drivers, settings()["weather"], chance.under("weather"))


def _work(twin: Twin, story: Story, plan: str, days: int, chance: Chance) -> Operations:
    """Give what is really done, up to the forecast by the diary and then by a programme."""
    weather, first = twin.county.weather(), twin.today + timedelta(days=1)
    ahead = days - len(story.operations.cut)
    until = first + timedelta(days=ahead - 1)
    growth = weekly_growth(weather)
    low = weather.index(story.first)
    zone, named = zone_of(twin.lawn), programmes()[plan]
    jobs = expand(
        named, zone, days_between(first, until),
        growth[weather.index(first) : weather.index(until) + 1],
        twin.county.latitude, MEADOW_GRASS,
    )  # fmt: skip
    planned = operations_of(zone, jobs, first, ahead)
    whole = Operations(
        *(np.concatenate(rows) for rows in zip(story.operations, planned, strict=True))
    )
    height = zone.height_of_cut_mm
    return really_done(
        whole, growth[low : low + days], height, settings()["work"], chance.under("work")
    )


def groups(key: str) -> Iterator[tuple[str, list[Twin]]]:
    """Give all lawns, those of one kind and county together, with a name for each group."""
    runs = settings()["runs"]
    for place in runs["counties"]:
        for lawn in lawns().values():
            years = range(runs["first_year"], runs["last_year"] + 1)
            yield (
                f"{key} {place} {lawn.key}",
                [Twin.of(lawn, county(place), year) for year in years],
            )
