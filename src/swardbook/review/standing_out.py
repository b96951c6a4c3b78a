"""Which of many lawns stands out: shares drawn in, so that few entries say little."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.handbook.parameters import value


def drawn_in(marks: Sequence[int], entries: Sequence[int]) -> tuple[float, ...]:
    """Draw each lawn's share of marked entries towards that of all, more so the fewer it has.

    Each lawn is lent some entries that are marked as often as those of all lawns together. So a
    lawn with one marked entry of two is not the worst of all nor, with none of two, the best.

    Parameters
    ----------
    marks : sequence of int
        Entries that need a look, lawn by lawn.
    entries : sequence of int
        Entries they are among, lawn by lawn.

    Returns
    -------
    tuple of float
        The share of each lawn. [-]
    """
    among = sum(entries)
    mean = sum(marks) / among if among else 0.0
    lent = value("lawns_entries_lent")
    return tuple((k + lent * mean) / (n + lent) for k, n in zip(marks, entries, strict=True))
