"""``swardbook firm stock`` and ``firm trace``: seed over all lawns, and where a lot went."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.firm_seed import LotAcross, Shed
    from swardbook.book.lot_trace import LotTrace, Sown


@click.command()
@door_options
def stock(door: Door) -> None:
    """Add up the seed of all lawns: what lies in the shed, what is planned, what is short.

    A label that the yard has counts once, and lawns have copies of it; without, each lawn's counts.
    """
    from swardbook.book.firm_seed import firm_stock

    book = door.any_book()
    found = firm_stock(book)
    door.show(_stock_payload(found), _stock_lines(found), book)


def _stock_lines(found: Shed) -> list[str]:
    from swardbook.book.firm_seed_words import (
        age_of_lot,
        doubts_of_lot,
        left_of_lot,
        plan_of_lot,
        shed_notes,
    )

    lines = []
    for each in found.lots:
        mark = "!" if each.short_g else "-"
        told = [left_of_lot(each), plan_of_lot(each), age_of_lot(each)]
        said = "; ".join(part for part in told if part)
        lines += under(mark, f"{each.lot.mixture}, {each.lot.code}: {said}.", 0)
        lines += [line for doubt in doubts_of_lot(each) for line in under("", doubt)]
        for plan in each.planned:
            lines += under("", f"{plan.ground}, {plan.zone or 'whole site'}: {plan.what}.", 4)
    lines = lines or ["No lot yet. Record one with `swardbook lot add`."]
    return [*lines, "", *(line for told in shed_notes(found) for line in under("", told, 0))]


def _stock_payload(found: Shed) -> dict[str, Any]:
    return {
        "yard": found.yard or None,
        "lots": [_lot_payload(each) for each in found.lots],
        "without_label": list(found.without_label),
    }


def _lot_payload(each: LotAcross) -> dict[str, Any]:
    def grams(held: float | None) -> float | None:
        return None if held is None else round(held, 1)

    return {
        "code": each.lot.code, "mixture": each.lot.mixture, "lawns": list(each.lawns),
        "at_yard": each.at_yard, "labels_differ": each.labels_differ,
        "bought_g": grams(each.bought_g), "used_g": grams(each.used_g),
        "times_not_weighed": each.unweighed, "left_g": grams(each.left_g),
        "planned_g": grams(each.planned_g), "short_g": grams(each.short_g),
        "closed_or_tested_days": each.age_days, "germination_test_days": each.test_age_days,
        "germinated": None if each.test is None else each.test.germinated,
        "of_seeds": None if each.test is None else each.test.seeds, "is_old": each.is_old,
        "planned": [
            {"ground": plan.slug, "zone": plan.zone or None, "kept_on": plan.day.isoformat(),
             "grams": grams(plan.grams), "words": plan.what}
            for plan in each.planned
        ],
    }  # fmt: skip


@click.command()
@click.argument("code")
@click.option("--because", default="", help="What is wrong with the lot, for the notes.")
@click.option("--notes-to", "folder", type=click.Path(path_type=Path, file_okay=False),
              default=None, metavar="FOLDER", help="Write each owner's note there.")  # fmt: skip
@door_options
def trace(door: Door, code: str, because: str, folder: Path | None) -> None:
    """Show every lawn that was sown with a lot: date, area, grams, plots, what was seen since.

    With a drafted note to each owner, to be read before it goes out.
    """
    from swardbook.book.lot_trace import trace_lot
    from swardbook.book.lot_trace_out import save_notes

    book = door.any_book()
    found = trace_lot(book, code, because=because)
    lines = _trace_lines(found)
    written: list[Path] = []
    if folder is not None:
        written = save_notes(folder, found)
        lines += under("", f"{len(written)} notes in {folder}.", 0)
    door.show({**_trace_payload(found), "files": [str(each) for each in written]}, lines, book)


def _trace_lines(found: LotTrace) -> list[str]:
    from swardbook.book.firm_seed_words import trace_head
    from swardbook.book.lot_trace import sowing_words
    from swardbook.foundation.dates import say

    lines = heading(f"Lot {found.code}{f', {found.mixture}' if found.mixture else ''}")
    lines += [*under("", trace_head(found), 0), ""]
    before = ""
    for each in found.sown:
        if each.slug != before:
            lines += [f"{each.ground} ({each.slug})"]
            before = each.slug
        lines += under("-", f"{say(each.day)}: {sowing_words(each)}.")
        more = [f"{each.more_seen} earlier."] if each.more_seen else []
        since = [f"{say(seen.day)}: {seen.words}." for seen in each.seen]
        for told in since + more or ["Nothing noted of it since."]:
            lines += under("", told, 4)
    if found.in_hand_at:
        names = ", ".join(found.in_hand_at)
        lines += ["", *under("", f"In hand and not sown: {names}.", 0)]
    for _, _, note in found.notes:
        lines += ["", *(line for part in note.split("\n") for line in under("", part, 0))]
    return lines


def _trace_payload(found: LotTrace) -> dict[str, Any]:
    return {
        "code": found.code,
        "mixture": found.mixture or None,
        "lawns": found.lawns,
        "grams": round(found.grams, 1),
        "sown": [_sown_payload(each) for each in found.sown],
        "in_hand_and_not_sown": list(found.in_hand_at),
        "notes": [{"ground": slug, "name": name, "note": note} for slug, name, note in found.notes],
    }


def _sown_payload(each: Sown) -> dict[str, Any]:
    return {
        "ground": each.slug, "name": each.ground, "zone": each.zone or None, "kind": each.kind,
        "day": each.day.isoformat(), "area_m2": each.area_m2,
        "grams": None if each.grams is None else round(each.grams, 1),
        "plots": list(each.plots), "entry": str(each.entry),
        "seen_since": [{"day": seen.day.isoformat(), "words": seen.words} for seen in each.seen],
        "earlier_not_shown": each.more_seen,
    }  # fmt: skip
