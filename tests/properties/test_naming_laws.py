"""Laws of naming a plant."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.handbook.plants import Plant, plants, questions
from swardbook.observations.naming import (
    CANNOT_TELL,
    PROBABLY,
    SURE,
    Looked,
    name_plant,
    next_question,
    shares,
)
from tests.support.plants import ASKED, all_truth, talk

PLANTS = list(plants().values())
PAGE = Path(__file__).parents[2] / "docs" / "how-to" / "name-a-plant.md"
answers = st.fixed_dictionaries(
    {},
    optional={key: st.sampled_from(list(each.states)) for key, each in questions().items()},
)


@pytest.mark.parametrize("plant", PLANTS, ids=lambda each: each.key)
def test_all_answered_truly_ends_at_the_plant_or_names_it_among_the_look_alikes(
    plant: Plant,
) -> None:
    found = name_plant(all_truth(plant))
    named = [found.likeliest.plant.key, *(each.plant.key for each in found.alike)]
    assert plant.key in named
    if found.verdict == SURE:
        assert named[0] == plant.key


@given(answers, st.randoms(use_true_random=False))
def test_the_order_of_answers_does_not_matter(told: dict[str, str], order: object) -> None:
    pairs = list(told.items())
    order.shuffle(pairs)  # type: ignore[attr-defined]
    assert shares(Looked(dict(pairs))) == shares(Looked(told))


@given(answers, st.lists(st.sampled_from(list(questions())), unique=True))
def test_dont_know_changes_no_share(told: dict[str, str], unknown: list[str]) -> None:
    assert shares(Looked(told, tuple(unknown))) == shares(Looked(told))


@given(answers)
def test_shares_add_up_and_no_plant_is_ruled_out(told: dict[str, str]) -> None:
    found = shares(Looked(told))
    assert sum(found.values()) == pytest.approx(1)
    assert min(found.values()) > 0


@given(answers)
def test_a_question_tells_something_and_was_not_asked_before(told: dict[str, str]) -> None:
    question, gain = next_question(Looked(told))
    if question is not None:
        assert gain > 0
        assert question.key not in told


@pytest.mark.parametrize("plant", PLANTS, ids=lambda each: each.key)
def test_a_name_never_comes_without_a_look_alike_and_what_parts_them(plant: Plant) -> None:
    for looked in (all_truth(plant), talk(plant), talk(plant, 3)):
        found = name_plant(looked)
        assert found.verdict in (SURE, PROBABLY, CANNOT_TELL)
        assert found.alike
        for each in found.alike:
            assert each.plant.key != found.likeliest.plant.key
            assert each.check.endswith((".", "?"))
            assert not re.search(r": (no|yes) in", each.check)


def test_one_wrong_answer_of_eight_mostly_leaves_the_plant_among_the_first_two() -> None:
    """And the shares that the page states are those found here."""
    in_two = sure = sure_and_wrong = whole = 0
    for plant in PLANTS:
        for wrong_at in range(ASKED):
            for step in (1, 2):
                found = shares(looked := talk(plant, wrong_at, step))
                order = sorted(found, key=lambda key: -found[key])
                in_two += plant.key in order[:2]
                named = name_plant(looked)
                sure += named.verdict == SURE
                sure_and_wrong += named.verdict == SURE and order[0] != plant.key
                whole += 1
    assert in_two / whole > 0.9
    assert sure_and_wrong / sure < 0.03
    page = PAGE.read_text(encoding="utf-8")
    stated = re.search(r"(\d+) of (\d+) talks .*? (\d+) of the (\d+) .sure.", page, re.DOTALL)
    assert stated is not None
    assert [int(each) for each in stated.groups()] == [in_two, whole, sure_and_wrong, sure]
    first = 0
    for plant in PLANTS:
        found = shares(talk(plant))
        first += plant.key == max(found, key=lambda key: found[key])
    rest = re.search(r"With no wrong answer (\d+) of\s+the (\d+) plants", page)
    assert rest is not None
    assert [int(each) for each in rest.groups()] == [first, len(PLANTS)]
