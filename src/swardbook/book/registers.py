"""Registers of clumps and refills, and clean zones before weedy, for a book."""

from __future__ import annotations

from swardbook.book.opening import Book
from swardbook.book.plan import situations
from swardbook.planning.clean_down import CleanAndWeedy, clean_and_weedy
from swardbook.planning.clump_register import ClumpRegister, clump_register
from swardbook.planning.counts_now import is_cared_for
from swardbook.planning.refill_register import RefillRegister, refill_register


def clumps_of(book: Book, zone: str = "") -> list[ClumpRegister]:
    """Give the register of clumps of one zone, or of every zone that has one."""
    found = [clump_register(sit) for sit in situations(book, zone)]
    return found if zone else [each for each in found if each.dug or each.standing is not None]


def refills_of(book: Book, zone: str = "") -> list[RefillRegister]:
    """Give the register of refills of one zone, or of every zone that has one."""
    found = [refill_register(sit) for sit in situations(book, zone)]
    return found if zone else [each for each in found if each.refills]


def clean_order(book: Book) -> CleanAndWeedy:
    """Put the zones that weed work is done in in the order of work."""
    every = situations(book)
    return clean_and_weedy([sit for sit in every if is_cared_for(sit)] or every)
