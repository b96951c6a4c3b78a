"""Sums over draws: the same as from all kept values, whoever counts them and in what order."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.foundation.errors import OutOfRangeError
from swardbook.model.ensemble import run
from swardbook.model.members import Members, advance, draw_members
from swardbook.model.parameters import draw_parameters
from swardbook.model.start import Start, start_state
from swardbook.model.summaries import Summary, summarise, whole_weights
from swardbook.model.tallies import order_statistics
from tests.support.model import CHANCE, busy, county_drivers, ensemble, kernel, mixture

DRIVERS = county_drivers(date(2010, 9, 1), date(2010, 12, 20))
WORK = busy(DRIVERS)
RANGES = {"bare": (0.0, 1.0), "sown": (0.0, 1.0), "annual_meadow_grass_plants": (0.0, 2000.0)}
DRAWS = 700


def summary(threads: int = 1, weeks: int = 2, weights: bool = False) -> Summary:
    return summarise(
        Members.of(*ensemble(DRAWS)), DRIVERS, WORK, RANGES, kernel=kernel(), threads=threads,
        weeks_at_once=weeks, weights=np.arange(1, DRAWS + 1, dtype=np.float64) if weights else None,
    )  # fmt: skip


@pytest.mark.parametrize("weights", [False, True])
def test_weekly_quantiles_are_those_of_all_the_draws(weights: bool) -> None:
    kept = run(*ensemble(DRAWS), DRIVERS, WORK, kernel=kernel(), every=7)
    got = summary(weights=weights)
    assert got.weeks.tolist() == kept.days.tolist()
    given_weights = np.arange(DRAWS) + 1.0 if weights else np.ones(DRAWS)
    for name, rows in got.quantiles.items():
        expected = np.quantile(
            kept.outputs[name], got.levels, axis=1, method="inverted_cdf",
            weights=np.broadcast_to(given_weights, kept.outputs[name].shape),
        )  # fmt: skip
        np.testing.assert_array_equal(rows, expected.T)


def test_daily_histograms_hold_every_draw_where_it_lies() -> None:
    kept = run(*ensemble(DRAWS), DRIVERS, WORK, kernel=kernel(), every=1)
    got = summary()
    for name, rows in got.histograms.items():
        assert rows.sum(axis=1).tolist() == [DRAWS] * len(DRIVERS.tmean)
        low, high = RANGES[name]
        place = (kept.outputs[name] - np.float32(low)) * np.float32(256 / (high - low))
        places = np.clip(place, 0, 255).astype(int)
        expected = np.stack([np.bincount(day, minlength=256) for day in places])
        np.testing.assert_array_equal(rows, expected)
        assert got.edges[name][[0, -1]].tolist() == [low, high]


@pytest.mark.parametrize(("threads", "weeks"), [(2, 2), (3, 5), (1, 1), (1, 100)])
def test_threads_and_the_weeks_taken_at_once_change_no_bit(threads: int, weeks: int) -> None:
    one, other = summary(weights=True), summary(threads, weeks, weights=True)
    for name in RANGES:
        assert one.quantiles[name].tobytes() == other.quantiles[name].tobytes()
        assert one.histograms[name].tobytes() == other.histograms[name].tobytes()


@given(
    st.lists(
        st.tuples(st.floats(width=32, allow_nan=False, allow_infinity=False), st.integers(0, 50)),
        min_size=1, max_size=200,
    ),
    st.lists(st.floats(0, 1), min_size=1, max_size=5),
)  # fmt: skip
@settings(deadline=None)
def test_an_order_statistic_is_the_first_value_that_reaches_its_share(
    pairs: list[tuple[float, int]], levels: list[float]
) -> None:
    values = np.array([value for value, _ in pairs], np.float32) + np.float32(0.0)
    weights = np.array([weight for _, weight in pairs], np.int64)
    weights[0] += 1
    reach = np.maximum(np.ceil(np.array(levels) * weights.sum()), 1).astype(np.int64)
    order = np.argsort(values, kind="stable")
    expected = values[order][np.searchsorted(np.cumsum(weights[order]), reach)]
    np.testing.assert_array_equal(order_statistics(values, weights, reach), expected)


def test_members_drawn_a_part_at_a_time_are_those_drawn_at_once() -> None:
    start, draws = Start(bare=0.4, weeds={"yorkshire_fog": 0.05}, spread=0.3), 5000
    parameters = draw_parameters(mixture(), draws, CHANCE)
    at_once = Members.of(start_state(start, parameters, CHANCE), parameters)
    in_parts = draw_members(mixture(), draws, CHANCE, start)
    assert in_parts.blocks.tobytes() == at_once.blocks.tobytes()


def test_nothing_is_copied_when_members_are_taken_through_their_days() -> None:
    members = Members.of(*ensemble(64))
    held = members.blocks
    before = held.copy()
    advance(members, DRIVERS, WORK, kernel=kernel())
    assert members.blocks is held
    assert not np.array_equal(before, held)


@pytest.mark.parametrize("weights", [[1.0, -1.0], [0.0, 0.0], [1.0], [1.0, float("nan")]])
def test_weights_that_are_none_are_refused(weights: list[float]) -> None:
    with pytest.raises(OutOfRangeError, match="weights of the draws"):
        whole_weights(np.array(weights), 2, 64)
