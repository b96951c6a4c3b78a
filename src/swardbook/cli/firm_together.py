"""``swardbook firm together`` and ``firm part``: two grounds that are one lawn, and back again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_today, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.put_together import Parted, PutTogether


@click.command()
@click.argument("first")
@click.argument("second")
@click.option("--zone", "zones", multiple=True, metavar="SECOND=FIRST",
              help="A zone of the second, and its name in the first or from now on.")  # fmt: skip
@door_options
def together(door: Door, first: str, second: str, zones: tuple[str, ...]) -> None:
    """Put two grounds that are the same lawn together, zone by zone.

    A third ground stands for both, with a diary of its own; the two stay as they are, set aside.
    Undone with `swardbook firm part`.
    """
    from swardbook.book.put_together import put_together
    from swardbook.foundation.errors import BadInputError

    named = {}
    for each in zones:
        old, apart, new = each.partition("=")
        if not apart:
            raise BadInputError("--zone", each, "SECOND=FIRST, such as 'Front=Front lawn'")
        named[old.strip()] = new.strip()
    book = door.any_book()
    found = put_together(book, clock_today, first, second, named)
    door.show(_payload(found), _lines(found), book)


@click.command()
@click.argument("lawn", metavar="GROUND")
@click.option("--bring-to", default="", metavar="GROUND",
              help="The one that takes what was written meanwhile.")  # fmt: skip
@door_options
def part(door: Door, lawn: str, bring_to: str) -> None:
    """Part two lawns again that were put together: both are listed as they were."""
    from swardbook.book.put_together import part as part_again

    book = door.any_book()
    found = part_again(book, clock_today, lawn, bring_to)
    payload = {"ground": found.slug, "of": list(found.of), "entries_since": found.since,
               "brought_to": found.brought_to or None}  # fmt: skip
    door.show(payload, _parted_lines(found), book)


def _lines(found: PutTogether) -> list[str]:
    lines = under("", f"{found.slug} stands for {found.of[0]} and {found.of[1]}, with"
                      f" {found.entries} entries; {found.twice} of them both had. The two are set"
                      " aside as they are.", 0)  # fmt: skip
    for clash in found.clashes:
        lines += under("-", f"{clash.what}: {clash.words}.", 0)
    if found.renamed:
        lines += under("", f"Other places of the same name, now called {', '.join(found.renamed)}.",
                       0)  # fmt: skip
    if found.sealed:
        lines += under("", f"{found.sealed} sealed guesses stay with the diary they were sealed"
                           " over.", 0)  # fmt: skip
    if found.kept_out:
        lines += under("", f"Not let in, for they had access to one of the two:"
                           f" {', '.join(found.kept_out)}.", 0)  # fmt: skip
    return [*lines, "", f"To undo it: swardbook firm part {found.slug}"]


def _parted_lines(found: Parted) -> list[str]:
    lines = under("", f"{found.of[0]} and {found.of[1]} are listed again, as they were;"
                      f" {found.slug} is set aside.", 0)  # fmt: skip
    if found.since:
        also = f", and are in {found.brought_to} too" if found.brought_to else ""
        lines += under("", f"{found.since} entries were written in it meanwhile. They stay in it"
                           f"{also}.", 0)  # fmt: skip
    return lines


def _payload(found: PutTogether) -> dict[str, Any]:
    return {
        "ground": found.slug, "name": found.name, "of": list(found.of), "entries": found.entries,
        "entries_both_had": found.twice,
        "clashes": [{"what": each.what, "words": each.words} for each in found.clashes],
        "places_renamed": list(found.renamed), "sealed_guesses_left": found.sealed,
        "let_in": list(found.let_in), "not_let_in": list(found.kept_out),
    }  # fmt: skip
