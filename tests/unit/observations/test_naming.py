"""Naming a plant from what was seen."""

import pytest

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.plants import plants, questions
from swardbook.observations.naming import (
    CANNOT_TELL,
    PROBABLY,
    SURE,
    Looked,
    name_plant,
    next_question,
    open_questions,
    read_looked,
    separating_check,
    shares,
)
from tests.support.plants import all_truth

FOG = ("hair=velvety", "base=pink-striped", "ligule=hairy", "vernation=rolled", "lower=dull")


def test_yorkshire_fog_is_told_by_its_velvet_and_pyjama_stripes() -> None:
    found = name_plant(read_looked(FOG))
    assert found.verdict == SURE
    assert found.likeliest.plant.key == "yorkshire fog"
    assert found.next_question is None
    checks = {each.plant.key: each.check for each in found.alike}
    assert "joints" in checks["creeping soft-grass"]


def test_nothing_seen_is_nothing_told_and_asks_what_tells_most() -> None:
    found = name_plant(Looked())
    assert found.verdict == CANNOT_TELL
    assert found.next_question is not None
    assert found.gain_bits > 1
    dear = {"habit", "sheath", "bulb", "ligule_mm"}
    assert found.next_question.key not in dear


def test_the_two_meadow_grasses_are_kept_apart_by_ligule_and_back_of_the_leaf() -> None:
    common = ("tip=boat", "upper=two lines", "vernation=folded")
    rough = name_plant(read_looked([*common, "lower=glossy", "ligule=pointed", "ligule_mm=6"]))
    annual = name_plant(read_looked([*common, "lower=dull", "ligule=pointed", "ligule_mm=2.5"]))
    assert rough.likeliest.plant.key == "rough-stalked meadow-grass"
    assert annual.likeliest.plant.key == "annual meadow-grass"


def test_a_seedling_of_two_leaves_is_never_named_and_nothing_more_is_asked() -> None:
    found = name_plant(read_looked(FOG, "seedling"))
    assert found.verdict == CANNOT_TELL
    assert found.next_question is None
    assert "3 growing weeks" in found.because


def test_a_young_plant_is_at_most_probable_and_is_not_asked_for_heads_or_runners() -> None:
    looked = read_looked(FOG, "young")
    assert name_plant(looked).verdict == PROBABLY
    assert not {"head", "habit", "bulb"} & {each.key for each in open_questions(looked)}


def test_what_nothing_in_the_hand_parts_is_never_sure() -> None:
    found = name_plant(all_truth(plants()["strong creeping red fescue"]))
    assert found.verdict != SURE
    assert "slender creeping red fescue" in {each.plant.key for each in found.alike}


def test_few_answers_are_not_sure_however_telling() -> None:
    found = name_plant(read_looked(["hair=velvety", "base=pink-striped"]))
    assert found.verdict == PROBABLY
    assert "Too few answers" in found.because


def test_what_was_sown_is_likelier() -> None:
    looked = read_looked(["upper=bristle"])
    plain, sown = shares(looked), shares(looked, ["hard fescue"])
    assert sown["hard fescue"] > 2 * plain["hard fescue"]


def test_the_height_of_a_ligule_is_not_asked_where_there_is_none() -> None:
    assert "ligule_mm" not in {each.key for each in open_questions(read_looked(["ligule=none"]))}


def test_the_check_between_two_plants_is_the_handbooks_or_what_they_differ_in_most() -> None:
    here = plants()
    told = separating_check(here["creeping bent"], here["browntop bent"])
    assert told.startswith("Look at the ligule of a leafy shoot")
    derived = separating_check(here["cocksfoot"], here["couch"])
    assert derived.startswith("Look at the")
    assert "cocksfoot" in derived


def test_answers_are_read_as_people_type_them() -> None:
    looked = read_looked(["Tip = Boat", "ligule mm=2,5 mm", "hair=?", "head=don't know"])
    assert looked.answers == {"tip": "boat", "ligule_mm": "2 to 4"}
    assert looked.unknown == ("hair", "head")


def test_an_answer_may_be_the_number_that_stands_before_it() -> None:
    shown = list(questions()["upper"].states)
    for number, state in enumerate(shown, 1):
        assert read_looked([f"upper={number}"]).answers == {"upper": state}
    with pytest.raises(UnknownNameError):
        read_looked([f"upper={len(shown) + 1}"])


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (["tip"], "trait=answer"),
        (["tip=boat", "tip=needle"], "one answer"),
        (["ligule_mm=250"], "0 to 100 mm"),
    ],
)
def test_what_cannot_be_read_is_told(typed: list[str], told: str) -> None:
    with pytest.raises(BadInputError, match=told):
        read_looked(typed)


def test_an_unknown_trait_or_answer_gets_the_nearest_and_an_age_is_one_of_three() -> None:
    with pytest.raises(UnknownNameError, match="ligule"):
        read_looked(["ligul=blunt"])
    with pytest.raises(UnknownNameError, match="pointed"):
        read_looked(["tip=pointy"])
    with pytest.raises(BadInputError, match="seedling, young, plant"):
        read_looked([], "old")


def test_the_month_is_never_asked() -> None:
    looked = Looked()
    for _ in questions():
        question, _gain = next_question(looked)
        if question is None:
            break
        assert question.key != "flowering"
        looked = Looked({}, (*looked.unknown, question.key))
