"""``swardbook square-up``: whether the weights agree after sowing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.squaring import SquareUpAnswer


@click.command()
@click.option("--left", "-l", multiple=True, metavar="LOT=WEIGHT",
              help="A lot weighed back, once for each; bare is g.")  # fmt: skip
@click.option("--used", "-u", multiple=True, metavar="BAY=WEIGHT",
              help="Seed used on a bay or plot, once for each; bare is g.")  # fmt: skip
@click.option("--sown", default="", metavar="DAY", help="Day of the sowing; none: the last one.")
@click.option("--days", default=0, type=click.IntRange(0, 60), show_default=True,
              help="Days after it that belong to the same sowing.")  # fmt: skip
@click.option("--as-sown", is_flag=True, help="Take plots as really sown, after a correction.")
@keep_options
@door_options
def command(
    door: Door, left: tuple[str, ...], used: tuple[str, ...], sown: str, days: int, as_sown: bool,
    zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Set seed used beside planned and leftovers beside the lots' cards, and point at a mix-up.

    Ends with 1 where weights do not agree: better found before it germinates.
    """
    from swardbook.book.squaring import ABOUT, square_up_sowing
    from swardbook.book.worked_out import Answer

    book = door.book()
    answer = square_up_sowing(book, zone, sown, left, used, days, as_sown)
    found, lines = answer.found, _lines(answer)
    offs = {f"{each.lot} off_g": each.off_g for each in found.lots}
    offs |= {f"{each.bay.name} off_g": each.off_g for each in found.bays}
    words = "weights agree" if found.is_square else "weights do not agree"
    kept = Answer(ABOUT, words, {"left": ", ".join(left), "used": ", ".join(used),
                  "sown": answer.first.isoformat(), "days": str(days) if days else ""}, offs,
                  {"mix-up": " ".join(each.told for each in found.mix_ups)})  # fmt: skip
    show_answer(door, book, kept, _payload(answer), lines, zone=zone, keeping=keeping)
    if not found.is_square:
        raise SystemExit(1)


def _lines(answer: SquareUpAnswer) -> list[str]:
    from swardbook.foundation.dates import say

    found = answer.found
    span = say(answer.first) if answer.first == answer.last else (
        f"{say(answer.first)} to {say(answer.last)}"
    )  # fmt: skip
    lines = [f"Sowing of {span}; {answer.bays_from}.", ""]
    for lot in found.lots:
        way = "light" if lot.off_g < 0 else "heavy"
        mark = "✓" if lot.is_within else "✗"
        state = "agrees" if lot.is_within else f"{abs(lot.off_g):.0f} g {way}"
        lines += under(mark, f"{lot.lot}: {_weight(lot.left_g)} left, {_weight(lot.expected_g)}"
                             f" by the card; {state}.")  # fmt: skip
    for bay in found.bays:
        mark = "✓" if bay.is_within else "✗"
        share = f" ({bay.off_g / bay.bay.planned_g:+.0%})" if bay.bay.planned_g else ""
        lines += under(mark, f"{bay.bay.name}: {_weight(bay.bay.used_g or 0)} used,"
                             f" {_weight(bay.bay.planned_g)} planned{share}.")  # fmt: skip
    for lot_code in found.not_weighed_back:
        lines += under("?", f"{lot_code}: not weighed back.")
    if found.mix_ups:
        lines.append("")
        for each in found.mix_ups:
            lines += under("Mix-up?", each.told, 0)
        lines += under("", "Check which bag went where before it germinates. Bags of one weight"
                           " exchanged leave no trace in the weights.", 0)  # fmt: skip
    elif not found.is_square:
        lines += ["", *under("", "No two lots or bays explain it: a spill, a slip of the scale, or"
                                 " another rate than planned.", 0)]  # fmt: skip
    return lines


def _weight(grams: float) -> str:
    return f"{grams / 1000:,.2f} kg" if grams >= 10_000 else f"{grams:,.0f} g"


def _payload(answer: SquareUpAnswer) -> dict[str, Any]:
    found = answer.found
    return {
        "sown_from": answer.first.isoformat(),
        "sown_to": answer.last.isoformat(),
        "bays_from": answer.bays_from,
        "squares_up": found.is_square,
        "lots": [
            {"lot": each.lot, "left_g": each.left_g, "expected_g": round(each.expected_g, 1),
             "off_g": round(each.off_g, 1), "allowed_g": round(each.allowed_g, 1),
             "agrees": each.is_within}
            for each in found.lots
        ],
        "bays": [
            {"bay": each.bay.name, "lot": each.bay.lot, "planned_g": round(each.bay.planned_g, 1),
             "used_g": each.bay.used_g, "off_g": round(each.off_g, 1), "agrees": each.is_within}
            for each in found.bays
        ],
        "bays_not_weighed": list(found.not_weighed),
        "lots_not_weighed_back": list(found.not_weighed_back),
        "mix_ups": [
            {"used_too_much": each.used_too_much, "used_too_little": each.used_too_little,
             "bays": each.bays, "where": list(each.where), "words": each.told}
            for each in found.mix_ups
        ],
    }  # fmt: skip
