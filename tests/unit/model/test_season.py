"""The reference run: every day adds up, or the run stops and says by how much."""

from datetime import date

import numpy as np
import pytest

from swardbook.foundation.errors import BalanceError
from swardbook.model.day import step
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.rows import flatten
from swardbook.model.season import CLOSES_TO, require_closed, run_reference
from tests.support.model import busy, county_drivers, ensemble, kept


def test_seeds_plants_water_and_cover_close_every_day_of_two_busy_years() -> None:
    drivers = county_drivers(date(2010, 9, 1), date(2012, 8, 31))
    state, parameters = ensemble(16)
    run = run_reference(state, parameters, drivers, busy(drivers), check=True, every=30)
    assert max(run.worst) < CLOSES_TO
    covered = sum(c.cover for c in run.final.sown) + sum(c.cover for c in run.final.weeds)
    np.testing.assert_allclose(covered + run.final.zone.gap, 1.0, atol=1e-9)


def test_no_state_falls_below_nothing_but_temperature() -> None:
    drivers = county_drivers(date(2010, 9, 1), date(2011, 8, 31))
    state, parameters = ensemble(16)
    final = run_reference(state, parameters, drivers, busy(drivers), every=400).final
    final = final._replace(zone=final.zone._replace(soil_temperature=np.zeros(16)))
    assert min(float(np.min(each)) for each in flatten(final)) >= -1e-15


def test_a_run_that_does_not_close_stops_and_says_by_how_much() -> None:
    with pytest.raises(BalanceError, match=r"seeds of day 3 .* off by 0\.5"):
        require_closed(np.array([0.5, 0, 0, 0]), 1e-9, "day 3")


def test_a_state_that_is_no_number_stops_the_run() -> None:
    drivers = county_drivers(date(2010, 9, 1), date(2010, 9, 5))
    state, parameters = ensemble(2)
    zone = state.zone._replace(root_water=np.array([1.0, np.nan]))
    with pytest.raises(BalanceError):
        run_reference(state._replace(zone=zone), parameters, drivers, kept(drivers))


def test_yesterday_alone_decides_the_rates_so_a_day_does_not_depend_on_the_order_of_draws() -> None:
    drivers = county_drivers(date(2010, 9, 1), date(2010, 9, 1))
    state, parameters = ensemble(8)
    day = Drivers(*(series[0] for series in drivers))
    work = Operations(*(series[0] for series in busy(drivers)))
    evening, _ = step(state, parameters, day, work)
    from swardbook.model.parameter_sets import Parameters
    from swardbook.model.rows import unflatten
    from swardbook.model.state import SwardState

    back = unflatten(SwardState, [each[::-1] for each in flatten(state)])
    constants = unflatten(Parameters, [np.broadcast_to(p, 8)[::-1] for p in flatten(parameters)])
    turned, _ = step(back, constants, day, work)
    for one, other in zip(flatten(evening), flatten(turned), strict=True):
        np.testing.assert_array_equal(one, np.broadcast_to(other, 8)[::-1])
