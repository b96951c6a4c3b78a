"""Rates and plants come as ranges, by how the seed is put down."""

import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.handbook.parameters import parameter
from swardbook.seed import (
    LotPart,
    Method,
    by_number,
    establishment,
    expected_plants,
    read_method,
    read_rate,
    sowing_rate,
    usual_rate,
)

GREENS = [LotPart("chewings fescue", 0.8), LotPart("browntop bent", 0.2)]


@pytest.mark.parametrize("method", Method)
def test_plants_are_a_range_that_shows_as_judged(method: Method) -> None:
    plants = expected_plants(20_000, method)
    assert 0 < plants.low < plants.middle < plants.high < 20_000
    assert establishment(method).is_judged
    assert method.value in plants.reason


def test_a_seedbed_gives_more_plants_than_a_sward() -> None:
    middles = [expected_plants(20_000, method).middle for method in Method]
    assert middles == sorted(middles, reverse=True)


def test_the_farm_figure_lies_below_what_a_seedbed_is_given() -> None:
    assert parameter("seed_establishment_farm_spring").value < establishment(Method.SEEDBED).low


@pytest.mark.parametrize(
    ("parts", "rate", "low", "high"),
    [
        (GREENS, 25, 25, 30),
        ([LotPart("perennial ryegrass", 1.0)], 35, 25, 40),
        ([LotPart("browntop bent", 1.0)], 8, 6, 10),
        ([LotPart("tall fescue", 1.0)], 40, 30, 45),
        ([LotPart("smooth-stalked meadow-grass", 1.0)], 13, 10, 15),
        ([LotPart("chewings fescue", 1.0)], 30, 25, 35),
    ],
)
def test_the_usual_rate_goes_by_what_is_sown(
    parts: list[LotPart], rate: float, low: float, high: float
) -> None:
    usual = usual_rate(parts)
    assert (usual.middle, usual.low, usual.high) == (rate, low, high)
    assert usual.reason


def test_oversowing_takes_half_to_two_thirds() -> None:
    new, over = usual_rate(GREENS), usual_rate(GREENS, Method.SLIT)
    assert over.low == pytest.approx(new.low / 2)
    assert over.high == pytest.approx(new.high * 2 / 3)
    assert over.low <= over.middle <= over.high
    assert "living sward" in over.reason


def test_what_is_not_named_does_not_thin_the_rate() -> None:
    assert usual_rate([LotPart("perennial ryegrass", 0.97), LotPart("others", 0.03)]).middle == 35


def test_the_rate_for_plants_gives_those_plants_back() -> None:
    mixture = by_number(GREENS)
    rate = sowing_rate(16_000, mixture, Method.SEEDBED)
    back = expected_plants(rate.middle * mixture.viable_seeds_per_g, Method.SEEDBED)
    assert back.middle == pytest.approx(16_000)
    assert rate.low < rate.middle < rate.high


def test_dead_seed_has_no_rate() -> None:
    dead = by_number([LotPart("browntop bent", 1.0, germination=0.0)])
    with pytest.raises(OutOfRangeError, match="viable seeds"):
        sowing_rate(16_000, dead, Method.SEEDBED)


@pytest.mark.parametrize(
    ("text", "rate"), [("35", 35), ("35 g/m²", 35), ("1 oz/yd2", 33.906), ("5 lb/1000ft2", 24.41)]
)
def test_a_rate_is_read_in_any_unit_of_the_trade(text: str, rate: float) -> None:
    assert read_rate(text) == pytest.approx(rate, abs=0.01)


def test_f01_35_ounces_a_square_yard_is_asked_about() -> None:
    with pytest.raises(BadInputError, match=r"1,187 g/m2. Did you mean 35 g/m2\?"):
        read_rate("35 oz/yd2")


@pytest.mark.parametrize("text", ["0", "-5", "1000"])
def test_a_rate_beyond_use_is_refused(text: str) -> None:
    with pytest.raises(BadInputError, match="the rate"):
        read_rate(text)


def test_a_method_is_read_case_blind_or_refused() -> None:
    assert read_method("Broadcast on  Scarified") is Method.SCARIFIED
    with pytest.raises(UnknownNameError, match="sowing method"):
        read_method("aeroplane")
