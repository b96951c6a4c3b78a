"""Designs of a plot trial: what they are called, what they hold, and what is left for error."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from swardbook.foundation.errors import BadInputError, UnknownNameError

UNSOWN = "Unsown"
"""The unsown control: raked, fed, watered and cut like the others."""


class Kind(StrEnum):
    """How plots are shuffled."""

    BLOCKS = "randomised blocks"
    LATIN = "Latin square"
    SPLIT = "split plot"
    AUGMENTED = "augmented"
    ROW_COLUMN = "rows and columns"
    STRIPS = "strips"
    TUBS = "tubs"
    SINGLE = "one plot each"


_WORDS = {
    "blocks": Kind.BLOCKS, "latin": Kind.LATIN, "split": Kind.SPLIT, "augmented": Kind.AUGMENTED,
    "row-column": Kind.ROW_COLUMN, "strips": Kind.STRIPS, "tubs": Kind.TUBS, "single": Kind.SINGLE,
}  # fmt: skip
WORDS = tuple(_WORDS)
"""What the designs are asked for by."""


@dataclass(frozen=True, slots=True)
class Design:
    """What is to be drawn.

    Parameters
    ----------
    kind : Kind
        How plots are shuffled.
    entries : tuple of str
        What is compared, mixtures as a rule, the control among them; the checks of an augmented
        design, which stand in every block.
    blocks : int
        Blocks, or times that each entry stands.
    levels : tuple of str
        Heights of cut or feeds within each mixture of a split plot.
    new : tuple of str
        Entries of an augmented design that stand once.
    rows : int
        Rows in a block, or of the whole square; 0 leaves it to the ground.
    """

    kind: Kind
    entries: tuple[str, ...]
    blocks: int
    levels: tuple[str, ...] = ()
    new: tuple[str, ...] = ()
    rows: int = 0

    @property
    def plots(self) -> int:
        """How many plots there are."""
        whole = len(self.entries) * self.blocks + len(self.new)
        return whole * max(len(self.levels), 1)


@dataclass(frozen=True, slots=True)
class Slot:
    """One plot of a drawn design, before it has a place on the ground.

    Parameters
    ----------
    block, number : int
        Block, and number within it, from 1.
    row, column : int
        Place within its block's oblong, from 1; row 1 lies at the first end.
    entry : str
        What is sown there.
    treatment : str
        What it gets beside, in a split plot.
    """

    block: int
    number: int
    row: int
    column: int
    entry: str
    treatment: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A design as drawn.

    Parameters
    ----------
    design : Design
        What was asked.
    slots : tuple of Slot
        Every plot, block by block in the order of their numbers.
    seed : int or None
        Seed of the draw; the same seed draws the same plan on any machine. None where it was drawn
        elsewhere.
    draws : int
        Draws it took until no mixture stood beside itself and none at one end in every block.
    is_shuffled : bool
        Whether chance alone chose; False once a plot was moved by hand.
    efficiency : float
        Mean precision of a difference against a design without blocks to lose by. [-]
    """

    design: Design
    slots: tuple[Slot, ...]
    seed: int | None
    draws: int = 1
    is_shuffled: bool = True
    efficiency: float = 1.0

    @property
    def order_words(self) -> str:
        """How plots came by their places."""
        if not self.is_shuffled:
            return "chosen, not shuffled"
        return "shuffled" if self.seed is None else f"shuffled by seed {self.seed}"

    @property
    def plots_of(self) -> dict[str, int]:
        """How many plots each entry has, in the order of the design."""
        names = (*self.design.entries, *self.design.new)
        return {name: sum(slot.entry == name for slot in self.slots) for name in names}


def read_kind(text: str) -> Kind:
    """Read the name of a design.

    Raises
    ------
    UnknownNameError
        If it is none of them; offers the nearest.
    """
    word = text.strip().casefold()
    if word in _WORDS:
        return _WORDS[word]
    for kind in Kind:
        if kind.value.casefold() == word:
            return kind
    raise UnknownNameError("design", text, WORDS)


def check(design: Design) -> None:
    """Refuse a design that cannot be drawn.

    Raises
    ------
    BadInputError
        If an entry stands twice, there are too few, or the numbers do not make the shape.
    """
    names = [name.casefold() for name in (*design.entries, *design.new)]
    for name in names:
        if names.count(name) > 1:
            raise BadInputError("the mixtures", name, "each mixture once")
    if len(names) < 2:
        raise BadInputError(
            "the mixtures", ", ".join(design.entries) or "none", "two or more, control included"
        )
    if design.blocks < 1:
        raise BadInputError("the repeats", design.blocks, "1 or more")
    if design.kind is Kind.LATIN and len(design.entries) != design.blocks:
        raise BadInputError(
            "the repeats", design.blocks, f"{len(design.entries)}: as many as entries",
            "A Latin square has every entry once in each row and column.",
        )  # fmt: skip
    if design.kind is Kind.SPLIT and len(design.levels) < 2:
        raise BadInputError(
            "--within", ", ".join(design.levels) or "none", "two or more heights or feeds"
        )
    if design.kind is Kind.AUGMENTED and not design.new:
        raise BadInputError("--once", "none", "the entries that stand once, beside the checks")
    if design.kind is Kind.ROW_COLUMN and design.rows and design.plots % design.rows:
        raise BadInputError("--rows", design.rows, f"a divisor of {design.plots} plots")


def error_df(design: Design, within: bool = False) -> int:
    """Give the degrees of freedom left for error, if no plot is lost.

    Parameters
    ----------
    design : Design
        The design.
    within : bool
        Whether for levels within a mixture of a split plot.

    Returns
    -------
    int
        Degrees of freedom; 0 where nothing is left to judge a difference by.

    Notes
    -----
    Those of the analysis of variance of each design: Cochran, W. G. and Cox, G. M., 1957,
    Experimental Designs, 2nd edition.
    """
    entries, blocks = len(design.entries), design.blocks
    if design.kind is Kind.LATIN:
        return max((entries - 1) * (entries - 2), 0)
    if design.kind is Kind.TUBS:
        return entries * (blocks - 1)
    if design.kind is Kind.SINGLE:
        return 0
    if design.kind is Kind.ROW_COLUMN:
        rows = design.rows or blocks
        left = design.plots - 1 - (rows - 1) - (design.plots // rows - 1) - (entries - 1)
        return max(left, 0)
    if within:
        return entries * (blocks - 1) * (len(design.levels) - 1)
    return (entries - 1) * (blocks - 1)


def shape(
    plots: int, wide_m: float, long_m: float, most_wide_m: float = 0.0, most_long_m: float = 0.0
) -> int:
    """Choose the rows of a block so that it lies as square as can be.

    Parameters
    ----------
    plots : int
        Plots of the block.
    wide_m, long_m : float
        Width and length of one plot. [m]
    most_wide_m, most_long_m : float
        Widest and longest a block may be; 0 where that is not known. [m]

    Returns
    -------
    int
        Rows; they divide the plots.
    """
    whole = [rows for rows in range(1, plots + 1) if plots % rows == 0]
    fits = [
        rows for rows in whole
        if (not most_wide_m or plots // rows * wide_m <= most_wide_m + 1e-9)
        and (not most_long_m or rows * long_m <= most_long_m + 1e-9)
    ]  # fmt: skip

    def lean(rows: int) -> tuple[float, int]:
        sides = plots // rows * wide_m, rows * long_m
        return max(sides) / min(sides), rows

    return min(fits or whole, key=lean)


def facing(slots: Sequence[Slot]) -> list[tuple[Slot, Slot]]:
    """List plots that lie side by side, also across the path between two blocks."""
    deepest = {block: max(s.row for s in slots if s.block == block) for block in _blocks(slots)}
    at = {(s.block, s.row, s.column): s for s in slots}
    found = []
    for slot in slots:
        across = at.get((slot.block, slot.row, slot.column + 1))
        up = at.get((slot.block, slot.row + 1, slot.column))
        if up is None and slot.row == deepest[slot.block]:
            up = at.get((slot.block + 1, 1, slot.column))
        found += [(slot, other) for other in (across, up) if other is not None]
    return found


def _blocks(slots: Sequence[Slot]) -> list[int]:
    return list(dict.fromkeys(slot.block for slot in slots))
