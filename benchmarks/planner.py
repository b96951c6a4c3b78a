"""A search for a programme, over the time that its own draw-days take in one long run.

Run: ``python -m benchmarks planner``. Nothing here is asserted.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from benchmarks._measuring import Row, medians, the_kernel
from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.book.programmes import place_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.model.ahead import Ahead
from swardbook.model.costs import season_weeks
from swardbook.model.growing import grower
from swardbook.model.inputs import Drivers
from swardbook.model.kernel_text import LANES
from swardbook.model.look_ahead import stand_tonight
from swardbook.model.members import Members, advance
from swardbook.model.never import Place
from swardbook.model.operations import no_operations
from swardbook.model.past import live_through
from swardbook.model.search import choices, judge_of, search

ZONE = "Main court"
DRAWS, DAYS, GOAL = 96, 60, 2.5


def tonight(draws: int) -> tuple[Ahead, Place]:
    """Set out the way ahead of a made-up zone, on general knowledge."""
    ground = made_up_ground()
    question, _ = question_of(Asked(ground, made_up_weather(), TODAY, draws), ZONE)
    chance, grow = chance_of(ground, question.story.zone), grower(the_kernel())
    known = live_through(replace(question.story, seen=()), draws, chance, grow)
    return stand_tonight(question, known, chance).ahead, place_of(ground, ZONE)


def run() -> list[Row]:
    """Measure a search by roll-outs: each programme that is tried is run through all days."""
    ahead, place = tonight(DRAWS)
    until, tried = ahead.today + timedelta(days=DAYS), 0

    def go() -> None:
        nonlocal tried
        judge = judge_of(
            ahead, grower(the_kernel()), by_plants=False, weeks=season_weeks(), until=until
        )
        free = replace(place, weekly_hours=None)
        tried = search(free, judge, choices()["hours"], by_plants=False).tried

    crowd, drivers = Members.of(ahead.state, ahead.usual).copies(16), ahead.drivers
    weather = Drivers(*(series[0, :DAYS] for series in drivers))

    def long_run() -> None:
        advance(crowd, weather, no_operations(DAYS), kernel=the_kernel(), every=DAYS)

    took = medians({"search": go, "run": long_run}, 7)
    each = took["run"] / (len(crowd.blocks) * LANES * DAYS)
    ratio = took["search"] / (tried * DRAWS * DAYS * each)
    filled = -(-DRAWS // LANES) * LANES
    return [
        Row(
            f"search by roll-outs, {DRAWS} draws, {DAYS} days, over its draw-days in a long run",
            f"{ratio:.2f} times ({took['search'] * 1e3:.0f} ms for {tried} programmes tried;"
            f" {each * 1e9:.0f} ns a draw-day; {DRAWS} draws lie in {filled} places, the rest of"
            " which are run and not counted)",
            f"at most {GOAL} times",
            ratio <= GOAL,
        )
    ]
