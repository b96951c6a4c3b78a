"""Draw the plan of a trial: chance decides which mixture stands where, and its seed is kept.

The same seed gives the same plan on any machine: every order is that of keyed numbers from a
counter-based generator, which no earlier draw can shift.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from swardbook.foundation.chance import Chance
from swardbook.foundation.errors import BadInputError
from swardbook.trials.design import UNSOWN, Design, Drawn, Kind, Slot, check, facing
from swardbook.trials.row_column import good_rows_and_columns

_MOST_DRAWS = 400
"""Draws after which the best so far is taken; a plan that small has no better."""


def shuffled(names: Sequence[str], chance: Chance, purpose: str) -> tuple[str, ...]:
    """Put names in an order of chance.

    Parameters
    ----------
    names : sequence of str
        The names.
    chance : Chance
        Where numbers come from.
    purpose : str
        What the order is for; another purpose gives another order.
    """
    order = np.argsort(chance.uniforms(purpose, len(names)), kind="stable")
    return tuple(names[place] for place in order)


def draw(design: Design, seed: int) -> Drawn:
    """Draw a design.

    Blocks are drawn again, by the next numbers of the same seed, while a mixture stands beside
    itself across a path or one stands at the same end of every block.

    Parameters
    ----------
    design : Design
        What is compared and how.
    seed : int
        The seed, 0 or more.

    Raises
    ------
    BadInputError
        If the design cannot be drawn.
    """
    check(design)
    if seed < 0:
        raise BadInputError("the seed", seed, "a whole number from 0")
    chance = Chance(("trial", f"{seed}"))
    if design.kind is Kind.ROW_COLUMN:
        grid, efficiency = good_rows_and_columns(design.entries, design.blocks, _rows(design),
                                                 chance)  # fmt: skip
        return Drawn(design, _one_block_a_row(grid), seed, efficiency=efficiency)
    if design.kind is Kind.LATIN:
        return Drawn(design, _one_block_a_row(latin_square(design.entries, chance)), seed)
    best: tuple[int, int, tuple[Slot, ...]] | None = None
    for number in range(1, _MOST_DRAWS + 1):
        slots = _DRAWS[design.kind](design, chance.under(f"draw {number}"))
        faults = _faults(design, slots)
        if best is None or faults < best[0]:
            best = faults, number, slots
        if not faults:
            break
    assert best is not None
    return Drawn(design, best[2], seed, draws=best[1])


def latin_square(names: Sequence[str], chance: Chance) -> tuple[tuple[str, ...], ...]:
    """Draw a Latin square: rows, columns and letters of the standard square in chance orders.

    Parameters
    ----------
    names : sequence of str
        The entries.
    chance : Chance
        Where numbers come from.

    Returns
    -------
    tuple of tuple of str
        Row by row.

    Notes
    -----
    Not every square can come up so, but each pair of entries meets every place alike: Yates, F.,
    1933, Empire Journal of Experimental Agriculture 1, 235-244.
    """
    size = [f"{place}" for place in range(len(names))]
    rows = [int(each) for each in shuffled(size, chance, "rows")]
    columns = [int(each) for each in shuffled(size, chance, "columns")]
    letters = shuffled(names, chance, "letters")
    return tuple(tuple(letters[(row + column) % len(names)] for column in columns) for row in rows)


def tub_moves(drawn: Drawn, number: int) -> tuple[tuple[str, ...], ...]:
    """Draw where tubs stand after each move, so that no place favours a mixture for long.

    Parameters
    ----------
    drawn : Drawn
        The tubs as first set down.
    number : int
        How many moves.

    Returns
    -------
    tuple of tuple of str
        For each move the tubs by name, in the order of the places.
    """
    names = [f"{slot.block}-{slot.number:02d}" for slot in drawn.slots]
    chance = Chance(("trial", f"{drawn.seed}", "moves"))
    return tuple(shuffled(names, chance, f"move {move}") for move in range(1, number + 1))


def swapped(drawn: Drawn, one: tuple[int, int], other: tuple[int, int]) -> Drawn:
    """Move two entries by hand; the plan is then chosen, not shuffled.

    Parameters
    ----------
    drawn : Drawn
        The plan.
    one, other : tuple of int
        Block and number of each plot.

    Raises
    ------
    BadInputError
        If there is no such plot.
    """
    places = {(slot.block, slot.number): slot for slot in drawn.slots}
    for place in (one, other):
        if place not in places:
            raise BadInputError("the plot", f"{place[0]}-{place[1]:02d}", "a plot of this plan")
    first, second = places[one], places[other]
    moved = {
        one: replace(first, entry=second.entry, treatment=second.treatment),
        other: replace(second, entry=first.entry, treatment=first.treatment),
    }
    slots = tuple(moved.get((slot.block, slot.number), slot) for slot in drawn.slots)
    return replace(drawn, slots=slots, is_shuffled=False)


def _rows(design: Design) -> int:
    return design.rows or design.blocks


def _one_block_a_row(grid: Sequence[Sequence[str]]) -> tuple[Slot, ...]:
    return tuple(
        Slot(row, column, 1, column, entry)
        for row, names in enumerate(grid, 1) for column, entry in enumerate(names, 1)
    )  # fmt: skip


def _in_rows(block: int, names: Sequence[str], rows: int) -> list[Slot]:
    """Number plots row by row, from the first end."""
    wide = -(-len(names) // max(rows, 1))
    return [Slot(block, n + 1, n // wide + 1, n % wide + 1, name) for n, name in enumerate(names)]


def _blocks(design: Design, chance: Chance) -> tuple[Slot, ...]:
    return tuple(
        slot
        for block in range(1, design.blocks + 1)
        for slot in _in_rows(
            block, shuffled(design.entries, chance, f"block {block}"), design.rows or 1
        )
    )


def _augmented(design: Design, chance: Chance) -> tuple[Slot, ...]:
    new = shuffled(design.new, chance, "new")
    share = -(-len(new) // design.blocks)
    slots: list[Slot] = []
    for block in range(1, design.blocks + 1):
        own = (*design.entries, *new[share * (block - 1) : share * block])
        slots += _in_rows(block, shuffled(own, chance, f"block {block}"), design.rows or 1)
    return tuple(slots)


def _split(design: Design, chance: Chance) -> tuple[Slot, ...]:
    """Mixtures in columns side by side, and the levels shuffled up each of them."""
    slots = []
    for block in range(1, design.blocks + 1):
        for column, entry in enumerate(shuffled(design.entries, chance, f"block {block}"), 1):
            levels = shuffled(design.levels, chance, f"block {block} column {column}")
            for row, level in enumerate(levels, 1):
                number = (row - 1) * len(design.entries) + column
                slots.append(Slot(block, number, row, column, entry, level))
    return tuple(sorted(slots, key=lambda slot: (slot.block, slot.number)))


def _tubs(design: Design, chance: Chance) -> tuple[Slot, ...]:
    every = [name for name in design.entries for _ in range(design.blocks)]
    rows = design.rows or design.blocks
    return tuple(_in_rows(1, shuffled(every, chance, "tubs"), rows))


_DRAWS: dict[Kind, Callable[[Design, Chance], tuple[Slot, ...]]] = {
    Kind.BLOCKS: _blocks, Kind.STRIPS: _blocks, Kind.SINGLE: _blocks, Kind.SPLIT: _split,
    Kind.AUGMENTED: _augmented, Kind.TUBS: _tubs,
}  # fmt: skip


def _faults(design: Design, slots: tuple[Slot, ...]) -> int:
    """Count what a draw is taken again for."""
    if design.kind in {Kind.SINGLE, Kind.TUBS}:
        return 0
    alike = sum(
        one.entry == other.entry and one.block != other.block for one, other in facing(slots)
    )
    return alike + len(always_at_one_end(slots)) + control_at_the_edge(slots)


def always_at_one_end(slots: Sequence[Slot]) -> tuple[tuple[str, str], ...]:
    """List entries that stand in the same outer column of every block, with the side.

    Parameters
    ----------
    slots : sequence of Slot
        The plan; with fewer than three blocks nothing is listed.

    Returns
    -------
    tuple of tuple of str
        Name, and ``left`` or ``right`` as seen from the first end.
    """
    found: list[tuple[str, str]] = []
    widest = max(slot.column for slot in slots)
    for name in dict.fromkeys(slot.entry for slot in slots):
        own = [slot for slot in slots if slot.entry == name]
        if len({slot.block for slot in own}) < 3:
            continue
        found += [
            (name, side)
            for side, wanted in (("left", 1), ("right", widest))
            if widest > 1 and all(slot.column == wanted for slot in own)
        ]
    return tuple(found)


def control_at_the_edge(slots: Sequence[Slot]) -> bool:
    """Tell whether the unsown control stands in an outer column of every block, of three or more.

    Parameters
    ----------
    slots : sequence of Slot
        The plan.
    """
    widest = max(slot.column for slot in slots)
    own = [slot for slot in slots if slot.entry == UNSOWN]
    blocks = {slot.block for slot in own}
    return widest > 3 and len(blocks) > 2 and all(slot.column in {1, widest} for slot in own)
