"""A growing week is one thing: planning and the model count it by one function."""

from datetime import timedelta
from pathlib import Path

import pytest

import swardbook
from swardbook.book.look_ahead import Asked, question_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.model import story
from swardbook.planning import warmth
from swardbook.planning.situation import situation
from swardbook.planning.sowings import setting_age, weeks_grown, weeks_needed
from swardbook.weather import thermal

ZONE = "Short court"
ONE_DAY_OR_A_MEAN = {"checks_weather.py", "mowing.py"}
"""They ask whether a day ahead or a mild spell is warm, and count no weeks."""


def test_planning_and_the_model_hold_the_one_count() -> None:
    assert vars(warmth)["growing_weeks"] is thermal.growing_weeks
    assert vars(story)["growing_weeks"] is thermal.growing_weeks
    assert vars(story)["days_to_growing_weeks"] is thermal.days_to_growing_weeks


def test_nothing_else_reads_how_warm_a_growing_week_is() -> None:
    readers = {
        path.name
        for path in Path(swardbook.__file__).parent.rglob("*.py")
        if "growing_week_mean" in path.read_text(encoding="utf-8")
    }
    assert readers == {"thermal.py", *ONE_DAY_OR_A_MEAN}


@pytest.mark.parametrize("days", [6, 7, 34, 62, 100, 180])
def test_a_verticut_waits_as_long_in_the_week_as_in_the_look_ahead(days: int) -> None:
    ground, sky = made_up_ground(), made_up_weather()
    sown = max(each.day for each in ground.entries(ZONE, "sow") if each.day < TODAY)
    today = sown + timedelta(days=days)
    sit = situation(ground, ZONE, sky, today)
    sowing, young = (
        setting_age(sit),
        question_of(Asked(ground, sky, today, 64), ZONE)[0].story.young,
    )
    assert sowing is not None
    assert young is not None
    assert young.weeks == weeks_needed(sowing)
    assert young.weeks_still == max(young.weeks - weeks_grown(sit, sowing).grown, 0)
