"""Laws of setting a trial out: whatever the design and the seed."""

from collections import Counter
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.trials.bags import Entry, bags, weighed
from swardbook.trials.design import UNSOWN, Design, Kind
from swardbook.trials.layout import Laid, lay, size_of_plot
from swardbook.trials.power import chance_any, chance_pair, needed_gap_any, needed_gap_pair
from swardbook.trials.shuffling import draw, swapped

SEEDS = st.integers(0, 2**32 - 1)
NAMES = tuple(f"Mixture {n}" for n in range(1, 10))


@st.composite
def designs(draw_one: st.DrawFn) -> Design:
    kind = draw_one(st.sampled_from([Kind.BLOCKS, Kind.LATIN, Kind.SPLIT, Kind.STRIPS, Kind.TUBS,
                                     Kind.AUGMENTED]))  # fmt: skip
    entries = (*NAMES[: draw_one(st.integers(2, 6))], UNSOWN)
    blocks = len(entries) if kind is Kind.LATIN else draw_one(st.integers(2, 5))
    levels = ("8 mm", "12 mm", "20 mm") if kind is Kind.SPLIT else ()
    new = tuple(f"New {n}" for n in range(draw_one(st.integers(1, 7))))
    return Design(kind, entries, blocks, levels, new if kind is Kind.AUGMENTED else ())


def laid_out(design: Design, seed: int) -> Laid:
    return lay(draw(design, seed), size_of_plot(0.51, 1.5, 2.0), 0.75, 1.0)


@settings(max_examples=60, deadline=None)
@given(designs(), SEEDS)
def test_every_entry_stands_as_often_as_was_asked(design: Design, seed: int) -> None:
    drawn = draw(design, seed)
    assert drawn == draw(design, seed)
    each = max(len(design.levels), 1) * design.blocks
    wanted = {**dict.fromkeys(design.entries, each), **dict.fromkeys(design.new, 1)}
    assert Counter(slot.entry for slot in drawn.slots) == wanted
    assert len({(slot.block, slot.number) for slot in drawn.slots}) == design.plots


@settings(max_examples=60, deadline=None)
@given(designs(), SEEDS)
def test_no_two_plots_share_ground_and_all_lie_within_the_guard(design: Design, seed: int) -> None:
    laid = laid_out(design, seed)
    wide, long = laid.size.width_m, laid.size.length_m
    corners = [plot.corner_m for plot in laid.plots]
    for n, (x, y) in enumerate(corners):
        assert laid.guard_m <= x <= laid.width_m - laid.guard_m - wide + 1e-6
        assert laid.guard_m <= y <= laid.length_m - laid.guard_m - long + 1e-6
        for x2, y2 in corners[n + 1 :]:
            assert abs(x - x2) >= wide - 1e-6 or abs(y - y2) >= long - 1e-6


@settings(max_examples=40, deadline=None)
@given(designs(), SEEDS, st.floats(1, 60))
def test_no_gram_is_lost_between_bags_and_lots(design: Design, seed: int, rate: float) -> None:
    names = (*design.entries, *design.new)
    entries = {name: Entry(name, rate_g_m2=0.0 if name == UNSOWN else rate) for name in names}
    every = bags(laid_out(design, seed), entries)
    assert sum(bag.grams for bag in every) == pytest.approx(
        sum(each.total_g for each in weighed(every, 0.15)), abs=0.06 * len(names)
    )
    assert all(bag.grams == 0 for bag in every if bag.entry.is_control)


@settings(max_examples=40, deadline=None)
@given(designs(), SEEDS, st.data())
def test_moving_two_plots_twice_gives_the_plan_back_and_the_mark_stays(
    design: Design, seed: int, data: st.DataObject
) -> None:
    drawn = draw(design, seed)
    places = [(slot.block, slot.number) for slot in drawn.slots]
    one, other = (data.draw(st.sampled_from(places)) for _ in range(2))
    back = swapped(swapped(drawn, one, other), one, other)
    assert back.slots == drawn.slots
    assert not back.is_shuffled


@settings(max_examples=60, deadline=None)
@given(st.integers(2, 12), st.integers(2, 10), st.floats(0.1, 20), st.floats(0.05, 60))
def test_more_repeats_never_show_less_and_any_pair_never_needs_less(
    entries: int, repeats: int, sd: float, gap: float
) -> None:
    sed, df = sd * sqrt(2 / repeats), (entries - 1) * (repeats - 1)
    finer, more = sd * sqrt(2 / (repeats + 1)), (entries - 1) * repeats
    assert needed_gap_any(sed, df, entries) >= needed_gap_pair(sed, df) * (1 - 1e-6)
    assert needed_gap_pair(finer, more) < needed_gap_pair(sed, df)
    assert chance_pair(gap, finer, more) >= chance_pair(gap, sed, df) - 1e-9
    assert 0 <= chance_any(gap, sed, df, entries) <= chance_pair(gap, sed, df) + 1e-6 <= 1 + 1e-6
