"""``swardbook put-right``: correct an entry; the old one is kept."""

from __future__ import annotations

import click

from swardbook.cli.chosen import with_typed
from swardbook.cli.doors import Door, door_options


@click.command()
@click.argument("entry")
@click.option(
    "--set",
    "-s",
    "pairs",
    multiple=True,
    metavar="FIELD=VALUE",
    help="A field and its right value; also zone, when, who, hours, money, note.",
)
@click.option("--reason", required=True, help="Why; kept with the correction.")
@click.option("--as-it-stands", is_flag=True, help="You looked again and it is right.")
@click.option("--withdraw", is_flag=True, help="It did not happen: leave it out of every answer.")
@door_options
def command(
    door: Door, entry: str, pairs: tuple[str, ...], reason: str, as_it_stands: bool, withdraw: bool
) -> None:
    """Correct an entry by its id, as far as it is needed; the old one is kept."""
    from swardbook.book.diary import put_right
    from swardbook.book.diary import withdraw as take_out
    from swardbook.book.fields import read_pairs
    from swardbook.cli.keeping import answer

    if sum((bool(pairs), as_it_stands, withdraw)) != 1:
        raise click.UsageError("give one of --set, --as-it-stands or --withdraw")
    book = door.book()
    if withdraw:
        fresh = take_out(book, entry, reason)
    else:
        said = with_typed(reason) if reason.strip() else reason
        fresh = put_right(book, entry, read_pairs(pairs), said)
    old = f"The old entry is kept: {str(fresh.corrects)[:8]}."
    answer(door, book, fresh, more=[old], payload={"corrects": str(fresh.corrects)})
