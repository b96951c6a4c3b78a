"""Whether the learning is right about itself: `python -m tools.self_consistency`.

A lawn is drawn from what is believed before any count, counted by the very model of counting that
the learning reads counts with, and learned from those counts. What it was drawn with must then lie
in the ranges learned as often as they say, with every rank as likely as any other (Talts,
Betancourt, Simpson, Vehtari and Gelman 2018, arXiv:1804.06788).
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache, partial
from pathlib import Path
from typing import Any, TypeVar

import numpy as np
from benchmarks._measuring import the_kernel

from swardbook.model.chance import Array, Chance
from swardbook.model.day_heads import grown_up
from swardbook.model.growing import Grow, grower
from swardbook.model.kernel_text import LANES
from swardbook.model.observing import Seeing, Standing
from swardbook.model.past import MEADOW_GRASS, Known, Story, live_through
from swardbook.model.places import log_of_visits, tally_of
from swardbook.model.programmes import programmes
from swardbook.observations.counts import Method, PlaceCount
from tools.cases_on_file import RUNS, Result, making_of, run_cases, say_so
from tools.county_series import COUNTIES, County
from tools.made_up_lawns import (
    Counts,
    Lawn,
    book_of,
    counted,
    nothing_found,
    story_from,
)

PAGE = Path(__file__).parents[1] / "docs" / "reference" / "self-consistency.md"
KEY = "self-consistency"
DESIGNS = 16
CASES = DESIGNS * LANES
DRAWS = 512
"""Ranges with 512, 1,024 and 2,048 draws are as wide, within 2 in 100; the product takes 4,096."""
CODE = ("self_consistency", "made_up_lawns", "county_series")
LAWNS = (
    Lawn("sown", "Sown on a bare seedbed in April, counted twice that autumn by plants",
         (4, 20), ((0, 9, 20), (0, 10, 11)), Method.PLANTS, 0.1, 12, 20.0, "seedbed", 30.0),
    Lawn("renovated", "Scarified and sown over in September, counted in two Octobers by points",
         (9, 2), ((0, 10, 15), (1, 10, 12)), Method.POINTS, 25, 12, 25.0,
         "broadcast on scarified", 25.0, 3),
)  # fmt: skip
FIRST_YEAR, YEARS = 1993, 27
WEED = "model.annual_meadow_grass."
NUMBERS = (
    f"{WEED}seed_bank", f"{WEED}emergence_open_year", f"{WEED}survival_gap", f"{WEED}plant_death",
    f"{WEED}plant_area_cm2", "model.zone.thinning", "count.clumping", "count.point_clumping",
    "count.found_in_frame", "count.place_share", "counter Ines",
)  # fmt: skip
"""Guesses whose ranks are kept; beside them what stands on the last day, and the year's effects."""


Kept = TypeVar("Kept", Seeing, Standing)


@dataclass(frozen=True, slots=True)
class Design:
    """A lawn as it is asked about: where, when, how worked and how counted; a case apart a draw."""

    number: int
    lawn: Lawn
    county: County
    year: int
    way: str

    @classmethod
    def of(cls, number: int) -> Design:
        """Give one of the designs, each unlike the one before it."""
        keys = list(programmes())
        return cls(
            number,
            LAWNS[number % len(LAWNS)],
            COUNTIES[number % len(COUNTIES)],
            FIRST_YEAR + (number * 5) % YEARS,
            keys[(number // 2) % len(keys)],
        )

    @property
    def today(self) -> date:
        """The last day."""
        return date(self.lawn.count_days(self.year)[-1].year, 10, 31)

    def story(self, counts: Counts) -> Story:
        """Read its story, with what was counted."""
        plan = programmes()[self.way]
        blank = nothing_found(self.lawn)
        book = book_of(self.lawn, self.county, self.year, plan, self.today, blank)
        weather = self.county.weather().until(self.today)
        return counted(story_from(book, weather, self.today), counts)


@dataclass(frozen=True, slots=True)
class Drawn:
    """Lawns drawn from what is believed beforehand, one a draw: what they have, and are."""

    at_counts: tuple[Standing, ...]
    today: Known
    scores: Mapping[str, Array]
    seeing: Seeing


def run(
    folder: Path,
    key: str,
    cases: int = CASES,
    draws: int = DRAWS,
    processes: int = 1,
    tell: Callable[[str], None] = lambda _: None,
) -> dict[str, Result]:
    """Draw lawns, count them, learn, and give the rank of each truth among what was learned.

    Parameters
    ----------
    folder : Path
        Where results are kept.
    key : str
        What all luck is keyed by.
    cases : int
        How many lawns.
    draws : int
        Draws that learn.
    processes : int
        Processes to share the work among; change no bit.
    tell : callable
        Told in words how far it is.
    """
    here = Path(__file__).parent
    code = [(here / f"{name}.py").read_bytes() for name in CODE]
    made = making_of(key, str(draws), *code)
    names = [f"{number % DESIGNS} {number // DESIGNS}" for number in range(cases)]
    return run_cases(
        folder / "self-consistency.jsonl", made, names, partial(ranked, key, draws), processes, tell
    )


def ranked(key: str, draws: int, case: str) -> Result:
    """Learn from the counts of one drawn lawn; gives its ranks, from 0 to 1."""
    number, lane = (int(part) for part in case.split())
    design, drawn = Design.of(number), _drawn(key, number)
    luck = Chance((key, "counts", case))
    found = _counts(design, drawn, lane, luck)
    known = live_through(design.story(found), draws, Chance((key, "learning", case)), _grow())
    told = {"lawn": design.lawn.key, "refusal": known.learned.refusal}
    if known.learned.refusal:
        return told
    ranks = {}
    learned, truth = _quantities(known), _quantities(drawn.today, drawn.scores)
    for name, values in learned.items():
        mine = truth[name][lane]
        level = np.sum(values < mine)
        ties = luck.uniforms(f"ties {name}", 1)[0] * (np.sum(values == mine) + 1)
        ranks[name] = round(float((level + ties) / (len(values) + 1)), 6)
    return told | {"ranks": ranks}


@cache
def _drawn(key: str, number: int) -> Drawn:
    """Draw the lawns of a design and let them live, without learning."""
    design, chance = Design.of(number), Chance((key, "lawns", str(number)))
    story = design.story(nothing_found(design.lawn))
    evenings = [day - timedelta(days=1) for day in design.lawn.count_days(design.year)]
    lived = [
        live_through(replace(story, seen=(), today=day), LANES, chance, _grow())
        for day in (*evenings, story.today)
    ]
    visits = tuple(seen.day.isoformat() for seen in story.visits)
    known = replace(lived[-1].unknowns, counters=story.counters, visits=visits)
    scores = known.draw(LANES, chance)
    return Drawn(
        tuple(_standing(each) for each in lived[:-1]),
        lived[-1],
        dict(zip(known.names, scores, strict=True)),
        known.seeing(scores),
    )


def _standing(known: Known) -> Standing:
    weed = known.state.weeds[0]
    return Standing({MEADOW_GRASS: grown_up(weed)}, {MEADOW_GRASS: weed.cover}, {})


def _quantities(known: Known, scores: Mapping[str, Array] | None = None) -> dict[str, Array]:
    """Give what is ranked: the lawn on the last day, and guesses as their scores."""
    state = known.state
    weed = state.weeds[0]
    named = scores or dict(zip(known.unknowns.names, known.scores, strict=True))
    found = {
        "cover today": weed.cover,
        "plants today": grown_up(weed),
        "seed in the ground today": weed.dormant + weed.ready + weed.buried,
        "bare today": state.zone.gap,
    }
    last = known.unknowns.years[-1]
    found |= {f"{name} this year": named[f"{name} of {last}"] for name in ("emergence", "survival")}
    return found | {name: named[name] for name in NUMBERS}


def _counts(design: Design, drawn: Drawn, lane: int, luck: Chance) -> Counts:
    """Count one lawn: each place's figure is drawn from the learning's own likelihood."""
    seeing = _one(drawn.seeing, lane)
    read = tuple(seeing.visits.values())
    stood = [_one(each, lane) for each in drawn.at_counts]
    standings = [replace(each, read=how) for each, how in zip(stood, read, strict=True)]
    before: list[tuple[PlaceCount, ...]] = []
    for visit, blank in enumerate(nothing_found(design.lawn)):
        chances: dict[tuple[float, ...], Iterator[float]] = {}
        known: dict[tuple[float, ...], list[float]] = {}
        places = []
        for at, place in enumerate(blank):
            past = [each[at] for each in before]
            key = tuple(each.found[MEADOW_GRASS] for each in past)
            if key not in chances:
                chances[key] = _chances(past, place, standings[: visit + 1], seeing)
                known[key] = []
            wanted = float(luck.uniforms(f"{visit} {place.place}", 1)[0])
            figure = _figure(wanted, known[key], chances[key])
            places.append(replace(place, found={MEADOW_GRASS: figure}))
        before.append(tuple(places))
    return before


def _figure(wanted: float, known: list[float], more: Iterator[float]) -> float:
    """Find the figure at which the chances so far reach what is wanted."""
    reached = 0.0
    for figure in range(100_000):
        if figure == len(known):
            one = next(more, None)
            if one is None:
                return float(figure - 1)
            known.append(one)
        reached += known[figure]
        if reached >= wanted:
            return float(figure)
    raise AssertionError


def _chances(
    past: Sequence[PlaceCount], place: PlaceCount, standings: Sequence[Standing], seeing: Seeing
) -> Iterator[float]:
    """Give the chance of each figure of a place, from 0 on, by the learning's likelihood."""
    most = place.looked if place.method is Method.POINTS else 50_000
    for figure in range(round(most) + 1):
        visits = [(each,) for each in (*past, replace(place, found={MEADOW_GRASS: float(figure)}))]
        told = log_of_visits(standings, tally_of(visits, (MEADOW_GRASS, "bare")), seeing)
        yield float(np.exp(told[0]))


def _one(of: Kept, lane: int) -> Kept:
    """Keep one draw."""

    def kept(value: Any) -> Any:
        if isinstance(value, Mapping):
            return {name: kept(each) for name, each in value.items()}
        return value[lane : lane + 1] if isinstance(value, np.ndarray) else value

    return replace(of, **{name: kept(getattr(of, name)) for name in of.__slots__})


@cache
def _grow() -> Grow:
    return grower(the_kernel())


def main(arguments: Sequence[str] | None = None) -> None:
    """Run all cases and write the page."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--key", default=KEY, help="key of all luck")
    reader.add_argument("--cases", type=int, default=CASES)
    reader.add_argument("--draws", type=int, default=DRAWS)
    reader.add_argument("--processes", type=int, default=2)
    reader.add_argument("--folder", type=Path, default=RUNS)
    asked = reader.parse_args(arguments)
    the_kernel()
    results = run(asked.folder, asked.key, asked.cases, asked.draws, asked.processes, say_so)
    if asked.key == KEY and asked.cases == CASES:
        from tools.self_consistency_page import page

        PAGE.write_text(page(results, asked.draws), encoding="utf-8")


if __name__ == "__main__":
    main()
