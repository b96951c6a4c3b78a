"""A zone of the made-up ground tonight, on general knowledge, ready to look ahead from."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.model.ahead import Ahead
from swardbook.model.growing import Grow, grower
from swardbook.model.look_ahead import stand_tonight
from swardbook.model.past import live_through
from swardbook.model.programmes import Programme
from tests.support.model import kernel


@cache
def tonight(draws: int = 128) -> tuple[Ahead, Programme, Grow]:
    """Give the draws tonight, the first programme, and what grows them."""
    ground = made_up_ground()
    question, _ = question_of(Asked(ground, made_up_weather(), TODAY, draws), "Surround")
    chance = chance_of(ground, question.story.zone)
    grow = grower(kernel())
    known = live_through(replace(question.story, seen=()), draws, chance, grow)
    return stand_tonight(question, known, chance).ahead, question.plans[0], grow
