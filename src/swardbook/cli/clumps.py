"""``swardbook clumps``: clumps of Yorkshire fog, dug, looked at again, and what came back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, at_option, door_options, entry_options
from swardbook.cli.minding import with_cautions
from swardbook.cli.register_words import share_words, two_payload, verdict_lines
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.clump_register import ClumpRegister


@click.group()
def command() -> None:
    """Keep a register of clumps of Yorkshire fog (Holcus lanatus): dig, check, register."""


@command.command()
@click.option("--clumps", type=click.IntRange(1), default=None, help="How many were dug.")
@click.option("--margin", default="", help="Margin beyond the last rooted node; bare is mm.")
@click.option("--area", default="", help="Area of the holes together; bare is m².")
@click.option("--place", default="", help="Where in the zone, in words or by a peg.")
@click.option("--to", "spoil_to", default="", help="Where clumps and soil went: 'skip'.")
@at_option
@entry_options
@door_options
def dig(
    door: Door, clumps: int | None, margin: str, area: str, place: str, spoil_to: str, **said: Any
) -> None:  # fmt: skip
    """Record clumps dug, with their margin, place, and where they went."""
    from swardbook.book.fields import quantity
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import DigClumps

    what = DigClumps(
        clumps=clumps,
        margin_mm=quantity(margin, "mm", "--margin") if margin else None,
        area_m2=quantity(area, "m2", "--area") if area else None,
        place=place,
        spoil_to=spoil_to,
    )
    more = [] if margin else ["No margin given: what comes back cannot be told by it."]
    if not spoil_to:
        more.append("Say --to where they went: the site's own heap does not kill the seed.")
    keep_and_answer(door, what, said, more=more)


@command.command()
@click.option("--looked", nargs=2, type=click.IntRange(0), default=None, metavar="LOOKED REGROWN",
              help="Dug clumps looked at again, and how many have come back.")  # fmt: skip
@click.option("--margin", default="", help="With what margin they were dug; bare is mm.")
@click.option("--place", default="", help="The place, as the digging has it.")
@click.option("--standing", type=click.IntRange(0), default=None,
              help="Clumps standing in the zone in all, if counted.")  # fmt: skip
@at_option
@entry_options
@door_options
def check(
    door: Door, looked: tuple[int, int] | None, margin: str, place: str, standing: int | None,
    **said: Any,
) -> None:  # fmt: skip
    """Record dug clumps looked at again, or clumps counted."""
    from swardbook.book.fields import quantity
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.foundation.errors import BadInputError
    from swardbook.husbandry.happenings import ClumpCheck

    if looked is None and standing is None:
        raise BadInputError("the check", "nothing", "--looked LOOKED REGROWN, or --standing NUMBER")
    seen, back = looked or (0, 0)
    if back > seen:
        raise BadInputError("--looked", f"{seen} {back}", "looked at first, then how many are back",
                            f"Did you mean {back} {seen}?")  # fmt: skip
    what = ClumpCheck(
        looked=seen, regrown=back, standing=standing, place=place,
        margin_mm=quantity(margin, "mm", "--margin") if margin else None,
    )  # fmt: skip
    keep_and_answer(door, what, said)


@command.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: every zone with clumps.")
@door_options
def register(door: Door, zone: str) -> None:
    """Show each digging with its margin and what came back, and what the margin did."""
    from swardbook.book.registers import clumps_of

    book = door.book()
    found = clumps_of(book, zone)
    lines: list[str] = []
    for each in found:
        lines += [*_lines(each), ""]
    if not found:
        lines = ["No clumps dug or counted yet."]
    told = [_payload(each) for each in found]
    door.show(*with_cautions({"registers": told}, lines, "dig clumps", when=("heads",)), book)


def _lines(found: ClumpRegister) -> list[str]:
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say

    lines = [found.zone]
    if found.standing is not None and found.counted_on is not None:
        lines.append(f"{found.standing} standing by the count of {say(found.counted_on)}.")
    else:
        lines.append("How many stand is not known: nobody counted.")
    rows = [
        (f"{each.day.day} {each.day:%B} {each.day.year}", each.place or "-",
         "-" if each.clumps is None else str(each.clumps),
         "-" if each.margin_mm is None else f"{each.margin_mm:.0f}",
         f"{each.regrown} of {each.looked}" if each.looked else "-",
         _look(each.checked_on, each.due_on), each.spoil_to or "?")
        for each in found.dug
    ]  # fmt: skip
    if rows:
        heads = ("dug", "place", "clumps", "margin mm", "came back", "look", "went to")
        lines += ["", *table(heads, rows)]
    two = found.margins
    for share in (two.other, two.one):
        lines += under("-", share_words(share, "came back"))
    lines += verdict_lines(two, "Came back by margin")
    if found.not_told:
        many = "digging" if found.not_told == 1 else "diggings"
        lines += under("", f"Where {found.not_told} {many} went is not said: heads and roots leave"
                           " the site.", 0)  # fmt: skip
    return lines


def _look(checked: Any, due: Any) -> str:
    if checked is not None:
        return f"{checked.day} {checked:%b} {checked.year}"
    return f"due {due.day} {due:%b} {due.year}"


def _payload(found: ClumpRegister) -> dict[str, Any]:
    return {
        "zone": found.zone,
        "standing": found.standing,
        "counted_on": found.counted_on.isoformat() if found.counted_on else None,
        "dug": [
            {"day": each.day.isoformat(), "place": each.place, "clumps": each.clumps,
             "margin_mm": each.margin_mm, "went_to": each.spoil_to or None,
             "checked_on": each.checked_on.isoformat() if each.checked_on else None,
             "looked": each.looked, "regrown": each.regrown,
             "look_due_on": each.due_on.isoformat() if each.due_on else None}
            for each in found.dug
        ],
        "by_margin": two_payload(found.margins),
        "diggings_not_said_where_to": found.not_told,
    }  # fmt: skip
