"""Pure live seed by hand."""

import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.seed import bulk_for, price_of_pure_live, pure_live_share


def test_bulk_times_share_gives_the_seed_back() -> None:
    assert bulk_for(500, 0.97, 0.82) * pure_live_share(0.97, 0.82) == pytest.approx(500)


def test_poor_seed_costs_more() -> None:
    assert price_of_pure_live(9.4, 0.9, 0.6) > price_of_pure_live(9.4, 0.9, 0.8)


def test_percent_where_a_fraction_belongs_is_refused_with_the_slip() -> None:
    with pytest.raises(OutOfRangeError, match=r"0\.85, not 85"):
        pure_live_share(0.97, 85)


def test_dead_seed_has_no_bulk() -> None:
    with pytest.raises(OutOfRangeError, match="Dead seed"):
        bulk_for(500, 0.97, 0)
