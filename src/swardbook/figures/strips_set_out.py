"""Strips or squares set out on an oblong: the treated ones shaded and named, to scale."""

from __future__ import annotations

from swardbook.figures.mowing_lines import WIDE, page, text
from swardbook.figures.picture import INK, PALE, QUIET, Picture, Table
from swardbook.planning.strip_trial import Piece, SetOut


def picture_of_strips(zone: str, laid: SetOut, seed: int, note: str = "") -> Picture:
    """Draw strips or squares.

    Parameters
    ----------
    zone : str
        Name of the zone.
    laid : SetOut
        Where they lie, and which are treated.
    seed : int
        Seed of the coin tosses.
    note : str
        What has to stand beside it.
    """
    long, short = laid.sides_m
    scale = WIDE / long
    pairs = len(laid.pieces) // 2
    sentence = f"{zone}: {pairs} pairs of {laid.way}, one of each treated."
    key = f"{note} Shaded and framed: treated. Coin tosses by seed {seed}.".strip()
    parts = [_piece(each, scale, short) for each in laid.pieces]
    parts.append(
        f'<rect width="{long * scale:.1f}" height="{short * scale:.1f}" fill="none"'
        f' stroke="{INK}" stroke-width="1.5"/>'
    )
    rows = tuple(
        (each.name, "treated" if each.is_treated else "left",
         *(f"{corner:.2f} to {corner + size:.2f}"
           for corner, size in zip(each.corner_m, each.size_m, strict=True)))
        for each in laid.pieces
    )  # fmt: skip
    table = Table("Strips", ("name", "what", "m along", "m across"), rows)
    return page(sentence, key, "".join(parts), short * scale, table)


def _piece(each: Piece, scale: float, short: float) -> str:
    (x, y), (long, across) = each.corner_m, each.size_m
    left, top = x * scale, (short - y - across) * scale
    fill, ink, wide = (PALE, INK, 1.5) if each.is_treated else ("none", QUIET, 0.5)
    middle = (left + long * scale / 2, top + across * scale / 2 + 4)
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{long * scale:.1f}"'
        f' height="{across * scale:.1f}" fill="{fill}" stroke="{ink}" stroke-width="{wide:g}"/>'
        + text(middle, each.name, "middle", weight="bold" if each.is_treated else "normal")
    )
