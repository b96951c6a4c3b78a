"""``swardbook begin``: a book for one's own ground."""

from __future__ import annotations

import click

from swardbook.cli import doors
from swardbook.cli.chosen import choose_as_set
from swardbook.cli.doors import Door, door_options


@click.command()
@click.option("--name", required=True, help="Name of the site.")
@click.option("--latitude", required=True, help="Degrees, south negative, or '43 S'.")
@click.option("--elevation", required=True, help="Height above the sea; a bare number is metres.")
@click.option("--hours-a-week", default="", help="Hours of work there are in a week.")
@click.option("--hose", default="", help="Water at the tap, litres a minute: time a 10 L bucket.")
@click.option("--currency", default="GBP", show_default=True, help="Currency of what things cost.")
@click.option("--units", default="", help="What answers are shown in: metric, imperial or us.")
@click.option("--decimal-mark", default="", help="Decimal mark of answers: point or comma.")
@door_options
def command(
    door: Door, name: str, latitude: str, elevation: str, hours_a_week: str, hose: str,
    currency: str, units: str, decimal_mark: str,
) -> None:  # fmt: skip
    """Begin a book for your own ground; one that is there already is never written over.

    Where there is a book, another name begins a further ground in it.
    """
    import os

    from swardbook.book.ground import begin, read_site
    from swardbook.book.opening import grounds_of
    from swardbook.husbandry.codec import to_plain
    from swardbook.settings import read_settings

    settings = read_settings(os.environ)
    site = read_site(name, latitude, elevation, hours_a_week, hose, currency, units, decimal_mark)
    book = begin(settings, doors.clock_today, site)
    click.get_current_context().call_on_close(book.store.close)
    choose_as_set(book)
    where = "on the server" if settings.database else str(settings.book_file)
    slug, there = book.store.slug(), len(grounds_of(book))
    said = f" --ground {slug}" if there > 1 else ""
    begun = f"A book for {site.name}: {where}."
    further = [
        f"{site.name} is a further ground, with a diary of its own, in the book {where}; it holds"
        f" {there} now.",
        f"From now on say which is meant: --ground {slug}, or SWARDBOOK_GROUND={slug}.",
    ]
    door.show(
        {"site": to_plain(site), "book": where, "ground": slug, "grounds": there},
        [
            *(further if there > 1 else [begun]),
            f"Next: swardbook zone add NAME{said} --sides 20x12 --use 'family lawn'"
            " --height-of-cut 25",
        ],
        book,
    )
