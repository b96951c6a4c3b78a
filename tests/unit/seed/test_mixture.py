"""A mixture is told by weight and by number, and nothing is rescaled in silence."""

import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.foundation.provenance import Grade
from swardbook.seed import OTHERS, LotPart, blend, by_number, fill_in
from tests.support.seed import MIXTURES, parts_of


@pytest.mark.parametrize("name", MIXTURES)
def test_viable_seeds_and_the_largest_share_of_each_mixture(name: str) -> None:
    _, rate, viable, largest, percent, _ = MIXTURES[name]
    found = by_number(parts_of(name))
    assert rate * found.viable_seeds_per_g == pytest.approx(viable, rel=0.005)
    assert found.largest.component.species == largest
    assert round(100 * found.largest.share_of_viable) == percent


def test_bobbin_to_the_seed() -> None:
    found = by_number(parts_of("Bobbin"))
    assert [round(30 * part.viable_seeds_per_g) for part in found.parts] == [9545, 9545, 70671]
    assert round(30 * found.viable_seeds_per_g) == 89761


def test_eighty_twenty_at_25_grams_is_mostly_bent() -> None:
    found = by_number(
        [
            LotPart("chewings fescue", 0.8, "", 0.97, 0.82, 1.0),
            LotPart("browntop bent", 0.2, "", 0.97, 0.85, 0.07),
        ]
    )
    fescue, bent = found.parts
    assert 25 * fescue.seeds_per_g == pytest.approx(20_000)
    assert 25 * bent.seeds_per_g == pytest.approx(71_429, abs=1)
    assert round(100 * bent.share_by_number) == 78
    assert 25 * found.viable_seeds_per_g == pytest.approx(75_000, rel=0.005)


def test_the_share_by_number_is_of_all_seeds_and_not_of_viable_ones() -> None:
    found = by_number(
        [
            LotPart("chewings fescue", 0.5, germination=0.1),
            LotPart("hard fescue", 0.5, germination=0.9),
        ]
    )
    assert found.parts[0].share_by_number == pytest.approx(
        (1 / 0.89) / (1 / 0.89 + 1 / 0.926), rel=1e-9
    )
    assert found.parts[0].share_of_viable < 0.2


def test_what_the_label_does_not_say_is_the_statutory_minimum() -> None:
    filled = fill_in(LotPart("Agrostis capillaris", 1.0))
    assert filled.species == "browntop bent"
    assert (filled.purity.value, filled.germination.value) == (0.90, 0.75)
    assert filled.purity.source == "seed_annex_2016"
    assert filled.thousand_seed_weight.value == 0.075


def test_where_no_minimum_applies_the_figure_is_marked_as_judged() -> None:
    filled = fill_in(LotPart("tufted hair-grass", 1.0))
    assert filled.purity.grade is Grade.JUDGED
    assert filled.germination.grade is Grade.JUDGED


def test_f03_97_percent_offers_others_and_is_not_rescaled() -> None:
    parts = [LotPart("chewings fescue", 0.77), LotPart("browntop bent", 0.20)]
    with pytest.raises(BadInputError) as refusal:
        by_number(parts)
    assert "These add to 97. Keep as 'others 3 %', or change one?" in str(refusal.value)


def test_f03_110_percent_asks_for_a_change_and_offers_no_others() -> None:
    parts = [LotPart("chewings fescue", 0.90), LotPart("browntop bent", 0.20)]
    with pytest.raises(BadInputError) as refusal:
        by_number(parts)
    assert "These add to 110. Change one?" in str(refusal.value)
    assert "others" not in str(refusal.value)


def test_others_take_weight_and_give_no_seeds() -> None:
    named = [LotPart("chewings fescue", 0.77), LotPart("browntop bent", 0.20)]
    found = by_number([*named, LotPart(OTHERS, 0.03)])
    assert found.others_by_weight == 0.03
    assert found.seeds_per_g == pytest.approx(770 / 0.89 + 200 / 0.075)
    assert sum(part.share_by_number for part in found.parts) == pytest.approx(1)


def test_thirds_as_printed_are_rounding_and_stay_as_printed() -> None:
    found = by_number(
        [LotPart(n, 0.333) for n in ("chewings fescue", "hard fescue", "browntop bent")]
    )
    assert [part.component.share_by_weight for part in found.parts] == [0.333] * 3


def test_a_mixture_of_nothing_named_is_refused() -> None:
    with pytest.raises(BadInputError, match="at least one named component"):
        by_number([LotPart(OTHERS, 1.0)])


def test_an_unknown_grass_offers_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="browntop"):
        by_number([LotPart("browntip bent", 1.0)])


def test_the_range_brackets_the_share() -> None:
    found = by_number([LotPart("chewings fescue", 0.8), LotPart("browntop bent", 0.2)])
    for part in found.parts:
        assert part.share_low < part.share_by_number < part.share_high
    assert found.seeds_per_g_low < found.seeds_per_g < found.seeds_per_g_high


def test_a_blend_weighs_each_label_by_what_was_taken() -> None:
    one = [LotPart("chewings fescue", 0.8), LotPart("browntop bent", 0.2)]
    other = [LotPart("perennial ryegrass", 1.0)]
    shares = {part.species: part.share_by_weight for part in blend([(one, 3000), (other, 1000)])}
    assert shares == pytest.approx(
        {"chewings fescue": 0.6, "browntop bent": 0.15, "perennial ryegrass": 0.25}
    )


def test_lots_with_different_germination_stay_apart_in_a_blend() -> None:
    old = [LotPart("browntop bent", 1.0, germination=0.6)]
    new = [LotPart("browntop bent", 1.0, germination=0.9)]
    assert len(blend([(old, 1), (new, 1)])) == 2


@pytest.mark.parametrize("lots", [[], [([LotPart("browntop bent", 1.0)], 0.0)]])
def test_a_blend_of_nothing_is_refused(lots: list[tuple[list[LotPart], float]]) -> None:
    with pytest.raises(OutOfRangeError, match="weight in all"):
        blend(lots)
