"""The compiled ensemble: the reference again, faster, with the same bits however it is shared."""

from datetime import date

import numpy as np
import pytest

from swardbook.foundation.errors import BalanceError, OutOfRangeError
from swardbook.model.drivers import stack_drivers
from swardbook.model.ensemble import CLOSES_TO, Outcome, run
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.operations import stack_operations
from swardbook.model.rows import flatten, output_names, rows_of
from swardbook.model.season import run_reference
from swardbook.model.start import Start
from swardbook.model.state import SwardState
from tests.support.model import FOG, POA, busy, county_drivers, ensemble, kept, kernel

FIRST, LAST = date(2010, 9, 1), date(2011, 8, 31)


def bits(outcome: Outcome) -> bytes:
    final = b"".join(np.asarray(each).tobytes() for each in flatten(outcome.final))
    return final + b"".join(each.tobytes() for each in outcome.outputs.values())


def test_after_five_years_it_is_within_a_thousandth_of_each_range_of_the_reference() -> None:
    drivers = county_drivers(date(2010, 9, 1), date(2015, 8, 31))
    state, parameters = ensemble(64)
    work = busy(drivers)
    exact = run_reference(state, parameters, drivers, work, every=7)
    fast = run(state, parameters, drivers, work, kernel=kernel())
    for name, row in zip(output_names(), flatten(exact.outputs), strict=True):
        reach = max(float(np.ptp(row)), 1e-9)
        assert np.max(np.abs(fast.outputs[name] - row)) < 1e-3 * reach, name
    for row, slow, quick in zip(
        rows_of(SwardState), flatten(exact.final), flatten(fast.final), strict=True
    ):
        reach = max(float(np.max(np.abs(slow))), 1e-9)
        assert np.max(np.abs(slow - quick)) < 1e-3 * reach, row.name
    assert max(fast.worst) < CLOSES_TO


@pytest.mark.long
@pytest.mark.parametrize("more", [1, 2])
def test_a_zone_with_more_weed_grasses_runs_the_same_equations_on_all(more: int) -> None:
    drivers = county_drivers(date(2010, 9, 1), date(2012, 8, 31))
    state, parameters = ensemble(64, Start(bare=0.1, weeds={POA: 0.05, FOG: 0.02}))
    state = state._replace(weeds=(*state.weeds, *state.weeds[:more]))
    bare = state.zone.gap - sum(weed.cover for weed in state.weeds[2:])
    state = state._replace(zone=state.zone._replace(gap=bare))
    parameters = parameters._replace(weeds=(*parameters.weeds, *parameters.weeds[:more]))
    names = (POA, FOG, "a_third", "a_fourth")[: 2 + more]
    work = busy(drivers)
    exact = run_reference(state, parameters, drivers, work, every=7)
    fast = run(state, parameters, drivers, work, kernel=kernel(), weeds=names,
               outputs=output_names(names))  # fmt: skip
    for name, row in zip(output_names(names), flatten(exact.outputs), strict=True):
        reach = max(float(np.ptp(row)), 1e-9)
        assert np.max(np.abs(fast.outputs[name] - row)) < 1e-3 * reach, name
    np.testing.assert_array_equal(fast.outputs["a_third"], fast.outputs[POA])
    assert max(fast.worst) < CLOSES_TO
    assert fast.totals["a_third.returned"][0] > 0


@pytest.mark.parametrize(("threads", "chunk"), [(2, None), (1, 1), (2, 3), (3, 7)])
def test_threads_and_chunks_change_no_bit(threads: int, chunk: int | None) -> None:
    drivers = county_drivers(FIRST, LAST)
    state, parameters = ensemble(700)
    work = busy(drivers)
    plain = run(state, parameters, drivers, work, kernel=kernel())
    shared = run(state, parameters, drivers, work, kernel=kernel(), threads=threads, chunk=chunk)
    assert bits(plain) == bits(shared)


def test_the_first_draws_of_a_longer_ensemble_are_those_of_a_shorter_one() -> None:
    drivers = county_drivers(FIRST, date(2010, 12, 31))
    short = run(*ensemble(100), drivers, kept(drivers), kernel=kernel())
    long = run(*ensemble(300), drivers, kept(drivers), kernel=kernel())
    np.testing.assert_array_equal(short.outputs["sown"], long.outputs["sown"][:, :100])


def test_a_run_taken_up_again_has_the_bits_of_one_long_run() -> None:
    drivers = county_drivers(FIRST, LAST)
    state, parameters = ensemble(64)
    work = busy(drivers)
    whole = run(state, parameters, drivers, work, kernel=kernel())

    def part(days: slice) -> tuple[Drivers, Operations]:
        return Drivers(*(each[days] for each in drivers)), Operations(
            *(each[days] for each in work)
        )

    first = run(state, parameters, *part(slice(0, 140)), kernel=kernel())
    second = run(first.final, parameters, *part(slice(140, None)), kernel=kernel())
    for one, other in zip(flatten(whole.final), flatten(second.final), strict=True):
        np.testing.assert_array_equal(one, other)


def test_each_block_takes_the_weather_and_the_work_chosen_for_it() -> None:
    first = county_drivers(date(2010, 3, 1), date(2010, 8, 31))
    second = county_drivers(date(2012, 3, 1), date(2012, 8, 31))
    state, parameters = ensemble(128)
    cut, left = kept(first), kept(first, every=400)
    both = run(
        state, parameters, stack_drivers([first, second]), stack_operations([cut, left]),
        kernel=kernel(), weather_of_block=[1, 0], operations_of_block=[0, 1],
    )  # fmt: skip
    one = run(state, parameters, second, cut, kernel=kernel())
    other = run(state, parameters, first, left, kernel=kernel())
    np.testing.assert_array_equal(both.outputs["height"][:, :64], one.outputs["height"][:, :64])
    np.testing.assert_array_equal(both.outputs["height"][:, 64:], other.outputs["height"][:, 64:])


def test_a_choice_of_weather_that_is_not_there_is_refused() -> None:
    drivers = county_drivers(FIRST, LAST)
    with pytest.raises(OutOfRangeError, match="weather of each block"):
        run(*ensemble(64), drivers, kept(drivers), kernel=kernel(), weather_of_block=[1])


def test_only_the_outputs_asked_for_are_kept_and_the_last_evening_is_among_them() -> None:
    drivers = county_drivers(FIRST, date(2010, 9, 17))
    outcome = run(*ensemble(64), drivers, kept(drivers), kernel=kernel(), outputs=["bare"])
    assert list(outcome.outputs) == ["bare"]
    assert outcome.days.tolist() == [7, 14, 17]
    np.testing.assert_allclose(outcome.outputs["bare"][-1], outcome.final.zone.gap)


def test_a_run_that_does_not_close_is_stopped() -> None:
    drivers = county_drivers(FIRST, LAST)
    state, parameters = ensemble(64)
    broken = state._replace(zone=state.zone._replace(nitrogen=np.full(64, np.nan)))
    with pytest.raises(BalanceError):
        run(broken, parameters, drivers, kept(drivers), kernel=kernel())


def test_totals_are_named_by_weed() -> None:
    drivers = county_drivers(FIRST, LAST)
    totals = run(*ensemble(64), drivers, busy(drivers), kernel=kernel()).totals
    assert np.all(totals["annual_meadow_grass.returned"] > 0)
    assert np.all(totals["hours"] > 0)
