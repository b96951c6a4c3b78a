"""Which of many lawns stands out: shares drawn in, so that few entries say little."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.handbook.parameters import value


def drawn_in(
    marks: Sequence[int], entries: Sequence[int], lent: float | None = None
) -> tuple[float, ...]:
    """Draw each lawn's share of marked entries towards that of all, more so the fewer it has.

    Each lawn is lent some entries that are marked as often as those of all lawns together. So a
    lawn with one marked entry of two is not the worst of all nor, with none of two, the best.

    That is the mean of a lawn's share after its entries, where marks are binomial and the share of
    a lawn was beta before them, with the mean of all lawns and as many entries' worth as are lent
    (empirical Bayes: Efron and Morris 1977 draw in the same way).

    Parameters
    ----------
    marks : sequence of int
        Entries that need a look, lawn by lawn.
    entries : sequence of int
        Entries they are among, lawn by lawn.
    lent : float or None
        Entries lent to each; None takes the handbook's. [-]

    Returns
    -------
    tuple of float
        The share of each lawn. [-]
    """
    among = sum(entries)
    mean = sum(marks) / among if among else 0.0
    borrowed = value("lawns_entries_lent") if lent is None else lent
    return tuple(
        (k + borrowed * mean) / (n + borrowed) if n + borrowed else mean
        for k, n in zip(marks, entries, strict=True)
    )
