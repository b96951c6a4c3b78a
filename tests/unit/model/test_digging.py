"""Clumps dug out of the draws, and the ground that the hours were enough for."""

import numpy as np
import pytest

from swardbook.model.day_heads import grown_up
from swardbook.model.digging import clumps_found, dug_out, share_dug
from swardbook.model.start import Start
from tests.support.model import FOG, POA, ensemble

FOG_AT = 1
START = Start(bare=0.05, weeds={POA: 0.2, FOG: 0.02}, spread=0.5)


def test_digging_takes_clumps_and_leaves_their_ground_bare() -> None:
    state, parameters = ensemble(64, START)
    after = dug_out(state, parameters, FOG_AT, np.ones(64))
    before, left = state.weeds[FOG_AT], after.weeds[FOG_AT]
    assert np.all(grown_up(left) < grown_up(before))
    assert np.all(left.cover < before.cover)
    assert after.zone.gap - state.zone.gap == pytest.approx(before.cover - left.cover)
    assert left.killed - before.killed == pytest.approx(grown_up(before) - grown_up(left))
    assert after.weeds[0] is state.weeds[0]


def test_no_ground_gone_over_leaves_everything() -> None:
    state, parameters = ensemble(64, START)
    after = dug_out(state, parameters, FOG_AT, np.zeros(64))
    assert np.array_equal(grown_up(after.weeds[FOG_AT]), grown_up(state.weeds[FOG_AT]))


def test_more_hours_go_over_more_ground_and_none_said_is_all_of_it() -> None:
    state, parameters = ensemble(64, START)
    few, many, unsaid = (
        share_dug(state, parameters, FOG_AT, hours, 800.0) for hours in (1.0, 20.0, None)
    )
    assert np.all((few > 0) & (few < many))
    assert np.all(unsaid == 1)


def test_young_plants_in_plenty_are_no_clumps() -> None:
    state, parameters = ensemble(64, START)
    weed, numbers = state.weeds[FOG_AT], parameters.weeds[FOG_AT]
    crowded = weed._replace(tillering_0=weed.tillering_0 + 500.0)
    clumps = weed.cover / numbers.typical_area
    assert np.all(clumps_found(crowded, numbers) <= clumps * (1 + 1e-9))
