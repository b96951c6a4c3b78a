"""No verticut on seedlings, in any programme that the model looks ahead with."""

from datetime import date, timedelta

import numpy as np

from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.husbandry.happenings import Verticut
from swardbook.model.ahead import work
from swardbook.model.growing import grower
from swardbook.model.look_ahead import Tonight, stand_tonight
from swardbook.model.past import MEADOW_GRASS, Story, live_through
from swardbook.model.programmes import programme
from swardbook.weather.thermal import growing_weeks
from tests.support.model import kernel

FINE_GROWING_WEEKS = 10
"""As the handbook has it for swards with bent or fescue."""


def stood(zone: str, today: date) -> tuple[Story, Tonight]:
    ground = made_up_ground()
    question, _ = question_of(Asked(ground, made_up_weather(), today, 64), zone)
    chance = chance_of(ground, ground.zone(zone))
    known = live_through(question.story, 64, chance, grower(kernel()))
    return question.story, stand_tonight(question, known, chance)


def sown_day(zone: str) -> date:
    return max(each.day for each in made_up_ground().entries(zone, "sow") if each.day < TODAY)


def test_a_young_sward_waits_for_its_growing_weeks() -> None:
    sown = sown_day("Short court")
    story, tonight = stood("Short court", sown + timedelta(days=10))
    assert story.young is not None
    assert story.young.weeks_still == FINE_GROWING_WEEKS - 1
    ahead, since = tonight.ahead, story.young.tmean
    for course, jobs in enumerate(work(ahead, programme("whole"), MEADOW_GRASS)):
        air = np.concatenate([since, ahead.drivers.tmean[course]])
        first = min(job.day for job in jobs if isinstance(job.what, Verticut))
        old_enough = int(ahead.verticut_from[course]) + 1
        assert growing_weeks(air[: 10 + old_enough]).grown == FINE_GROWING_WEEKS
        assert growing_weeks(air[: 10 + old_enough - 1]).grown < FINE_GROWING_WEEKS
        assert (first - ahead.today).days >= old_enough


def test_an_old_sward_waits_for_nothing() -> None:
    story, tonight = stood("Surround", TODAY)
    assert story.young is None or story.young.weeks_still == 0
    assert not np.any(tonight.ahead.verticut_from)


def test_growing_weeks_still_to_come_fall_as_the_sward_grows() -> None:
    def still(days: int) -> int:
        today = sown_day("Short court") + timedelta(days=days)
        asked = Asked(made_up_ground(), made_up_weather(), today, 64)
        young = question_of(asked, "Short court")[0].story.young
        return 0 if young is None else young.weeks_still

    assert still(5) > still(25) > still(100) > still(230) == 0
