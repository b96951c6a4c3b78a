"""Chance alone says where a mixture stands, and its seed says it again on any machine."""

from collections import Counter

import numpy as np
import pytest

from swardbook.foundation.chance import Chance
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.trials.design import UNSOWN, Design, Drawn, Kind, facing, read_kind, shape
from swardbook.trials.row_column import a_efficiency
from swardbook.trials.shuffling import (
    always_at_one_end,
    control_at_the_edge,
    draw,
    shuffled,
    swapped,
    tub_moves,
)

NINE = (
    "Bobbin", "Thimble", "Candlewick", "Gatepost", "Teacake", "Wheelbarrow", "Pocketwatch",
    "Umbrella", "Haystack",
)  # fmt: skip
TEN = (*NINE, UNSOWN)
BLOCKS = Design(Kind.BLOCKS, TEN, 4, rows=2)


def lines(drawn: Drawn) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for slot in drawn.slots:
        found.setdefault(slot.block, []).append(slot.entry)
    return found


def test_the_same_seed_draws_the_plan_that_is_written_here() -> None:
    first = lines(draw(BLOCKS, 20240904))[1]
    assert first == [
        "Teacake", "Pocketwatch", "Thimble", "Candlewick", "Gatepost", "Wheelbarrow", "Haystack",
        "Bobbin", UNSOWN, "Umbrella",
    ]  # fmt: skip
    assert draw(BLOCKS, 20240904) == draw(BLOCKS, 20240904)
    assert lines(draw(BLOCKS, 20240905))[1] != first


def test_every_block_holds_every_mixture_once() -> None:
    for seed in range(20):
        for names in lines(draw(BLOCKS, seed)).values():
            assert sorted(names) == sorted(TEN)


def test_no_mixture_meets_itself_or_has_one_end_for_itself() -> None:
    for seed in range(60):
        slots = draw(Design(Kind.BLOCKS, TEN[-5:], 4, rows=1), seed).slots
        assert not [one for one, other in facing(slots) if one.entry == other.entry]
        assert not always_at_one_end(slots)
        assert not control_at_the_edge(slots)


def test_every_place_is_as_likely_for_every_mixture() -> None:
    seeds = 4000
    where: Counter[int] = Counter()
    for seed in range(seeds):
        order = shuffled(TEN, Chance(("trial", f"{seed}")), "block 1")
        where[order.index("Bobbin")] += 1
    expected = seeds / 10
    chi_square = sum((where[place] - expected) ** 2 / expected for place in range(10))
    assert chi_square < 27.9  # 99.9 % point of chi-square on 9 degrees of freedom


def test_leaving_some_plans_out_gives_no_more_false_alarms_than_are_allowed() -> None:
    """Ground that changes across the blocks, no difference between mixtures, an F test at 5 %."""
    from scipy.stats import f

    names, trials, alarms = NINE[:5], 300, 0
    noise = Chance(("ground",))
    for seed in range(trials):
        slots = draw(Design(Kind.BLOCKS, names, 4, rows=1), seed).slots
        drift = np.asarray([1.5 * np.sin(0.9 * slot.column + 0.37 * seed) for slot in slots])
        y = (drift + noise.normals(f"trial {seed}", 20)).reshape(4, 5)
        codes = np.asarray([names.index(slot.entry) for slot in slots]).reshape(4, 5)
        table = np.take_along_axis(y, np.argsort(codes, axis=1), axis=1)
        left = table - table.mean(axis=0) - table.mean(axis=1)[:, None] + table.mean()
        between = 4 * ((table.mean(axis=0) - table.mean()) ** 2).sum() / 4
        alarms += f.sf(between / ((left**2).sum() / 12), 4, 12) < 0.05
    assert alarms / trials <= 0.05 + 3 * np.sqrt(0.05 * 0.95 / trials)


def test_a_latin_square_has_each_mixture_once_in_each_row_and_column() -> None:
    for seed in range(10):
        square = draw(Design(Kind.LATIN, NINE[:5], 5), seed)
        for way in ("row", "column"):
            cells = Counter((slot.entry, slot.block if way == "row" else slot.column)
                            for slot in square.slots)  # fmt: skip
            assert len(cells) == 25


def test_in_a_split_plot_each_mixture_has_each_height_once_in_a_block() -> None:
    design = Design(Kind.SPLIT, NINE[:4], 3, levels=("8 mm", "12 mm", "20 mm"))
    slots = draw(design, 7).slots
    assert len(slots) == design.plots == 36
    for block in (1, 2, 3):
        own = [slot for slot in slots if slot.block == block]
        assert [slot.number for slot in own] == list(range(1, 13))
        assert len({(slot.entry, slot.treatment) for slot in own}) == 12
        for name in NINE[:4]:
            assert len({slot.column for slot in own if slot.entry == name}) == 1


def test_an_augmented_design_has_its_checks_in_every_block_and_new_ones_once() -> None:
    new = tuple(f"New {n}" for n in range(1, 12))
    slots = draw(Design(Kind.AUGMENTED, NINE[:3], 3, new=new), 1).slots
    assert Counter(slot.entry for slot in slots) == {**dict.fromkeys(NINE[:3], 3),
                                                     **dict.fromkeys(new, 1)}  # fmt: skip


def test_rows_and_columns_state_the_efficiency_that_the_plan_has() -> None:
    drawn = draw(Design(Kind.ROW_COLUMN, NINE[:6], 4, rows=4), 3)
    codes = np.asarray([NINE.index(slot.entry) for slot in drawn.slots], dtype=np.intp)
    rows = np.asarray([slot.block for slot in drawn.slots], dtype=np.intp)
    columns = np.asarray([slot.column for slot in drawn.slots], dtype=np.intp)
    assert drawn.efficiency == pytest.approx(a_efficiency(codes, [rows, columns]))
    assert drawn.efficiency > 0.88


def test_rows_and_columns_find_the_latin_square_where_there_is_one() -> None:
    assert draw(Design(Kind.ROW_COLUMN, NINE[:4], 4, rows=4), 1).efficiency == pytest.approx(1.0)


def test_tubs_are_shuffled_over_the_whole_bench() -> None:
    slots = draw(Design(Kind.TUBS, NINE[:3], 4), 2).slots
    assert {slot.block for slot in slots} == {1}
    assert Counter(slot.entry for slot in slots) == dict.fromkeys(NINE[:3], 4)


def test_tubs_change_places_and_each_is_somewhere_after_every_move() -> None:
    drawn = draw(Design(Kind.TUBS, NINE[:3], 4), 2)
    moves = tub_moves(drawn, 5)
    names = {f"1-{number:02d}" for number in range(1, 13)}
    assert all(set(order) == names for order in moves)
    assert len(set(moves)) == 5
    assert moves == tub_moves(drawn, 5)


def test_a_plot_moved_by_hand_marks_the_plan() -> None:
    drawn = draw(BLOCKS, 1)
    moved = swapped(drawn, (1, 1), (1, 10))
    assert drawn.is_shuffled
    assert not moved.is_shuffled
    assert moved.slots[0].entry == drawn.slots[9].entry
    assert moved.slots[9].entry == drawn.slots[0].entry
    with pytest.raises(BadInputError, match="5-01"):
        swapped(drawn, (5, 1), (1, 1))


def test_blocks_lie_as_square_as_the_ground_lets_them() -> None:
    assert shape(10, 1.5, 2.0) == 2
    assert shape(10, 1.5, 2.0, most_wide_m=4.0) == 5
    assert shape(7, 1.5, 2.0) in {1, 7}
    assert shape(9, 1.5, 2.0) == 3
    assert shape(9, 1.5, 2.0, most_wide_m=20.0, most_long_m=4.0) == 1


@pytest.mark.parametrize(
    ("design", "allowed"),
    [
        (Design(Kind.BLOCKS, ("Bobbin", "bobbin"), 3), "each mixture once"),
        (Design(Kind.BLOCKS, ("Bobbin",), 3), "two or more"),
        (Design(Kind.BLOCKS, NINE, 0), "1 or more"),
        (Design(Kind.LATIN, NINE, 4), "9: as many as entries"),
        (Design(Kind.SPLIT, NINE, 4, levels=("8 mm",)), "two or more heights"),
        (Design(Kind.AUGMENTED, NINE, 4), "stand once"),
        (Design(Kind.ROW_COLUMN, NINE, 4, rows=5), "a divisor of 36"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_words(design: Design, allowed: str) -> None:
    with pytest.raises(BadInputError, match=allowed):
        draw(design, 1)


def test_a_design_goes_by_its_word_or_its_name() -> None:
    assert read_kind("blocks") is Kind.BLOCKS
    assert read_kind("latin square") is Kind.LATIN
    with pytest.raises(UnknownNameError, match="augmented"):
        read_kind("augmnted")
