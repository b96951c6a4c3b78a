"""Seventy-four of a hundred is 74 %, 65 to 82."""

import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.seed import TEST, LotPart, as_tested, by_number, read_test

BOBBIN = (
    LotPart("chewings fescue", 0.4, purity=0.97, germination=0.82),
    LotPart("slender creeping red fescue", 0.4, purity=0.97, germination=0.82),
    LotPart("browntop bent", 0.2, purity=0.97, germination=0.85),
)


def test_74_of_100() -> None:
    found = read_test(74, 100)
    assert found.share == 0.74
    assert (round(100 * found.low), round(100 * found.high)) == (65, 82)


def test_fewer_seeds_are_less_sure() -> None:
    few, many = read_test(15, 20), read_test(75, 100)
    assert few.high - few.low > many.high - many.low


@pytest.mark.parametrize(("up", "seeds"), [(101, 100), (-1, 100), (0, 0)])
def test_a_test_that_cannot_be_is_refused(up: int, seeds: int) -> None:
    with pytest.raises(BadInputError, match="seeds up, of seeds set"):
        read_test(up, seeds)


@pytest.mark.parametrize("up", [0, 3, 74, 84, 93, 100])
def test_all_parts_together_come_up_as_the_test_did(up: int) -> None:
    mixture = by_number(BOBBIN, read_test(up, 100))
    pure = sum(part.seeds_per_g * 0.97 for part in mixture.parts)
    assert mixture.viable_seeds_per_g == pytest.approx(pure * up / 100)
    shares = [part.component.germination.value for part in mixture.parts]
    assert all(0 <= share <= 1 for share in shares)
    assert shares == sorted(shares)


def test_the_range_of_the_test_is_the_range_of_what_can_come_up() -> None:
    test = read_test(74, 100)
    mixture = by_number(BOBBIN, test)
    low, high = mixture.viable_range
    assert low / mixture.viable_seeds_per_g == pytest.approx(test.low / test.share)
    assert high / mixture.viable_seeds_per_g == pytest.approx(test.high / test.share)
    label = by_number(BOBBIN)
    assert label.viable_range == pytest.approx((label.viable_seeds_per_g,) * 2)


def test_a_number_by_a_test_says_that_it_is_one() -> None:
    tested, label = by_number(BOBBIN, read_test(74, 100)), by_number(BOBBIN)
    assert (tested.is_tested, label.is_tested) == (True, False)
    assert {part.component.germination.source for part in tested.parts} == {TEST}
    assert {part.component.purity.source for part in tested.parts} == {"label"}


def test_a_label_as_tested_has_as_much_live_seed_and_keeps_what_is_not_named() -> None:
    parts = (*BOBBIN[:2], LotPart("browntop bent", 0.15, purity=0.97), LotPart("others", 0.05))
    test = read_test(74, 100)
    tested = as_tested(parts, test)
    assert [each.share_by_weight for each in tested] == [0.4, 0.4, 0.15, 0.05]
    assert tested[-1] == parts[-1]
    assert by_number(tested).viable_seeds_per_g == pytest.approx(
        by_number(parts, test).viable_seeds_per_g
    )
    assert as_tested(parts, None) == parts
