"""What a plan can show of a trait, before it is sown."""

from dataclasses import replace
from math import sqrt

import pytest

from swardbook.book.trial_shows import what_it_shows
from swardbook.book.trial_traits import Measure
from swardbook.handbook.parameters import value
from swardbook.handbook.traits import all_traits
from swardbook.trials.design import Design, Drawn, Kind
from swardbook.trials.power import chance_any, chance_pair, needed_gap_pair, repeats_for
from swardbook.trials.shares import ShareSpread
from swardbook.trials.shuffling import draw

MEASURE = Measure(all_traits()["cover"], "annual_meadow_grass", 5.0, "as you gave it", 8.0)
NINE = tuple("ABCDEFGHI")


def blocks(names: tuple[str, ...] = NINE) -> Drawn:
    return draw(Design(Kind.BLOCKS, names, 4), 7)


def split() -> Drawn:
    return draw(Design(Kind.SPLIT, ("A", "B", "C"), 4, ("10 mm", "20 mm")), 7)


def test_in_blocks_it_is_the_one_spread_of_the_trait() -> None:
    shown = what_it_shows(blocks(), MEASURE)
    assert shown is not None
    assert (round(shown.pair, 1), round(shown.any_pair, 1)) == (7.3, 12.0)
    assert shown.chance_pair == chance_pair(8.0, 5 * sqrt(0.5), 24)
    assert shown.chance_any == chance_any(8.0, 5 * sqrt(0.5), 24, 9)
    assert shown.repeats == repeats_for(8.0, 5.0, 9, 0.8)
    assert shown.sd_whole is None


def test_a_split_plot_has_two_spreads_and_whole_plots_are_told_apart_less_sharply() -> None:
    whole, within = (what_it_shows(split(), MEASURE, each) for each in (False, True))
    assert whole is not None
    assert within is not None
    extra = value("trial.whole_plot_extra")
    assert whole.sd_whole == pytest.approx(5 * sqrt(extra))
    assert whole.sed == pytest.approx(5 * sqrt(2 * (extra + 1 / 2) / 4))
    assert within.sed == pytest.approx(5 * sqrt(2 / (4 * 3)))
    assert (whole.df, within.df) == (6, 9)
    assert within.chance_pair > whole.chance_pair
    assert within.repeats is not None
    assert whole.repeats is not None
    assert within.repeats < whole.repeats


def test_the_two_spreads_are_those_of_the_published_oats() -> None:
    """Standard errors of a difference by the components of the oats of 1935."""
    drawn = draw(Design(Kind.SPLIT, ("A", "B", "C"), 6, ("0", "1", "2", "3")), 7)
    oats = replace(MEASURE, sd=sqrt(177.0833333333))
    whole = what_it_shows(drawn, oats, sd_whole=sqrt(106.0618055556))
    within = what_it_shows(drawn, oats, within=True)
    assert whole is not None
    assert within is not None
    assert whole.sed == pytest.approx(7.078903843790336, rel=1e-9)
    assert within.sed == pytest.approx(4.435755395186478, rel=1e-9)
    assert whole.pair == pytest.approx(15.772780683824221, rel=1e-8)
    assert within.pair == pytest.approx(8.934069973691582, rel=1e-8)


def test_a_level_changes_what_is_needed_and_what_is_found() -> None:
    spread = ShareSpread.of(0.05, 0.2, 0.0172)
    low, high = (
        what_it_shows(blocks(), replace(MEASURE, low=at, spread=spread, sd=100 * spread.sd(at)))
        for at in (0.06, 0.4)
    )
    assert low is not None
    assert high is not None
    assert low.pair < needed_gap_pair(5 * sqrt(0.5), 24) < high.pair
    assert low.chance_any > high.chance_any
    assert low.repeats is not None
    assert high.repeats is not None
    assert low.repeats <= high.repeats


def test_one_plot_of_each_shows_nothing() -> None:
    drawn = draw(Design(Kind.SINGLE, ("A", "B", "C"), 1), 7)
    assert what_it_shows(drawn, MEASURE) is None
    assert what_it_shows(blocks(), MEASURE, within=True) is None
