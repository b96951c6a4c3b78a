"""A height of cut is weighed against each component; too low is a caution, too high a note."""

import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.seed import LotPart, weigh_comfort
from tests.support.seed import parts_of


def test_n06_a_height_below_a_component_names_it() -> None:
    found = weigh_comfort([LotPart("strong creeping red fescue", 0.5), LotPart("PRG", 0.5)], 8)
    assert [part.species for part in found.below] == [
        "strong creeping red fescue",
        "perennial ryegrass",
    ]


def test_t3_haystack_at_10_mm_is_strained_by_its_tall_fescue() -> None:
    found = weigh_comfort(parts_of("Haystack"), 10)
    assert found.below[0].species == "tall fescue"
    assert found.strain_mm == pytest.approx(0.85 * 15 + 0.15 * 2)


def test_bobbin_lives_with_the_court_height() -> None:
    found = weigh_comfort(parts_of("Bobbin"), 8)
    assert found.below == ()
    assert found.strain_mm == 0


def test_above_the_range_is_no_caution() -> None:
    found = weigh_comfort(parts_of("Thimble"), 40)
    assert found.below == ()
    assert found.strain_mm == 0
    assert [part.species for part in found.above] == ["browntop bent"]


@pytest.mark.parametrize(("height", "expected"), [(8, True), (10, True), (12, False)])
def test_pure_ryegrass_cut_close_will_not_last(height: float, expected: bool) -> None:
    assert weigh_comfort(parts_of("Gatepost"), height).will_not_last is expected


def test_ryegrass_in_a_mixture_is_not_called_pure() -> None:
    assert not weigh_comfort(parts_of("Pocketwatch"), 8).will_not_last


def test_the_caution_weighs_share_times_millimetres() -> None:
    small = [LotPart("tall fescue", 0.05), LotPart("chewings fescue", 0.95)]
    large = [LotPart("tall fescue", 0.95), LotPart("chewings fescue", 0.05)]
    assert weigh_comfort(large, 10).strain_mm == pytest.approx(
        19 * weigh_comfort(small, 10).strain_mm
    )


def test_a_height_that_is_none_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"0\.3 in is 7\.6 mm"):
        weigh_comfort(parts_of("Bobbin"), 0.3)
