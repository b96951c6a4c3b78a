"""Laws of seed arithmetic that hold for any mixture."""

from math import fsum

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.handbook.species import sown_species
from swardbook.seed import (
    LotPart,
    Method,
    bulk_for,
    by_number,
    expected_plants,
    pure_live_share,
    sowing_rate,
    weed_seeds,
)
from swardbook.seed.mixture import blend

NAMES = sorted(species.key for species in sown_species())
shares = st.floats(0.01, 1.0)


@st.composite
def mixtures(draw: st.DrawFn) -> tuple[LotPart, ...]:
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=5, unique=True))
    weights = [draw(shares) for _ in names]
    whole = fsum(weights)
    return tuple(
        LotPart(
            name, weight / whole, "", draw(st.none() | st.floats(0.5, 1)),
            draw(st.none() | st.floats(0.5, 1)),
        )
        for name, weight in zip(names, weights, strict=True)
    )  # fmt: skip


@given(mixtures())
@settings(max_examples=60, deadline=None)
def test_shares_by_number_sum_to_one_and_lie_in_their_ranges(parts: tuple[LotPart, ...]) -> None:
    found = by_number(parts)
    assert fsum(part.share_by_number for part in found.parts) == pytest.approx(1, abs=1e-12)
    assert fsum(part.share_of_viable for part in found.parts) == pytest.approx(1, abs=1e-12)
    for part in found.parts:
        assert -1e-12 <= part.share_low <= part.share_by_number + 1e-12
        assert part.share_by_number <= part.share_high + 1e-12 <= 1 + 2e-12
        assert part.viable_seeds_per_g <= part.seeds_per_g


@given(mixtures())
@settings(max_examples=40, deadline=None)
def test_the_order_of_parts_does_not_matter(parts: tuple[LotPart, ...]) -> None:
    assert by_number(parts).seeds_per_g == by_number(parts[::-1]).seeds_per_g
    assert by_number(parts).viable_seeds_per_g == by_number(parts[::-1]).viable_seeds_per_g


@given(st.lists(st.tuples(mixtures(), st.floats(1, 5000)), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_the_order_of_blending_does_not_matter(
    lots: list[tuple[tuple[LotPart, ...], float]],
) -> None:
    once, other_way = blend(lots), blend(lots[::-1])
    assert once == other_way
    assert fsum(part.share_by_weight for part in once) == pytest.approx(1, abs=1e-9)


@given(mixtures(), st.floats(1, 5000), st.floats(1, 5000))
@settings(max_examples=40, deadline=None)
def test_blending_a_lot_with_itself_changes_no_seed(
    parts: tuple[LotPart, ...], one: float, other: float
) -> None:
    assert by_number(blend([(parts, one), (parts, other)])).seeds_per_g == pytest.approx(
        by_number(parts).seeds_per_g
    )


@given(mixtures(), st.floats(1, 100_000), st.sampled_from(Method))
@settings(max_examples=40, deadline=None)
def test_rate_and_plants_are_each_others_way_back(
    parts: tuple[LotPart, ...], wanted: float, method: Method
) -> None:
    mixture = by_number(parts)
    rate = sowing_rate(wanted, mixture, method)
    assert expected_plants(rate.middle * mixture.viable_seeds_per_g, method).middle == (
        pytest.approx(wanted)
    )
    assert expected_plants(rate.high * mixture.viable_seeds_per_g, method).low == (
        pytest.approx(wanted)
    )


@given(st.floats(0.01, 1), st.floats(0.01, 1), st.floats(0.1, 1e5))
def test_bulk_and_pure_live_are_each_others_way_back(
    purity: float, germination: float, grams: float
) -> None:
    assert bulk_for(grams, purity, germination) * pure_live_share(purity, germination) == (
        pytest.approx(grams)
    )


@given(mixtures(), st.floats(1, 50))
@settings(max_examples=40, deadline=None)
def test_weed_seeds_grow_with_the_rate(parts: tuple[LotPart, ...], rate: float) -> None:
    for once, twice in zip(weed_seeds(parts, rate), weed_seeds(parts, 2 * rate), strict=True):
        assert twice.seeds_m2 == pytest.approx(2 * once.seeds_m2)
