"""Each component against height, light, wear, drought and salt; nothing is added up into a mark."""

import pytest

from swardbook.foundation.provenance import Grade
from swardbook.handbook.mixtures import mixture_kinds
from swardbook.handbook.species import find_species, sown_species
from swardbook.seed.lot import LotPart
from swardbook.seed.suiting import Fits, Place, judge, months_to_use, tolerance, weigh_suits
from tests.support.seed import parts_of

COURT = Place("court or green", 8.0, sun_hours=7.0, is_watered=True)


def kind(name: str) -> tuple[LotPart, ...]:
    return tuple(LotPart(part, share) for part, share in mixture_kinds()[name].shares)


def fits(species: str, place: Place, criterion: str) -> Fits:
    found = {each.criterion: each for each in judge(find_species(species), place)}
    return found[criterion].fits


def test_every_sown_species_has_a_place_in_both_orders() -> None:
    for species in sown_species():
        for order in ("wear", "shade"):
            assert tolerance(species, order) is not None, species.key


def test_tall_fescue_on_a_court_does_not_last_and_is_not_listed() -> None:
    found = weigh_suits(parts_of("Haystack"), COURT)
    assert found.components[0].of("height of cut").fits is Fits.NOT
    assert not found.may_be_listed


def test_fescue_and_bent_suit_a_court() -> None:
    found = weigh_suits(parts_of("Bobbin"), COURT)
    assert found.may_be_listed
    assert found.misfit < weigh_suits(parts_of("Gatepost"), COURT).misfit


def test_pure_ryegrass_at_court_height_does_not_last() -> None:
    found = weigh_suits(parts_of("Gatepost"), COURT)
    assert found.components[0].of("height of cut").fits is Fits.NOT
    assert "8 mm" in found.components[0].of("height of cut").because


def test_what_cannot_be_undone_is_said_and_keeps_a_mixture_off_the_list() -> None:
    fine = Place("court or green", 12.0, 7.0, True, stands=frozenset({"fine fescue", "bent"}))
    found = weigh_suits(parts_of("Pocketwatch"), fine)
    assert found.cannot_be_undone == (
        "Perennial ryegrass into fine turf cannot be taken out again.",
    )
    assert not found.may_be_listed
    bent = weigh_suits([LotPart("creeping bent", 1.0)], COURT)
    assert "runners" in bent.cannot_be_undone[0]


def test_ryegrass_into_ryegrass_is_nothing_new() -> None:
    mixed = Place("family lawn", 30.0, 7.0, True, stands=frozenset({"ryegrass", "fine fescue"}))
    assert weigh_suits(parts_of("Gatepost"), mixed).cannot_be_undone == ()


def test_shade_is_asked_only_where_the_sun_is_short() -> None:
    sunny, deep = Place("ornamental", 35.0, 6.0), Place("ornamental", 35.0, 2.0)
    assert fits("perennial ryegrass", sunny, "shade") is Fits.NOT_ASKED
    assert fits("perennial ryegrass", deep, "shade") is Fits.NOT
    assert fits("chewings fescue", deep, "shade") is Fits.WELL
    assert fits("chewings fescue", Place("ornamental", 35.0), "shade") is Fits.UNKNOWN


def test_what_is_not_known_is_never_taken_for_met() -> None:
    assert fits("browntop bent", Place("play", 20.0, 7.0), "drought") is Fits.UNKNOWN
    assert fits("sheep's fescue", Place("play", 20.0, salt_ds_m=4.0), "salt") is Fits.UNKNOWN


@pytest.mark.parametrize(
    ("species", "expected"),
    [("browntop bent", Fits.NOT), ("chewings fescue", Fits.STRAINED), ("tall fescue", Fits.WELL)],
)
def test_salt_is_held_against_the_class(species: str, expected: Fits) -> None:
    assert fits(species, Place("play", 30.0, salt_ds_m=5.0), "salt") is expected


def test_meadow_grass_wants_a_year_and_ryegrass_carries_it_over() -> None:
    hurried = Place("play", 25.0, 7.0, True, patience_months=4.0)
    meadow = weigh_suits([LotPart("smooth-stalked meadow-grass", 1.0)], hurried)
    assert meadow.in_time is Fits.NOT
    assert not meadow.may_be_listed
    assert (
        weigh_suits(kind("ryegrass and smooth-stalked meadow-grass"), hurried).in_time is Fits.WELL
    )
    assert months_to_use(find_species("smooth-stalked meadow-grass")).grade is Grade.PUBLISHED


def test_shares_by_number_are_of_seeds_that_can_come_up() -> None:
    found = weigh_suits(parts_of("Bobbin"), COURT)
    assert sum(each.share_by_number for each in found.components) == pytest.approx(1)
    bent = next(each for each in found.components if each.species == "browntop bent")
    assert bent.share_by_number > 3 * bent.share_by_weight
    assert found.share(Fits.WELL) + found.share(Fits.STRAINED) == pytest.approx(1)
