"""Drawings of the key."""

import re
from xml.etree import ElementTree as ET

import pytest

from swardbook.figures.plants import DRAWN, picture_of_plant, picture_of_question
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.plants import Plant, Question, plants, questions

SHOWN = [each for each in questions().values() if each.key in DRAWN or each.cuts]


def test_every_answer_that_can_be_seen_has_a_drawing_of_its_own() -> None:
    for key, drawn in DRAWN.items():
        assert list(drawn) == list(questions()[key].states)
        assert len({drawing() for drawing in drawn.values()}) == len(drawn)
    assert set(questions()) - {each.key for each in SHOWN} == {"scent", "flowering"}


@pytest.mark.parametrize("question", SHOWN, ids=lambda each: each.key)
def test_a_question_is_drawn_with_a_title_and_all_answers_to_be_heard(question: Question) -> None:
    picture = picture_of_question(question)
    root = ET.fromstring(picture.svg)
    assert root.attrib["role"] == "img"
    assert root[0].text == question.asks
    assert all(state in (root[1].text or "") for state in question.states)
    assert picture.svg == picture_of_question(question).svg


def test_what_cannot_be_seen_is_not_drawn() -> None:
    with pytest.raises(NotEnoughDataError, match="scent"):
        picture_of_question(questions()["scent"])


@pytest.mark.parametrize("plant", list(plants().values()), ids=lambda each: each.key)
def test_a_plant_is_drawn_and_its_table_names_work_and_grade_of_each_trait(plant: Plant) -> None:
    picture = picture_of_plant(plant)
    assert ET.fromstring(picture.svg)[0].text == f"{plant.both_names}: what to look for."
    (table,) = picture.tables
    assert len(table.rows) == len(plant.shown)
    assert all(grade in {"published", "judged"} and works for *_, grade, works in table.rows)


def test_nothing_is_told_by_colour_and_all_stays_within_the_frame() -> None:
    for question in SHOWN:
        svg = picture_of_question(question).svg
        grey = {"#1b1b1b", "#5c5c5c", "#d4dde6", "white", "none"}
        assert set(re.findall(r'(?:fill|stroke)="([^"]+)"', svg)) <= grey
        width, height = (float(each) for each in re.findall(r'viewBox="0 0 (\S+) (\S+)"', svg)[0])
        for x, y in re.findall(r'<text x="(\S+?)" y="(\S+?)"', svg):
            assert 0 <= float(x) <= width
            assert 0 <= float(y) <= height
