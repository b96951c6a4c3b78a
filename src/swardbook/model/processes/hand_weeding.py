"""Pulling and digging: time to search, plants found, killed, and the hole each leaves."""

from __future__ import annotations

from swardbook.model.numbers import Numbers, least


def detection(leafy: Numbers, heading: Numbers, heads: Numbers, plants: Numbers) -> Numbers:
    """Share of plants found in one pass; plants that carry heads are found more often."""
    with_heads = least(heads / (plants + 1e-9), 1.0)
    return leafy + (heading - leafy) * with_heads


def handling_hours(found: Numbers, handling: Numbers) -> Numbers:
    """Time that the plants found in a whole pass take, beyond the search.

    Returns
    -------
    float or array
        Work. [h m⁻²]
    """
    return found * handling


def share_searched(hours: Numbers, needed: Numbers) -> Numbers:
    """Share of the ground that the hours given are enough for."""
    return least(hours / needed, 1.0)


def killed_share(searched: Numbers, found: Numbers, kill: Numbers) -> Numbers:
    """Share of plants killed."""
    return searched * found * kill


def left_after_passes(kill: Numbers, passes: int) -> Numbers:
    """Share of plants left after alike passes."""
    return (1.0 - kill) ** passes
