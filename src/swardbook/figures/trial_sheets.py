"""Papers of a trial as one PDF: peg plan, bags, tally sheets, ratings, labels with a QR code.

They print black on white; what differs is told by words, numbers and hatching.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf
from swardbook.trials.bags import Bag, Weighed
from swardbook.trials.layout import Laid

_TITLE = 60
PLACEMENTS = 4


@dataclass(frozen=True, slots=True)
class Papers:
    """What the papers of a trial are made of.

    Parameters
    ----------
    title, zone, order, note : str
        What it is, where, how it was drawn, and what has to stand beside it.
    ends, sides : tuple of str
        Words for the first and last end, and for left and right.
    laid : Laid
        Where plots lie.
    bags : tuple of Bag
        Seed of every plot.
    weighed : tuple of Weighed
        What to weigh out of each lot.
    mind : tuple of str
        What would spoil it.
    kinds, traits : tuple of str
        Columns of the tally sheets, and of the ratings.
    """

    title: str
    zone: str
    order: str
    note: str
    ends: tuple[str, str]
    sides: tuple[str, str]
    laid: Laid
    bags: tuple[Bag, ...]
    weighed: tuple[Weighed, ...]
    mind: tuple[str, ...]
    kinds: tuple[str, ...]
    traits: tuple[str, ...]


def papers_pdf(papers: Papers) -> bytes:
    """Set the papers of a trial.

    Parameters
    ----------
    papers : Papers
        What they are made of.

    Returns
    -------
    bytes
        A PDF of A4 pages with its text in it.
    """
    return paper_pdf("trial", _data(papers))


def papers_pages(papers: Papers, dots_per_inch: float = 100) -> list[bytes]:
    """Set the papers as pictures of pages, to be looked at.

    Parameters
    ----------
    papers : Papers
        What they are made of.
    dots_per_inch : float
        How fine. [in⁻¹]

    Returns
    -------
    list of bytes
        One PNG a page.
    """
    return paper_pages("trial", _data(papers), dots_per_inch)


def _data(papers: Papers) -> dict[str, Any]:
    laid = papers.laid
    controls = {bag.entry.name for bag in papers.bags if bag.entry.is_control}
    plots = [
        {"name": plot.name, "mixture": plot.slot.entry, "treatment": plot.slot.treatment,
         "x": plot.corner_m[0], "y": plot.corner_m[1], "control": plot.slot.entry in controls}
        for plot in laid.plots
    ]  # fmt: skip
    return {
        "title": papers.title, "zone": papers.zone, "order": papers.order, "note": papers.note,
        "first-end": papers.ends[0] or "the first end", "last-end": papers.ends[1] or "the far end",
        "left": papers.sides[0] or "the left side", "right": papers.sides[1] or "the right side",
        "width-m": laid.width_m, "length-m": laid.length_m,
        "plot-width-m": laid.size.width_m, "plot-length-m": laid.size.length_m,
        "plots": plots,
        "marks-along": _marks((0.0, *laid.along_m, laid.length_m)),
        "marks-across": _marks((0.0, *laid.across_m, laid.width_m)),
        "steps": list(_steps(laid)), "mind": list(papers.mind),
        "weighed": [_weighed_row(each) for each in papers.weighed if not each.entry.is_control],
        "bags": [_bag_row(bag) for bag in papers.bags],
        "blocks": _blocks(laid), "kinds": list(papers.kinds), "placements": PLACEMENTS,
        "traits": list(papers.traits),
        "bag-labels": [_bag_label(papers.zone, bag) for bag in papers.bags],
        "peg-labels": [_peg_label(papers.zone, bag) for bag in papers.bags],
    }  # fmt: skip


def _marks(marks: Sequence[float]) -> list[dict[str, Any]]:
    return [{"at": mark, "told": f"{mark:.2f}"} for mark in dict.fromkeys(marks)]


def _steps(laid: Laid) -> tuple[str, ...]:
    size = laid.size
    inner = " by ".join(f"{side:.2f}" for side in size.counted_m)
    passes = (
        f" Each is {size.passes} mower pass{'es' * (size.passes > 1)} wide; mow along its length."
        if size.passes else ""
    )  # fmt: skip
    return (
        f"Lay a tape {laid.width_m:.2f} m along the first end and one {laid.length_m:.2f} m up the"
        " left side. A corner is square when 3 m along one and 4 m along the other are 5 m apart.",
        f"Peg the far corners. Both diagonals must be {laid.diagonal_m:.2f} m, within 5 cm.",
        "Peg every mark of both tapes, and the same on the sides across; strings between them cut"
        " out the plots.",
        f"Plots are {size.width_m:.2f} by {size.length_m:.2f} m.{passes} Count and rate only the"
        f" inner {inner} m.",
        f"The dashed edge is a guard of {laid.guard_m:g} m: sown and cut alike, never counted.",
    )


def _weighed_row(each: Weighed) -> list[str]:
    entry = each.entry
    return [
        entry.name, entry.lot or "-", f"{entry.rate_g_m2:.3g}", f"{each.plots}",
        _grams(each.each_g), _grams(each.total_g), _grams(each.spare_g), "",
    ]  # fmt: skip


def _bag_row(bag: Bag) -> dict[str, str]:
    half = bag.half_grams
    other = round(bag.grams - half, 1)
    return {
        "name": bag.plot.name, "mixture": bag.entry.name, "treatment": bag.plot.slot.treatment,
        "lot": bag.entry.lot or "-", "grams": "none" if bag.entry.is_control else _grams(bag.grams),
        "halves": "" if bag.entry.is_control else f"{_grams(half)} + {_grams(other)}",
    }  # fmt: skip


def _blocks(laid: Laid) -> list[dict[str, Any]]:
    found: dict[int, list[str]] = {}
    for plot in laid.plots:
        found.setdefault(plot.slot.block, []).append(plot.name)
    return [{"number": f"{block}", "plots": names} for block, names in found.items()]


def _bag_label(zone: str, bag: Bag) -> dict[str, str]:
    row = _bag_row(bag)
    sown = "not sown: rake, feed, water and cut alike" if bag.entry.is_control else (
        f"{row['grams']} g: {row['halves']}"
    )  # fmt: skip
    parts = (zone, f"plot {row['name']}", row["mixture"], row["treatment"], bag.entry.lot,
             "" if bag.entry.is_control else f"{row['grams']} g")  # fmt: skip
    told = "; ".join(part for part in parts if part)
    lot = f"lot {bag.entry.lot}" if bag.entry.lot else ""
    return {**row, "grams": sown, "lot": lot, "told": told, "code": _code(told)}


def _peg_label(zone: str, bag: Bag) -> dict[str, str]:
    told = f"{zone}; plot {bag.plot.name}"
    return {"name": bag.plot.name, "zone": zone, "told": told, "code": _code(told)}


def _code(text: str) -> str:
    """Draw a QR code (ISO/IEC 18004) as SVG."""
    import segno

    code = segno.make(text, error="m", micro=False, encoding="utf-8")
    return code.svg_inline(scale=4, border=2, dark="black", light="white")


def _grams(number: float) -> str:
    return f"{number:,.0f}" if number == int(number) else f"{number:,.1f}"
