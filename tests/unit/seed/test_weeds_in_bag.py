"""A bag may bring weed grasses: so many at most, by whose limit, and for which components."""

import pytest

from swardbook.seed import LotPart, Standard, WeedSeeds, weed_seeds

RYE = [LotPart("perennial ryegrass", 1.0)]


def one(weed: str, parts: list[LotPart], rate: float, standard: Standard) -> WeedSeeds:
    return next(each for each in weed_seeds(parts, rate, standard) if each.species == weed)


def test_ryegrass_to_the_higher_voluntary_standard() -> None:
    found = one("annual meadow-grass", RYE, 35, Standard.VOLUNTARY)
    assert found.seeds_m2 == pytest.approx(467, rel=0.01)
    assert found.standard is Standard.VOLUNTARY


def test_the_statutory_limit_lets_in_more_and_says_whose_it_is() -> None:
    found = one("annual meadow-grass", RYE, 35, Standard.STATUTORY)
    assert found.seeds_m2 == pytest.approx(35 * 0.01 / 0.0003)
    assert found.standard is Standard.STATUTORY


def test_a_bent_has_no_voluntary_limit_so_the_mixture_is_held_to_the_statutory_one() -> None:
    parts = [LotPart("chewings fescue", 0.8), LotPart("browntop bent", 0.2)]
    found = one("annual meadow-grass", parts, 25, Standard.VOLUNTARY)
    assert found.standard is Standard.STATUTORY
    assert [limit.standard for limit in found.limits] == [Standard.VOLUNTARY, Standard.STATUTORY]
    assert found.seeds_m2 == pytest.approx((20 * 0.005 + 5 * 0.01) / 0.0003)


def test_a_component_without_any_limit_is_named_and_not_counted_as_clean() -> None:
    parts = [LotPart("chewings fescue", 0.9), LotPart("tufted hair-grass", 0.1)]
    found = one("annual meadow-grass", parts, 25, Standard.STATUTORY)
    assert found.without_limit == ("tufted hair-grass",)


def test_where_nothing_has_a_limit_nothing_is_claimed() -> None:
    assert weed_seeds([LotPart("tufted hair-grass", 1.0)], 10) == ()


def test_what_is_sown_on_purpose_is_no_weed() -> None:
    parts = [LotPart("rough-stalked meadow-grass", 1.0)]
    assert "rough-stalked meadow-grass" not in {each.species for each in weed_seeds(parts, 5)}


def test_couch_is_told_only_where_a_number_of_seeds_is_set() -> None:
    assert one("couch", RYE, 35, Standard.VOLUNTARY).seeds_m2 == pytest.approx(35 * 10 / 60)
    assert "couch" not in {each.species for each in weed_seeds(RYE, 35, Standard.STATUTORY)}


def test_twice_the_rate_brings_twice_the_weeds() -> None:
    low, high = (one("yorkshire fog", RYE, rate, Standard.STATUTORY) for rate in (20, 40))
    assert high.seeds_m2 == pytest.approx(2 * low.seeds_m2)
