"""Ranges, differences on the same draws, and what turns an order."""

import numpy as np
import pytest

from swardbook.evidence.estimates import Interval
from swardbook.evidence.verdicts import Verdict
from swardbook.model.chance import Chance
from swardbook.model.prospects import Range, contrast, leans, moved, order, turns

CHANCE = Chance(("prospects",))
DRAWS = 4096
COVER = 1 / (1 + np.exp(1.5 - 0.5 * CHANCE.normals("cover", DRAWS)))


def test_a_programme_against_itself_differs_by_exactly_nothing() -> None:
    found = contrast("a", COVER, "b", COVER, is_density=False)
    assert found.difference == 0
    assert found.spread.at95 == Interval(0, 0)
    assert found.verdict is Verdict.AS_GOOD_AS_EQUAL
    assert found.share_less == 0


def test_pairing_on_the_same_draws_finds_what_two_wide_ranges_hide() -> None:
    better = COVER - 0.06
    assert Range.of(better).at80.high > Range.of(COVER).at80.low
    found = contrast("a", better, "b", COVER, is_density=False)
    assert found.verdict is Verdict.CLEAR
    assert found.difference == pytest.approx(-6.0)


def test_densities_are_compared_by_ratio() -> None:
    plants = np.exp(CHANCE.normals("plants", DRAWS))
    found = contrast("a", plants / 2, "b", plants, is_density=True)
    assert found.difference == pytest.approx(-np.log(2), abs=0.02)
    assert found.verdict is Verdict.CLEAR


def test_the_order_is_by_the_mean_and_ties_by_name() -> None:
    assert order({"b": COVER, "a": COVER, "c": COVER / 2}) == ["c", "a", "b"]


def test_an_unknown_that_turns_the_order_is_found_and_noise_is_not() -> None:
    lift = CHANCE.uniforms("lift", DRAWS)
    unknowns = {"lift": lift, "noise": CHANCE.normals("noise", DRAWS)}
    outcomes = {"verticut": COVER + 0.1 * (0.5 - lift), "cut": COVER}
    found = turns(outcomes, unknowns, is_density=False)
    assert [each.unknown for each in found] == ["lift"]
    assert (found[0].low, found[0].high) == ("cut", "verticut")
    assert leans(outcomes, unknowns, is_density=False)[0].unknown == "lift"


def test_what_the_counts_moved_is_told_strongest_first() -> None:
    before = {name: CHANCE.normals(name, DRAWS) for name in ("still", "shifted", "narrowed")}
    after = before | {"shifted": before["shifted"] + 1, "narrowed": 0.5 * before["narrowed"]}
    found = moved(before, after, list(before), least=0.2)
    assert [each.unknown for each in found] == ["shifted", "narrowed"]
    assert found[1].narrowing == pytest.approx(0.5)
