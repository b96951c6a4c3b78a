"""What to buy: sown, spared of the same lot, whole bags, and what it costs."""

from decimal import Decimal

import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.seed import seed_order
from tests.support.seed import COST_PER_M2, MIXTURES


def test_240_square_metres_at_25_grams() -> None:
    found = seed_order(240, 25)
    assert found.sown_g == 6000
    assert found.needed_g == pytest.approx(6900)
    assert found.bags is None


def test_bags_are_whole_and_enough() -> None:
    found = seed_order(240, 25, bag_g=5000)
    assert (found.bags, found.bought_g) == (2, 10_000)


def test_a_need_that_fits_the_bags_exactly_takes_no_bag_more() -> None:
    assert seed_order(100, 30, spare=0.1, bag_g=1100).bags == 3


@pytest.mark.parametrize("name", MIXTURES)
def test_the_cost_of_each_mixture_a_square_metre(name: str) -> None:
    _, rate, *_, price = MIXTURES[name]
    found = seed_order(3.0, rate, price_per_kg=Decimal(str(price)))
    assert str(found.per_m2) == COST_PER_M2[name]


def test_the_total_is_for_what_is_bought() -> None:
    found = seed_order(240, 25, bag_g=10_000, price_per_kg=Decimal("9.40"))
    assert found.total == Decimal("94.00")


@pytest.mark.parametrize(
    ("area", "rate", "spare", "bag"),
    [(0, 25, 0.15, None), (240, 0, 0.15, None), (240, 25, 15, None), (240, 25, 0.15, 0)],
)
def test_an_order_without_meaning_is_refused(
    area: float, rate: float, spare: float, bag: float | None
) -> None:
    with pytest.raises(OutOfRangeError):
        seed_order(area, rate, spare, bag)
