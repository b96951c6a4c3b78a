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
from tests.support.model import kernel

FINE_GROWING_DAYS = 70
"""Ten growing weeks, as the handbook has it for swards with bent or fescue."""


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
    still = story.growing_days_to_verticut
    assert FINE_GROWING_DAYS - 10 <= still < FINE_GROWING_DAYS
    ahead = tonight.ahead
    for course, jobs in enumerate(work(ahead, programme("whole"), MEADOW_GRASS)):
        first = min(job.day for job in jobs if isinstance(job.what, Verticut))
        days = (first - ahead.today).days - 1
        warm = np.sum(ahead.drivers.tmean[course, :days] >= 8)
        assert warm >= still
    assert np.all(ahead.verticut_from > 0)


def test_an_old_sward_waits_for_nothing() -> None:
    story, tonight = stood("Surround", TODAY)
    assert story.growing_days_to_verticut == 0
    assert not np.any(tonight.ahead.verticut_from)


def test_growing_days_still_to_come_fall_as_the_sward_grows() -> None:
    def still(days: int) -> float:
        today = sown_day("Short court") + timedelta(days=days)
        asked = Asked(made_up_ground(), made_up_weather(), today, 64)
        return question_of(asked, "Short court")[0].story.growing_days_to_verticut

    assert still(5) > still(25) > still(230) == 0
