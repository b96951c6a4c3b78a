"""A plan on the ground: whole passes, guards, paths, and marks along two tapes."""

import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.seed.lot import LotPart
from swardbook.trials.bags import Entry, bags, grams, weighed
from swardbook.trials.design import UNSOWN, Design, Kind
from swardbook.trials.layout import fits, lay, size_of_plot, whole_widths
from swardbook.trials.shuffling import draw

TEN = (*(f"Mixture {n}" for n in range(1, 10)), UNSOWN)
SIZE = size_of_plot(0.51, 1.5, 2.0)


def test_three_passes_of_a_half_metre_mower_make_a_plot_of_a_metre_and_a_half() -> None:
    assert SIZE.passes == 3
    assert SIZE.is_whole
    assert SIZE.overlap_m == pytest.approx(0.015)
    assert SIZE.counted_m == pytest.approx((1.2, 1.7))


def test_without_a_width_a_plot_is_whole_passes_with_the_usual_overlap() -> None:
    usual = size_of_plot(0.51)
    assert usual.width_m == pytest.approx(3 * 0.51 - 2 * 0.05)
    assert usual.is_whole


def test_a_width_between_passes_is_told_with_the_two_next_to_it() -> None:
    odd = size_of_plot(0.51, 1.1, 2.0)
    assert not odd.is_whole
    narrow, wide = whole_widths(0.51, 1.1)
    assert narrow < 1.1 < wide
    assert size_of_plot(0.51, narrow).is_whole
    assert size_of_plot(0.51, wide).is_whole


def test_passes_that_do_not_cover_the_plot_are_refused() -> None:
    with pytest.raises(BadInputError, match="do not cover"):
        size_of_plot(0.51, 1.8, 2.0, passes=3)
    with pytest.raises(BadInputError, match="--plot"):
        size_of_plot(None)


def test_forty_plots_take_the_ground_of_the_made_up_trial() -> None:
    laid = lay(draw(Design(Kind.BLOCKS, TEN, 4, rows=2), 1), SIZE, 0.75, 1.0)
    assert (laid.length_m, laid.width_m) == (20.25, 9.5)
    assert laid.across_m == (1.0, 2.5, 4.0, 5.5, 7.0, 8.5)
    assert laid.along_m[:6] == (1.0, 3.0, 5.0, 5.75, 7.75, 9.75)
    assert fits(laid, (20.25, 9.5)) == (True, False)
    assert fits(laid, (20.0, 9.5)) == (False, False)
    assert {plot.name for plot in laid.plots} >= {"1-01", "4-10"}


def test_rows_and_columns_count_over_the_whole_ground() -> None:
    laid = lay(draw(Design(Kind.BLOCKS, TEN, 4, rows=2), 1), SIZE, 0.75, 1.0)
    at = {plot.name: (plot.row, plot.column) for plot in laid.plots}
    assert at["1-01"] == (1, 1)
    assert at["1-10"] == (2, 5)
    assert at["4-06"] == (8, 1)


def test_blocks_of_strips_lie_side_by_side() -> None:
    strips = size_of_plot(0.51, 1.5, 12.0)
    laid = lay(draw(Design(Kind.STRIPS, TEN[:3], 3), 1), strips, 0.75, 1.0)
    assert laid.length_m == 14.0
    assert laid.width_m == pytest.approx(9 * 1.5 + 2 * 0.75 + 2)
    assert [plot.column for plot in laid.plots] == list(range(1, 10))


def test_no_two_plots_lie_on_each_other() -> None:
    for kind in (Kind.BLOCKS, Kind.LATIN, Kind.STRIPS):
        entries = TEN[:4]
        laid = lay(draw(Design(kind, entries, 4), 5), SIZE, 0.5, 1.0)
        assert len({plot.corner_m for plot in laid.plots}) == len(laid.plots)
        assert len({(plot.row, plot.column) for plot in laid.plots}) == len(laid.plots)


def test_bags_are_weighed_to_the_gram_and_bent_to_a_tenth() -> None:
    assert grams(30, 3.0) == 90
    assert grams(4.5, 3.0) == 13.5
    assert grams(0, 3.0) == 0


def test_seed_of_a_lot_adds_up_over_its_plots_and_some_is_kept() -> None:
    entries = {name: Entry(name, f"L{name[-1]}", 35.0, (LotPart("perennial ryegrass", 1.0),))
               for name in TEN[:-1]}  # fmt: skip
    entries[UNSOWN] = Entry(UNSOWN)
    laid = lay(draw(Design(Kind.BLOCKS, TEN, 4, rows=2), 1), SIZE, 0.75, 1.0)
    every = bags(laid, entries)
    found = {each.entry.name: each for each in weighed(every, 0.15)}
    assert found["Mixture 1"].total_g == 420
    assert found["Mixture 1"].spare_g == 63
    assert found[UNSOWN].total_g == 0
    assert found[UNSOWN].entry.is_control
    assert sum(bag.grams for bag in every) == 9 * 420
