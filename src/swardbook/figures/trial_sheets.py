"""Papers of a trial as one PDF: peg plan, bags, tally sheets, ratings, labels with a QR code.

They print black on white; what differs is told by words, numbers and hatching.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf
from swardbook.foundation.unit_words import column, in_words, unit_name
from swardbook.foundation.units import METRIC, System, Units
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
    units : Units
        What quantities are shown in.
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
    units: Units = METRIC


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
    units = papers.units
    heads, rows = _weighed(papers)
    return {
        "title": papers.title, "zone": papers.zone, "order": papers.order, "note": papers.note,
        "first-end": papers.ends[0] or "the first end", "last-end": papers.ends[1] or "the far end",
        "left": papers.sides[0] or "the left side", "right": papers.sides[1] or "the right side",
        "width-m": laid.width_m, "length-m": laid.length_m,
        "plot-width-m": laid.size.width_m, "plot-length-m": laid.size.length_m,
        "plots": plots,
        "marks-along": _marks((0.0, *laid.along_m, laid.length_m), units),
        "marks-across": _marks((0.0, *laid.across_m, laid.width_m), units),
        "steps": list(_steps(laid, units)),
        "mind": [in_words(each, units) for each in papers.mind],
        "weighed-heads": heads, "weighed": rows,
        "bag-unit": _grams_in(units), "bags": [_bag_row(bag, units) for bag in papers.bags],
        "blocks": _blocks(laid), "kinds": list(papers.kinds), "placements": PLACEMENTS,
        "traits": [column(trait, ("20",), units)[0] for trait in papers.traits],
        "bag-labels": [_bag_label(papers.zone, bag, units) for bag in papers.bags],
        "peg-labels": [_peg_label(papers.zone, bag) for bag in papers.bags],
    }  # fmt: skip


def _marks(marks: Sequence[float], units: Units) -> list[dict[str, Any]]:
    ends = list(dict.fromkeys(marks))
    _, told = column("m", [f"{mark:.2f}" for mark in ends], units)
    return [{"at": mark, "told": words} for mark, words in zip(ends, told, strict=True)]


def _steps(laid: Laid, units: Units) -> tuple[str, ...]:
    """Say how to peg out; a corner is squared in whole lengths of the tape that is at hand."""
    size = laid.size
    three, four, five = (
        ("3 m", "4 m", "5 m") if units.system is System.METRIC else ("9 ft", "12 ft", "15 ft")
    )
    square = (
        f"A corner is square when {three} along one and {four} along the other are {five} apart."
    )
    inner = " by ".join(f"{side:.2f}" for side in size.counted_m)
    passes = (
        f" Each is {size.passes} mower pass{'es' * (size.passes > 1)} wide; mow along its length."
        if size.passes else ""
    )  # fmt: skip
    tapes, *rest = (
        f"Lay a tape {laid.width_m:.2f} m along the first end and one {laid.length_m:.2f} m up the"
        " left side.",
        f"Peg the far corners. Both diagonals must be {laid.diagonal_m:.2f} m, within 5 cm.",
        "Peg every mark of both tapes, and the same on the sides across; strings between them cut"
        " out the plots.",
        f"Plots are {size.width_m:.2f} by {size.length_m:.2f} m.{passes} Count and rate only the"
        f" inner {inner} m.",
        f"The dashed edge is a guard of {laid.guard_m:g} m: sown and cut alike, never counted.",
    )
    return f"{in_words(tapes, units)} {square}", *(in_words(each, units) for each in rest)


_HEADS = ("mixture", "lot", "g/m²", "plots", "g a plot", "g in all", "keep g", "left g")


def _weighed(papers: Papers) -> tuple[list[str], list[list[str]]]:
    """Give the table of what to weigh out, its heads with the units chosen."""
    rows = [
        (each.entry.name, each.entry.lot or "-", f"{each.entry.rate_g_m2:.3g}", f"{each.plots}",
         _grams(each.each_g), _grams(each.total_g), _grams(each.spare_g), "")
        for each in papers.weighed if not each.entry.is_control
    ]  # fmt: skip
    heads, columns = list(_HEADS), []
    for at, head in enumerate(_HEADS):
        cells = [row[at] for row in rows]
        if at < 2:
            columns.append(cells)
            continue
        unit = "g/m²" if head == "g/m²" else ""
        heads[at], made = column(head, cells, papers.units, unit)
        columns.append(made)
    if papers.units.system is not System.METRIC:
        heads[2] = unit_name("g/m²", papers.units)
        heads[-1] = f"left {_grams_in(papers.units)}"
    return heads, [list(row) for row in zip(*columns, strict=True)]


def _grams_in(units: Units) -> str:
    """Name the unit that the seed of one plot is weighed in."""
    return unit_name("g", units)


def _bag_row(bag: Bag, units: Units) -> dict[str, str]:
    half = bag.half_grams
    other = round(bag.grams - half, 1)
    _, told = column("g", [_grams(each) for each in (bag.grams, half, other)], units)
    return {
        "name": bag.plot.name, "mixture": bag.entry.name, "treatment": bag.plot.slot.treatment,
        "lot": bag.entry.lot or "-", "grams": "none" if bag.entry.is_control else told[0],
        "halves": "" if bag.entry.is_control else f"{told[1]} + {told[2]}",
    }  # fmt: skip


def _blocks(laid: Laid) -> list[dict[str, Any]]:
    found: dict[int, list[str]] = {}
    for plot in laid.plots:
        found.setdefault(plot.slot.block, []).append(plot.name)
    return [{"number": f"{block}", "plots": names} for block, names in found.items()]


def _bag_label(zone: str, bag: Bag, units: Units) -> dict[str, str]:
    row, unit = _bag_row(bag, units), _grams_in(units)
    sown = "not sown: rake, feed, water and cut alike" if bag.entry.is_control else (
        f"{row['grams']} {unit}: {row['halves']}"
    )  # fmt: skip
    parts = (zone, f"plot {row['name']}", row["mixture"], row["treatment"], bag.entry.lot,
             "" if bag.entry.is_control else f"{row['grams']} {unit}")  # fmt: skip
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
