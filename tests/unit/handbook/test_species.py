"""A grass is found by whatever name it goes by, and each of its numbers has a source."""

import pytest

from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.provenance import Grade
from swardbook.handbook.parameters import parameters
from swardbook.handbook.sources import sources
from swardbook.handbook.species import (
    TRAITS,
    Kind,
    Species,
    all_species,
    find_species,
    in_words,
    sown_species,
    thousand_seed_weight,
)

EVERY = list(all_species().values())


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("browntop bent", "browntop bent"),
        ("BROWNTOP", "browntop bent"),
        ("colonial bent", "browntop bent"),
        ("Agrostis capillaris", "browntop bent"),
        ("agrostis tenuis", "browntop bent"),
        ("Kentucky bluegrass", "smooth-stalked meadow-grass"),
        ("smooth stalked meadow grass", "smooth-stalked meadow-grass"),
        ("Poa annua", "annual meadow-grass"),
        ("annual bluegrass", "annual meadow-grass"),
        ("holcus lanatus", "yorkshire fog"),
        ("Festuca rubra ssp. commutata", "chewings fescue"),
        ("sheep’s fescue", "sheep's fescue"),
        ("rye grass", "perennial ryegrass"),
    ],
)
def test_a_species_is_found_by_english_latin_or_trade_name(name: str, key: str) -> None:
    assert find_species(name).key == key


def test_inside_a_sentence_only_a_proper_name_has_a_capital() -> None:
    assert in_words("yorkshire fog") == "Yorkshire fog"
    assert in_words("Poa annua") == "annual meadow-grass"
    assert in_words("bare") == "bare"


def test_an_unknown_name_offers_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="Did you mean browntop"):
        find_species("brwntop")


def test_fescue_alone_is_not_guessed_at() -> None:
    with pytest.raises(UnknownNameError, match="fescue"):
        find_species("fescue")


@pytest.mark.parametrize("species", EVERY, ids=lambda each: each.key)
def test_every_number_has_a_source_and_every_trait_a_place_on_the_scale(species: Species) -> None:
    for number in species.numbers:
        assert number.source in sources(), number.key
        assert number.low <= number.value <= number.high
        if number.grade is Grade.PUBLISHED:
            assert number.where, number.key
    for trait, mark in (species.traits or {}).items():
        assert trait in TRAITS
        assert 1 <= mark <= 9


@pytest.mark.parametrize("species", sown_species(), ids=lambda each: each.key)
def test_what_is_sown_has_everything_a_mixture_needs(species: Species) -> None:
    assert species.kind is not Kind.WEED_GRASS
    assert thousand_seed_weight(species).value > 0
    for number in (species.new_sowing_g_m2, species.comfort_height_mm, species.depth_mm):
        assert number is not None
    assert species.minimum_soil_c is not None
    assert species.first_seen_15c_days is not None
    assert species.first_seen_10c_days is not None
    assert species.first_seen_15c_days.value < species.first_seen_10c_days.value


def test_rough_stalked_meadow_grass_says_why_the_collection_figure_is_not_used() -> None:
    weight = thousand_seed_weight(find_species("Poa trivialis"))
    assert 1000 / weight.value == pytest.approx(5200, rel=1e-3)
    assert "rounded" in weight.note


def test_a_weight_that_nobody_knows_is_not_made_up() -> None:
    with pytest.raises(UnknownNameError, match="thousand-seed weight"):
        thousand_seed_weight(find_species("black-grass"))


def test_the_latin_stands_beside_the_english_name() -> None:
    assert find_species("PRG").both_names == "Perennial ryegrass (Lolium perenne)"


def test_a_species_can_stand_in_a_set() -> None:
    assert len({find_species("PRG"), find_species("Lolium perenne")}) == 1


def test_wear_and_shade_are_told_in_one_place_only() -> None:
    """Their orders are published, and stand with their sources among the numbers of choosing."""
    assert not {"wear", "shade"} & set(TRAITS)
    for species in sown_species():
        for of in ("wear", "shade"):
            assert f"suits.{of}.{species.model_name}" in parameters()
    assert "wet" in find_species("Poa trivialis").notes


@pytest.mark.parametrize(
    ("name", "salt"),
    [
        ("perennial ryegrass", "sensitive"),
        ("browntop bent", "sensitive"),
        ("chewings fescue", "moderately sensitive"),
        ("creeping bent", "moderately sensitive"),
        ("smooth-stalked meadow-grass", "moderately sensitive"),
        ("strong creeping red fescue", "moderately tolerant"),
        ("hard fescue", "moderately tolerant"),
        ("tall fescue", "moderately tolerant"),
    ],
)
def test_salt_classes_are_those_of_the_published_table(name: str, salt: str) -> None:
    assert find_species(name).salt == salt
