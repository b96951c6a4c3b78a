"""The plants of the key, as data."""

import pytest

from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.provenance import Grade
from swardbook.handbook.plants import (
    NO_GRASS,
    Plant,
    Question,
    chances,
    find_plant,
    plants,
    questions,
)
from swardbook.handbook.sources import source

PLANTS, QUESTIONS = list(plants().values()), list(questions().values())


def test_there_are_thirty_grasses_and_more_and_plants_that_are_none() -> None:
    grasses = [each for each in PLANTS if each.kind != NO_GRASS]
    assert len(grasses) >= 30
    assert {each.key for each in PLANTS} - {each.key for each in grasses} == {
        "field wood-rush", "sedges"
    }  # fmt: skip


@pytest.mark.parametrize("plant", PLANTS, ids=lambda each: each.key)
def test_a_plant_shows_every_trait_with_work_and_grade(plant: Plant) -> None:
    """Wood-rush has no ligule to measure."""
    missing = set(questions()) - set(plant.shown)
    assert missing == ({"ligule_mm"} if plant.key == "field wood-rush" else set())
    for row in plant.shown.values():
        remembered = [
            each for each in row.sources if source(each).how_read.startswith("from memory")
        ]
        assert row.where
        assert row.grade is (Grade.JUDGED if remembered else Grade.PUBLISHED)


def test_where_works_differ_the_range_holds_them_all_and_says_so() -> None:
    row = plants()["annual meadow-grass"].shown["ligule_mm"]
    assert (row.low, row.high) == (0.5, 5)
    assert "0.5 to 2 mm in the first, 2 to 5 mm in the second" in row.note
    several = [
        row for plant in PLANTS for row in plant.shown.values()
        if len(row.sources) > 1 and row.trait == "ligule_mm"
    ]  # fmt: skip
    assert len(several) >= 15
    assert all(row.note for row in several)


@pytest.mark.parametrize("plant", PLANTS, ids=lambda each: each.key)
def test_look_alikes_are_plants_of_the_key(plant: Plant) -> None:
    assert set(plant.alike) <= set(plants()) - {plant.key}
    assert set(plant.as_one) <= set(plants()) - {plant.key}
    assert all(plant.key in plants()[other].as_one for other in plant.as_one)
    assert plant.in_lawns.is_judged


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda each: each.key)
def test_chances_of_answers_add_up_and_none_is_ruled_out(question: Question) -> None:
    for plant in PLANTS:
        told = chances(plant, question)
        assert min(told.values()) > 0
        if question.asked:
            assert sum(told.values()) == pytest.approx(1)


def test_a_measure_falls_in_its_class() -> None:
    question = questions()["ligule_mm"]
    read = [question.state_of(each) for each in (0.3, 0.5, 1.5, 9)]
    assert read == ["under 0.5", "under 0.5", "1 to 2", "over 7"]


def test_a_plant_is_found_by_any_of_its_names() -> None:
    assert find_plant("Poa annua").key == "annual meadow-grass"
    assert find_plant("Agrostis canina").key == "velvet bent"
    assert find_plant("good friday grass").key == "field wood-rush"
    with pytest.raises(UnknownNameError, match="white clover"):
        find_plant("white clover")
